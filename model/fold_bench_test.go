package model

import (
	"fmt"
	"testing"
)

func TestFoldFindingsAndTags(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, fFind("belt looks frayed"))
	j.on(2, fFind("fan hums"))
	j.on(3, fSettle("e2"))
	j.on(4, fTag("stopped", false))
	j.on(5, fTag("waiting", true))
	m := j.bench(t).Machines["m"]
	if len(m.Findings) != 1 || m.Findings[0].Text != "fan hums" || m.Findings[0].ID != "e3" {
		t.Errorf("standing: %+v", m.Findings)
	}
	if m.Tag == nil || m.Tag.Kind != "stopped" {
		t.Errorf("clearing another tag cleared this one: %+v", m.Tag)
	}
	j.on(6, fTag("stopped", true))
	if m = j.bench(t).Machines["m"]; m.Tag != nil {
		t.Errorf("tag stands: %+v", m.Tag)
	}
}

func TestFoldDrawer(t *testing.T) {
	minimum, lead, pack := 2.0, 9, 5
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, fMove("blade", 5))
	j.on(2, fCount("wiper", 4))
	j.on(3, fMove("wiper", -1),
		Fact{Kind: KindStock, Stock: &StockMove{Part: "wiper", Minimum: &minimum, Lead: &lead,
			Pack: &pack}})
	j.on(1.5, fCount("wiper", 9))
	j.on(4, fCount("sock", 1))
	j.on(5, fMove("sock", -3))
	gone := j.on(6, fMove("wiper", -2))
	j.on(7, fStrike(gone))
	d := j.bench(t).Drawer
	if d["blade"].Count != nil {
		t.Errorf("what was never counted is counted: %v", *d["blade"].Count)
	}
	if w := d["wiper"]; *w.Count != 3 || w.Minimum != 2 || w.Lead != 9 || w.Pack != 5 {
		t.Errorf("wiper: %+v %v", w, *w.Count)
	}
	if *d["sock"].Count != 0 {
		t.Errorf("sock fell below nothing: %v", *d["sock"].Count)
	}
}

func TestFoldSession(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, Fact{Kind: KindBegun,
		Begun: &Begun{Title: "monthly", Latched: Condition{Sensor: "unproved"}}})
	j.on(1.1, fWalk("passed", func(w *Walked) {
		w.Position, w.Ledger = "step 2 of 9", &Ledger{Out: map[string]int{"screws": 4}}
	}))
	j.on(1.2, fWalk("paused", func(w *Walked) { w.Latched = Condition{Vapour: "drying"} }))
	b := j.bench(t)
	s := b.Sessions["s"]
	if s.Title != "monthly" || s.Position != "step 2 of 9" || !s.Paused || s.Ordinal != 4 ||
		s.Ledger.Out["screws"] != 4 {
		t.Errorf("%+v", s)
	}
	if s.Latched[Sensor] != "unproved" || s.Latched[Vapour] != "drying" ||
		b.Machines["m"].Session != "s" {
		t.Errorf("%+v", s.Latched)
	}
	j.on(1.3, fWalk("resumed"))
	if j.bench(t).Sessions["s"].Paused {
		t.Error("resumed and still paused")
	}
	j.on(1.4, Fact{Kind: KindClosed, Closed: &Closed{GivenUp: true, Why: "called away",
		Ledger: Ledger{Out: map[string]int{"screws": 4}}, Latched: Condition{Vapour: "drying"}}})
	b = j.bench(t)
	m := b.Machines["m"]
	if len(b.Sessions) != 0 || m.Session != "" || m.Ledger.Out["screws"] != 4 ||
		m.Latched[Vapour] != "drying" {
		t.Errorf("%+v", m)
	}
	if e := m.LastSession; e == nil || e.Title != "monthly" || e.State != "given up" ||
		!e.At.Equal(onDay(1.4)) {
		t.Errorf("%+v", e)
	}
}

// TestApplyRefuses what does not fit what is folded.
func TestApplyRefuses(t *testing.T) {
	cases := []struct {
		name string
		e    Entry
	}{
		{"a machine that is not there", Entry{Machine: "x", Fact: fRead(Hours, 1)}},
		{"a session that is not begun", Entry{Machine: "m", Session: "s", Fact: fWalk("passed")}},
		{"a kind without its part",
			Entry{Machine: "m", At: onDay(2), Fact: Fact{Kind: KindReading}}},
		{"an unknown kind", Entry{Machine: "m", At: onDay(2), Fact: Fact{Kind: "dance"}}},
		{"earlier than what was seen", Entry{Machine: "m", At: onDay(-2), Fact: fRead(Hours, 1)}},
		{"a correction", Entry{Machine: "m", At: onDay(2), Fact: fRead(Hours, 1, isRight)}},
		{"a strike", Entry{Machine: "m", At: onDay(2), Fact: fStrike("a1")}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			j := &journal{}
			j.on(0, fMachine("Anvil"))
			b := j.bench(t)
			if err := b.Apply(c.e); err == nil {
				t.Error("taken")
			}
			sameJSON(t, b, Fold(j.entries))
		})
	}
}

func TestSnapshotCaps(t *testing.T) {
	j := &journal{}
	j.on(-800, fMachine("Anvil"))
	for i := range 700 {
		day := float64(i - 700)
		j.on(day, fRead(Hours, float64(i)), fFind(fmt.Sprintf("finding %d", i)),
			fSwap(RenewableParts[i%len(RenewableParts)], "worn"),
			Fact{Kind: KindValue, Value: &Measured{Name: fmt.Sprintf("value %d", i%100),
				Value: float64(i), Unit: "Hz"}})
	}
	m := j.bench(t).Machines["m"]
	lives := 0
	for _, p := range m.Parts {
		lives += len(p.Lives)
	}
	if lives != maxAllLives || len(m.Findings) != maxFindings || len(m.Values) != maxNames ||
		len(m.Readings[Hours].Days) != keptDays {
		t.Errorf("%d lives, %d findings, %d values, %d days", lives, len(m.Findings), len(m.Values),
			len(m.Readings[Hours].Days))
	}
	if m.Findings[maxFindings-1].Text != "finding 699" || m.Readings[Hours].First.Value != 0 ||
		m.Readings[Hours].N != 700 {
		t.Errorf("the newest is not kept: %+v", m.Findings[maxFindings-1])
	}
}

// TestAStopIsNotDroppedForBeingOld: a lock whose finding cannot be closed any more could never be
// cleared.
func TestAStopIsNotDroppedForBeingOld(t *testing.T) {
	fs := []Finding{{ID: "stop", Found: Found{Kind: "stop"}}, {ID: "a", Found: Found{Kind: "note"}},
		{ID: "b", Found: Found{Kind: "note"}}}
	if got := dropNotes(fs, 1); len(got) != 2 || got[0].ID != "stop" || got[1].ID != "b" {
		t.Errorf("kept %v", got)
	}
	if got := dropNotes(fs[:1], 1); len(got) != 0 {
		t.Errorf("of stops alone the oldest goes: %v", got)
	}
}
