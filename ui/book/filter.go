package book

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// Filter says which lines of the book are wanted; the zero value wants all. All the parts given
// must hold.
type Filter struct {
	From, To time.Time // happened then or later; before
	Machine  string    // machine id
	Kind     string    // one of KindWords
	Part     string    // renewed, moved in the drawer, waited for, or cared for
	By       string    // who; capitals do not matter
	Words    string    // each of them stands in the line, in any order
}

// kindWord is a word for the kinds of entries that a person looks for together.
type kindWord struct {
	word string
	of   []model.EntryKind
}

var kinds = []kindWord{
	{"session", []model.EntryKind{model.KindBegun, model.KindClosed, model.KindWalk}},
	{"care", []model.EntryKind{model.KindCare, model.KindDue}},
	{"swap", []model.EntryKind{model.KindSwap}},
	{"drawer", []model.EntryKind{model.KindStock}},
	{"finding", []model.EntryKind{model.KindFinding, model.KindSettled, model.KindMoved}},
	{"reading", []model.EntryKind{model.KindReading}},
	{"value", []model.EntryKind{model.KindValue}},
	{"print", []model.EntryKind{model.KindBooked, model.KindPrinted, model.KindFailed}},
	{"tag", []model.EntryKind{model.KindTag}},
	{"symptom", []model.EntryKind{model.KindOutcome}},
	{"machine", []model.EntryKind{model.KindMachine}},
	{"strike", []model.EntryKind{model.KindStrike}},
}

// KindWords are the words of Filter.Kind.
func KindWords() (out []string) {
	for _, k := range kinds {
		out = append(out, k.word)
	}
	return out
}

// Sought is a line as filters look at it.
type Sought struct {
	Line
	part string
	kind string
	text string // what words are looked for in, in small letters
}

// Text is what words are looked for in: all that is shown of the line, in small letters.
func (l *Sought) Text() string { return l.text }

// Seeker makes lines ready to be looked for, often: of it all is said that they show.
type Seeker struct {
	parts map[string]string // procedure id -> its part
	bench *model.Bench
	now   time.Time
}

// NewSeeker makes one by what the procedures and machines are called, with days in the zone of now.
func NewSeeker(names action.Names, b *model.Bench, now time.Time) Seeker {
	s := Seeker{map[string]string{}, b, now}
	for _, p := range names.Procs {
		s.parts[p.ID] = p.Part
	}
	return s
}

// All makes lines ready. Their texts stand one behind the other in memory, where a long book is
// looked through several times as fast.
func (s Seeker) All(lines []Line) []*Sought {
	out := make([]*Sought, len(lines))
	var all strings.Builder
	for i, l := range lines {
		out[i] = s.Of(l)
		all.WriteString(out[i].text)
	}
	text := all.String()
	for _, l := range out {
		n := len(l.text)
		l.text, text = text[:n], text[n:]
	}
	return out
}

// Of makes a line ready.
func (s Seeker) Of(l Line) *Sought {
	e := l.Entry
	out := &Sought{Line: l, part: s.part(e), kind: string(e.Kind)}
	for _, k := range kinds {
		if slices.Contains(k.of, e.Kind) {
			out.kind = k.word
		}
	}
	shown := []string{model.Stamp(e.At, s.now), e.By, MachineName(s.bench, e), l.Said(), out.kind}
	out.text = strings.ToLower(theme.Safe(strings.Join(shown, " ")))
	return out
}

func (s Seeker) part(e model.Entry) string {
	switch {
	case e.Swap != nil:
		return e.Swap.Part
	case e.Stock != nil:
		return e.Stock.Part
	case e.Finding != nil && e.Finding.Part != "":
		return e.Finding.Part
	case e.Finding != nil:
		return s.parts[e.Finding.Procedure]
	case e.Care != nil:
		return s.parts[e.Care.Procedure]
	case e.Due != nil:
		return s.parts[e.Due.Procedure]
	case e.Value != nil:
		return s.parts[e.Value.Procedure]
	}
	return ""
}

// MachineName is the name of the machine an entry is about, "" for none.
func MachineName(b *model.Bench, e model.Entry) string {
	if m := b.Machines[e.Machine]; m != nil {
		return m.Name
	}
	return ""
}

// Wanted gives a function that tells which lines are wanted.
func (f Filter) Wanted() func(*Sought) bool {
	words := f.WordsIn()
	return func(l *Sought) bool { return words(l.text) && f.Suits(l) }
}

// WordsIn gives a function that tells whether the words stand in what Sought.Text gave.
func (f Filter) WordsIn() func(text string) bool {
	words := strings.Fields(strings.ToLower(f.Words))
	return func(text string) bool {
		for _, w := range words {
			if !strings.Contains(text, w) {
				return false
			}
		}
		return true
	}
}

// Suits tells whether all but the words holds.
func (f Filter) Suits(l *Sought) bool {
	e := &l.Entry
	switch {
	case f.Machine != "" && e.Machine != f.Machine,
		!f.From.IsZero() && e.At.Before(f.From),
		!f.To.IsZero() && !e.At.Before(f.To),
		f.Kind != "" && l.kind != f.Kind,
		f.Part != "" && l.part != f.Part,
		f.By != "" && !strings.EqualFold(e.By, f.By):
		return false
	}
	return true
}

// Narrower tells that whatever a filter wants an earlier one wanted too: words were only added to,
// as when they are typed.
func (f Filter) Narrower(was Filter) bool {
	same := f
	same.Words = was.Words
	return same == was && strings.HasPrefix(f.Words, was.Words)
}

// Said says what is wanted, "" for all: the machine apart, whose book it then is.
func (f Filter) Said(now time.Time) string {
	var out []string
	add := func(before, what string) {
		if what != "" {
			out = append(out, before+what)
		}
	}
	if !f.From.IsZero() {
		add("from ", model.Day(f.From, now))
	}
	if !f.To.IsZero() {
		add("to ", model.Day(f.To.Add(-1), now))
	}
	add("", f.Kind)
	add("", f.Part)
	add("by ", f.By)
	if w := strings.Join(strings.Fields(f.Words), " "); w != "" {
		add("", "\""+w+"\"")
	}
	return strings.Join(out, " · ")
}
