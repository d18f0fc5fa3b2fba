package store

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// refusal is an action that cannot be, and what the sentence says.
type refusal struct {
	name string
	a    model.Action
	is   error
	want string
}

// checkRefused requires each to be refused in one sentence, with nothing written.
func checkRefused(t *testing.T, s *Store, cases []refusal) {
	t.Helper()
	before := len(mustEntries(t, s, Filter{}))
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := s.Append(c.a)
			if !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.want) ||
				strings.Contains(err.Error(), "\n") {
				t.Errorf("%v, want %v: %q", err, c.is, c.want)
			}
			if n := len(mustEntries(t, s, Filter{})); n != before {
				t.Errorf("%d entries were written", n-before)
			}
		})
	}
}

func act(machine string, fs ...model.Fact) model.Action {
	return model.Action{Machine: machine, Facts: fs}
}

func actAt(at time.Time, a model.Action) model.Action {
	a.At = at
	return a
}

func settle(id string) model.Fact {
	return model.Fact{Kind: model.KindSettled, Settled: &model.Settled{Finding: id, Why: "mended"}}
}

func move(id string, again time.Time) model.Fact {
	return model.Fact{Kind: model.KindMoved, Moved: &model.Moved{Finding: id, Again: again}}
}

func begunFact(items ...model.BlockRef) model.Fact {
	return model.Fact{Kind: model.KindBegun, Begun: &model.Begun{Title: "monthly", Items: items}}
}

func TestRefusedFacts(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	found := mustAppend(t, s,
		act(id, model.Fact{Kind: model.KindFinding,
			Finding: &model.Found{Kind: "note", Text: "hums"}}))[0].ID
	wrongText := act(id, care("oil"))
	wrongText.Texts = map[string][]byte{textHash([]byte("a")): []byte("b")}
	checkRefused(t, s, []refusal{
		{"nothing", act(id), ErrRefused, "nothing to write"},
		{"an unknown machine", act("x", care("oil")), ErrRefused, `no machine with the id "x"`},
		{"an id that cannot be", act("a\x00b", care("oil")), ErrRefused, "id may be"},
		{"a name that is taken", act("", machineFact("anvil")), ErrRefused, "already called"},
		{"a name that cannot be shown", act("", machineFact("a\x1bb")), ErrRefused,
			"cannot be shown"},
		{"the second fact is wrong", act(id, care("oil"), reading(model.Cuts, 5)), ErrRefused,
			"meter that can be typed"},
		{"a reading below nothing", act(id, reading(model.Hours, -1)), ErrRefused, "from 0 on"},
		{"care without an outcome",
			act(id, model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: "oil"}}),
			ErrRefused, "outcome"},
		{"a word nobody knows for how a part was met",
			act(id, model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: "oil",
				Outcome: "done", Found: "fine"}}), ErrRefused, "clean, expected, late"},
		{"a swap without an end", act(id, swap("blade", "tired")), ErrRefused,
			"how the old one was"},
		{"a kind without its part", act(id, model.Fact{Kind: model.KindSwap}), ErrRefused,
			"lacks what it says"},
		{"a kind nobody knows", act(id, model.Fact{Kind: "dance"}), ErrRefused,
			"lacks what it says"},
		{"the future", actAt(c.at(3), act(id, care("oil"))), ErrRefused, "not in the future"},
		{"the distant past", actAt(c.at(-20000), act(id, care("oil"))), ErrRefused, "from 1990 on"},
		{"a text under a wrong hash", wrongText, ErrRefused, "wrong hash"},
		{"a finding that does not stand", act(id, settle("x")), ErrRefused, "no finding"},
		{"a finding closed before it was made", actAt(c.at(-3), act(id, settle(found))), ErrRefused,
			"cannot be closed or moved before"},
		{"a finding moved that does not stand", act(id, move("x", c.at(9))), ErrRefused,
			"no finding"},
		{"a finding moved to no day", act(id, move(found, time.Time{})), ErrRefused,
			"name both"},
	})
}

