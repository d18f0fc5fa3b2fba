package store

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// wrong is a clock far ahead: a battery of the clock renewed, a year mistyped.
var wrong = time.Date(2200, 1, 1, 12, 0, 0, 0, time.UTC)

// underWrongClock writes facts about a machine while the clock is wrong, and puts it right again.
func underWrongClock(t *testing.T, s *Store, c *clock, machine string,
	fs ...model.Fact) []model.Entry {
	t.Helper()
	was := c.t
	c.t = wrong
	es := mustAppend(t, s, model.Action{Machine: machine, Facts: fs})
	c.t = was.Add(time.Minute)
	return es
}

// A swap logged under a wrong clock would keep the gauge fresh until then.
func TestAheadOfTheClockRenewsNothing(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Heron")
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{reading(model.Hours, 100),
		swap("blade", model.EndWorn, "blade-check"), counted("blade", 5)}})
	before := string(marshal(t, mustBench(t, s).Machines[id].Parts))
	c.move(48 * time.Hour)
	underWrongClock(t, s, c, id, reading(model.Hours, 900),
		swap("blade", model.EndWorn, "blade-check"), used("blade", 1),
		care("belt-tension"), model.Fact{Kind: model.KindTag,
			Tag: &model.TagMove{Clear: true, Why: "mended"}})
	for _, again := range []bool{false, true} {
		if again { // a later entry, and a bench read anew
			mustAppend(t, s, model.Action{Machine: id,
				Facts: []model.Fact{reading(model.Hours, 120)}})
			s = reopened(t, s, c)
		}
		b := mustBench(t, s)
		m := b.Machines[id]
		if got := string(marshal(t, m.Parts)); !again && got != before {
			t.Errorf("parts: %s, before %s", got, before)
		}
		if m.Care["belt-tension"] != nil {
			t.Error("care of a day to come counts")
		}
		if got := m.Care["blade-check"]; got == nil || got.At.After(c.t) {
			t.Errorf("the gauge counts from %v", got)
		}
		if n := *b.Drawer["blade"].Count; n != 5 {
			t.Errorf("%v blades in stock", n)
		}
		if want := map[bool]float64{false: 100,
			true: 120}[again]; m.Readings[model.Hours].Last.Value != want {
			t.Errorf("the meter shows %v", m.Readings[model.Hours].Last)
		}
		if len(b.Ahead) != 5 {
			t.Errorf("%d entries are said to be ahead", len(b.Ahead))
		}
		if r, err := s.Check(); err != nil || r.Ahead != 5 {
			t.Errorf("check counts %d ahead: %v", r.Ahead, err)
		}
	}
	c.t = wrong.Add(time.Hour) // their time has come
	if b := mustBench(t, s); len(b.Ahead) != 0 || b.Machines[id].Care["belt-tension"] == nil ||
		*b.Drawer["blade"].Count != 4 {
		t.Error("what was ahead does not count when its time has come")
	}
	c.t = t0.AddDate(0, 0, 3) // and the clock goes back again
	if b := mustBench(t, s); len(b.Ahead) != 5 {
		t.Error("a clock set back is not noticed by a bench read before")
	}
}

func reopened(t *testing.T, s *Store, c *clock) *Store {
	t.Helper()
	again, err := Open(s.Path(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	return again
}

// What warns is not put off: it is as old as it can be.
func TestAheadOfTheClockStillWarns(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Heron")
	es := underWrongClock(t, s, c, id, found("smoke from the board"), tagged(model.TagStopped))
	m := mustBench(t, s).Machines[id]
	if len(m.Findings) != 1 || m.Findings[0].At.After(c.t) || m.Tag == nil {
		t.Fatalf("findings %v, tag %v", m.Findings, m.Tag)
	}
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{settle(es[0].ID)}})
	for _, at := range []time.Time{c.t, wrong.Add(time.Hour)} {
		if c.t = at; len(mustBench(t, s).Machines[id].Findings) != 0 {
			t.Errorf("what was closed stands again at %v", at)
		}
	}
	c.t = t0.Add(time.Hour)
	mustAppend(t, s, model.Action{Facts: []model.Fact{strike(es[0].Action)}})
	if b := mustBench(t, s); len(b.Machines[id].Findings) != 0 || len(b.Ahead) != 0 {
		t.Error("what was struck still stands")
	}
}

// A machine added under a wrong clock counts from when the clock was right.
func TestAddedAheadOfTheClock(t *testing.T) {
	s, c := newStore(t)
	c.t = wrong
	id := addMachine(t, s, "Heron")
	c.t = t0
	if m := mustBench(t, s).Machines[id]; !m.Added.Equal(t0) {
		t.Errorf("added %v", m.Added)
	}
	other := addMachine(t, s, "Stork")
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{reading(model.Hours, 10)}})
	c.move(1000 * time.Hour)
	if b := mustBench(t, s); !b.Machines[id].Added.Equal(t0) ||
		!b.Machines[other].Added.Equal(t0) || b.Machines[id].Readings[model.Hours] == nil {
		t.Errorf("added %v", b.Machines[id].Added)
	}
}

func TestClockWarning(t *testing.T) {
	s, c := newStore(t)
	if w := reopened(t, s, c).ClockWarning(); w != "" {
		t.Errorf("of an empty file: %s", w)
	}
	addMachine(t, s, "Heron")
	for _, x := range []struct {
		at   time.Time
		says string
	}{
		{t0, ""}, {t0.Add(-30 * time.Minute), ""}, {t0.AddDate(1, 6, 0), ""},
		{t0.AddDate(0, 0, -1), "set the clock right"},
		{time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC), "set the clock right"},
		{wrong, "look whether the clock is right"},
	} {
		c.t = x.at
		if w := reopened(t, s, c).ClockWarning(); x.says == "" && w != "" ||
			!strings.Contains(w, x.says) {
			t.Errorf("at %v: %q", x.at, w)
		}
	}
	c.t = t0
}

func found(text string) model.Fact {
	return model.Fact{Kind: model.KindFinding,
		Finding: &model.Found{Kind: model.FoundNote, Text: text}}
}

func tagged(kind model.TagKind) model.Fact {
	return model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: kind, Why: "smoke"}}
}
