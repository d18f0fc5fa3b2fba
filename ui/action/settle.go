package action

import (
	"errors"
	"fmt"
	"time"

	"bench/oilcan/model"
)

// tagOf says which tag a finding of a kind stands for: as long as the one stands, so does the
// other.
var tagOf = map[model.FindingKind]model.TagKind{model.FoundStop: model.TagStopped,
	model.FoundPart: model.TagWaiting, model.FoundLimits: model.TagLimits, model.FoundOutOfUse: model.TagOutOfUse}

// Stop gives the facts that stop a machine for what was seen: a finding and a tag, as a session
// writes them. Care and power stay locked until the finding is closed by name, in a session begun
// before it too.
func Stop(seen string) []model.Fact {
	return []model.Fact{
		{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundStop, Text: seen}},
		{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagStopped, Why: seen}},
	}
}

// Settling gives the facts that close a finding, and clear the tag it stood for where no other
// finding of its kind is left on the machine.
func Settling(m *model.Machine, f model.Finding, why string) []model.Fact {
	facts := []model.Fact{Settled(f.ID, why)}
	tag := tagOf[f.Kind]
	if tag == "" || m.Tag == nil || m.Tag.Kind != tag {
		return facts
	}
	for _, other := range m.Findings {
		if other.ID != f.ID && other.Kind == f.Kind {
			return facts
		}
	}
	return append(facts, cleared(tag, why))
}

// Moving gives the fact that puts a finding on another day. One that stands on that day already is
// refused.
func Moving(f model.Finding, again time.Time, why string) ([]model.Fact, error) {
	if again.Equal(f.Again) {
		return nil, errors.New("it stands on that day already: give another day")
	}
	return []model.Fact{{Kind: model.KindMoved,
		Moved: &model.Moved{Finding: f.ID, Again: again, Why: why}}}, nil
}

// ClearTag gives the facts that clear a machine's tag and close every finding that stood for it:
// the findings' first, in the order they were noted. A session given up is closed by a session, not
// by a word: that is refused, and so is a machine without a tag.
func ClearTag(m *model.Machine, why string) ([]model.Fact, error) {
	switch {
	case m.Tag == nil:
		return nil, fmt.Errorf("no tag is on %s: nothing to clear", m.Name)
	case !Clearable(m):
		return nil,
			fmt.Errorf("the tag on %s says that a session was given up: a care session that closes clears it", m.Name)
	}
	var facts []model.Fact
	for _, f := range m.Findings {
		if tagOf[f.Kind] == m.Tag.Kind {
			facts = append(facts, Settled(f.ID, why))
		}
	}
	return append(facts, cleared(m.Tag.Kind, why)), nil
}

// Clearable tells whether a machine has a tag that a person may clear.
func Clearable(m *model.Machine) bool { return m.Tag != nil && m.Tag.Kind != model.TagGivenUp }

// Unlocks tells whether facts free a stopped machine, so that power may return.
func Unlocks(facts []model.Fact) bool {
	for _, f := range facts {
		if f.Tag != nil && f.Tag.Clear && f.Tag.Kind == model.TagStopped {
			return true
		}
	}
	return false
}

func cleared(kind model.TagKind, why string) model.Fact {
	return model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: kind, Clear: true, Why: why}}
}