func TestRefusedSessions(t *testing.T) {
	s, _ := newStore(t)
	id := addMachine(t, s, "Anvil")
	other, session := begin(t, s, "Brass")
	walk := func(machine, session string, ordinal int, f model.Fact) model.Action {
		return model.Action{Machine: machine, Session: session, Ordinal: ordinal,
			Facts: []model.Fact{f}}
	}
	retired := machineFact("Brass")
	retired.Machine.Retired, retired.Machine.ID = true, other
	checkRefused(t, s, []refusal{
		{"a second one", act(other, begunFact()), ErrBegun, "begun on Brass already"},
		{"one of an unknown machine", act("x", begunFact()), ErrRefused, "no machine"},
		{"one with a text that is missing",
			act(id, begunFact(model.BlockRef{ID: "oil", Hash: "ab"})), ErrRefused, "text of oil"},
		{"an ordinal that was taken", walk(other, session, 1, step("passed", "")), ErrStale,
			"carried on elsewhere"},
		{"an ordinal ahead", walk(other, session, 3, step("passed", "")), ErrStale,
			"carried on elsewhere"},
		{"no ordinal", walk(other, session, 0, step("passed", "")), ErrStale,
			"carried on elsewhere"},
		{"a step of one that is not there", walk(id, "x", 2, step("passed", "")), ErrStale,
			"is closed"},
		{"a step on another machine", walk(id, session, 2, step("passed", "")), ErrRefused,
			"another machine"},
		{"care in one that never was", walk(id, "x", 0, care("oil")), ErrRefused, "no session"},
		{"its machine retired", act("", retired), ErrRefused, "before the machine is retired"},
	})
	mustAppend(t, s, walk(other, session, 2,
		model.Fact{Kind: model.KindClosed, Closed: &model.Closed{State: "ready"}}))
	checkRefused(t, s, []refusal{
		{"a step after the close", walk(other, session, 3, step("passed", "")), ErrStale,
			"is closed"},
		{"the same one again", walk(other, session, 1, begunFact()), ErrBegun, "exists already"},
	})
}

func TestRefusedStrikes(t *testing.T) {
	s, _ := newStore(t)
	id := addMachine(t, s, "Anvil")
	swapped := mustAppend(t, s, act(id, swap("blade", "worn")))[0].Action
	gone := mustAppend(t, s, act(id, swap("wiper", "worn")))[0].Action
	mustAppend(t, s, act("", strike(gone)))
	added := mustEntries(t, s, Filter{Kinds: []model.EntryKind{model.KindMachine}})[0].Action
	checkRefused(t, s, []refusal{
		{"of nothing", act("", strike("")), ErrRefused, "names the action"},
		{"of what is not there", act("", strike("x")), ErrRefused, "no action"},
		{"a second time", act("", strike(gone)), ErrRefused, "struck already"},
		{"without a reason",
			act("", model.Fact{Kind: model.KindStrike, Strike: &model.Strike{Action: swapped}}),
			ErrRefused, "reason"},
		{"of structure", act("", strike(added)), ErrRefused, "stay on record"},
	})
}

// A refusal says a day as the clock on the wall has it: the file keeps UTC.
func TestRefusalsSayTheDayOfTheClock(t *testing.T) {
	east := time.FixedZone("east", 5*3600)
	s, err := Open(filepath.Join(t.TempDir(), "bench.db"), func() time.Time { return t0.In(east) })
	if err != nil {
		t.Fatal(err)
	}
	id := addMachine(t, s, "Anvil")
	found := mustAppend(t, s,
		model.Action{Machine: id, At: time.Date(2026, 2, 20, 1, 30, 0, 0, east),
			Facts: []model.Fact{
				{Kind: model.KindFinding,
					Finding: &model.Found{Kind: model.FoundNote, Text: "a squeal"}}}})[0].ID
	for _, tt := range []struct {
		a    model.Action
		want string
	}{
		{model.Action{Machine: id, At: time.Date(1980, 1, 2, 3, 0, 0, 0, east),
			Facts: []model.Fact{care("oil")}}, "1980-01-02 03:00"},
		{model.Action{Machine: id, At: time.Date(2026, 2, 19, 0, 0, 0, 0, east),
			Facts: []model.Fact{
				{Kind: model.KindSettled, Settled: &model.Settled{Finding: found, Why: "oiled"}}}},
			"2026-02-20 01:30"},
	} {
		if _, err := s.Append(tt.a); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%v, want %s in it", err, tt.want)
		}
	}
}
