package store

import (
	"errors"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

func TestAppendAndReadBack(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	c.toDay(1)
	es := mustAppend(t, s,
		model.Action{Machine: id, By: " ada ", Facts: []model.Fact{reading(model.Hours, 120),
			swap("blade", "worn", "blade-check"), used("blade", 1)}})
	if len(es) != 3 || es[0].Action != es[2].Action || es[0].Seq != 2 || es[0].ID == es[1].ID ||
		es[0].By != "ada" {
		t.Errorf("entries written: %+v", es)
	}
	m := mustBench(t, s).Machines[id]
	if m.Name != "Anvil" || m.Readings[model.Hours].Last.Value != 120 ||
		m.Care["blade-check"] == nil || m.Parts["blade"].Since != c.at(1) {
		t.Errorf("machine: %+v", m)
	}
	got, err := s.Entries(Filter{Machine: id})
	if err != nil || len(got) != 4 {
		t.Errorf("entries: %d, %v", len(got), err)
	}
}

func TestNewMachineTakesTheFactsOfItsAction(t *testing.T) {
	s, c := newStore(t)
	es, err := s.AppendAll([]model.Action{
		{Facts: []model.Fact{machineFact("Anvil"), reading(model.Hours, 700), care("belts-reset")}},
		{Facts: []model.Fact{machineFact("Brass")}},
	})
	if err != nil {
		t.Fatal(err)
	}
	id := es[0].Machine
	if id == "" || es[1].Machine != id || es[0].Fact.Machine.ID != id || es[3].Machine == id {
		t.Errorf("%+v", es)
	}
	// Care told from before the machine was added is late, and folds it again.
	mustAppend(t, s, model.Action{At: c.at(-90), Machine: id, Facts: []model.Fact{care("oil")}})
	m := mustBench(t, s).Machines[id]
	if m.Care["oil"] == nil || !m.Care["oil"].At.Equal(c.at(-90)) ||
		m.Readings[model.Hours].Last.Value != 700 {
		t.Errorf("%+v", m)
	}
}

func mustEntries(t testing.TB, s *Store, f Filter) []model.Entry {
	t.Helper()
	es, err := s.Entries(f)
	if err != nil {
		t.Fatalf("entries: %v", err)
	}
	return es
}

func TestSession(t *testing.T) {
	s, c := newStore(t)
	text := []byte("resolved text of belts-reset")
	hash := textHash(text)
	id := addMachine(t, s, "Anvil")
	es := mustAppend(t, s,
		model.Action{Machine: id, By: "ada", Texts: map[string][]byte{hash: text},
			Facts: []model.Fact{
				{Kind: model.KindBegun,
					Begun: &model.Begun{Title: "monthly",
						Items: []model.BlockRef{{Kind: "care", ID: "belts-reset", Hash: hash}}}},
				step("said", "step 1 of 9"),
			}})
	session := es[0].Session
	if session == "" || es[0].Ordinal != 1 || es[1].Ordinal != 2 || es[1].Session != session {
		t.Fatalf("%+v", es)
	}
	c.move(time.Minute)
	passed := step("passed", "step 2 of 9")
	passed.Walk.Ledger = &model.Ledger{Out: map[string]int{"screws": 4}, Inside: map[string]int{},
		Flags: map[string]string{}}
	es = mustAppend(t, s, model.Action{Session: session, Ordinal: 3, By: "bob",
		Facts: []model.Fact{passed, care("belts-reset"), step("paused", "step 3 of 9")}})
	if es[0].Ordinal != 3 || es[1].Ordinal != 0 || es[2].Ordinal != 4 || es[1].Machine != id {
		t.Errorf("%+v", es)
	}
	b := mustBench(t, s)
	snap := b.Sessions[session]
	if snap.Ordinal != 4 || !snap.Paused || snap.LastBy != "bob" ||
		snap.Position != "step 3 of 9" || b.Machines[id].Session != session {
		t.Errorf("%+v", snap)
	}
	if got, err := s.Text(hash); err != nil || string(got) != string(text) {
		t.Errorf("text: %q, %v", got, err)
	}
	if got := mustEntries(t, s, Filter{Session: session}); len(got) != 5 {
		t.Errorf("%d entries of the session", len(got))
	}
	if got := mustEntries(t, s, Filter{Machine: id}); len(got) != 6 {
		t.Errorf("%d entries of the machine", len(got))
	}
	mustAppend(t, s, model.Action{Session: session, Ordinal: 5,
		Facts: []model.Fact{{Kind: model.KindClosed, Closed: &model.Closed{State: "ready"}}}})
	b = mustBench(t, s)
	if len(b.Sessions) != 0 || b.Machines[id].LastSession.State != "ready" {
		t.Errorf("%+v", b.Machines[id])
	}
	begin2 := mustAppend(t, s,
		model.Action{Machine: id,
			Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "again"}}}})
	if begin2[0].Session == session {
		t.Error("the new session bears the old one's id")
	}
}

// TestASessionIsPractisedOnce: closed in one action with a fact that comes late, so that its
// machine is folded again, what was walked counts once.
func TestASessionIsPractisedOnce(t *testing.T) {
	s, c := newStore(t)
	id, session := begin(t, s, "Anvil")
	mustAppend(t, s, act(id, care("oil")))
	mustAppend(t, s, model.Action{At: c.at(-1), Machine: id, Session: session, Ordinal: 2,
		Facts: []model.Fact{care("belts"), {Kind: model.KindClosed, Closed: &model.Closed{
			Practice: []model.Practised{{By: "LN", Shown: "rows"}}}}}})
	if n := mustBench(t, s).Machines[id].Practice["LN"].Shown["rows"].Steps; n != 1 {
		t.Errorf("walked once, and counted %d times", n)
	}
}

func TestStaleTellsWhoAndWhere(t *testing.T) {
	s, _ := newStore(t)
	machine, session := begin(t, s, "Anvil")
	mustAppend(t, s, model.Action{Machine: machine, Session: session, Ordinal: 2, By: "bob",
		Facts: []model.Fact{step("passed", "step 14 of 61")}})
	_, err := s.Append(model.Action{Machine: machine, Session: session, Ordinal: 2, By: "ada",
		Facts: []model.Fact{step("passed", "step 14 of 61")}})
	if !errors.Is(err, ErrStale) || !strings.Contains(err.Error(), "elsewhere by bob") ||
		!strings.Contains(err.Error(), "step 14 of 61") {
		t.Error(err)
	}
}

// TestStrikeTakesTheWholeAction: a struck swap takes its stock use with it, and comes back with it.
func TestStrikeTakesTheWholeAction(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	mustAppend(t, s, model.Action{Facts: []model.Fact{counted("blade", 5)}})
	c.toDay(1)
	swapped := mustAppend(t, s,
		model.Action{Machine: id, Facts: []model.Fact{swap("blade", "worn", "blade-check"),
			used("blade", 1)}})[0].Action
	look := func(lives int, left float64) {
		t.Helper()
		b := mustBench(t, s)
		n := 0
		if p := b.Machines[id].Parts["blade"]; p != nil {
			n = len(p.Lives)
		}
		if n != lives || *b.Drawer["blade"].Count != left {
			t.Errorf("%d lives, %v left; want %d, %v", n, *b.Drawer["blade"].Count, lives, left)
		}
	}
	look(1, 4)
	struck := mustAppend(t, s, model.Action{Facts: []model.Fact{strike(swapped)}})
	if struck[0].Machine != id {
		t.Errorf("the strike is on record for %q", struck[0].Machine)
	}
	look(0, 5)
	if out, err := s.Struck(); err != nil || !out[swapped] {
		t.Errorf("struck: %v, %v", out, err)
	}
	mustAppend(t, s, model.Action{Facts: []model.Fact{strike(struck[0].Action)}})
	look(1, 4)
	mustAppend(t, s, model.Action{Facts: []model.Fact{strike(swapped)}})
	look(0, 5)
}

func TestEntriesFilter(t *testing.T) {
	s, c := newStore(t)
	a, b := addMachine(t, s, "Anvil"), addMachine(t, s, "Brass")
	var all []model.Entry
	for day := range 6 {
		c.toDay(day)
		all = append(all, mustAppend(t, s,
			model.Action{Machine: []string{a, b}[day%2],
				Facts: []model.Fact{reading(model.Hours, float64(day)), care("oil")}})...)
	}
	cases := []struct {
		name string
		f    Filter
		want int
	}{
		{"all", Filter{}, 14},
		{"of a machine", Filter{Machine: a}, 7},
		{"of a kind", Filter{Kinds: []model.EntryKind{model.KindCare, model.KindMachine}}, 8},
		{"from a day, before another", Filter{From: c.at(2), To: c.at(4)}, 4},
		{"by id", Filter{IDs: []string{all[0].ID, all[3].ID}}, 2},
		{"of an action", Filter{Action: all[0].Action}, 2},
		{"of a machine and a kind", Filter{Machine: b, Kinds: []model.EntryKind{model.KindReading}},
			3},
		{"of no machine there is", Filter{Machine: "x"}, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := mustEntries(t, s, c.f); len(got) != c.want {
				t.Errorf("%d, want %d", len(got), c.want)
			}
		})
	}
}

// TestBenchIsCached: the same bench comes back until somebody writes, and what did not change is
// not read again.
func TestBenchIsCached(t *testing.T) {
	s, c := newStore(t)
	a, b := addMachine(t, s, "Anvil"), addMachine(t, s, "Brass")
	first := mustBench(t, s)
	if s.Changed() || mustBench(t, s) != first {
		t.Error("read again though nothing was written")
	}
	other, err := Open(s.Path(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	mustAppend(t, other, model.Action{Machine: a, Facts: []model.Fact{care("oil")}})
	if !s.Changed() {
		t.Error("did not notice the other writer")
	}
	second := mustBench(t, s)
	if second == first || second.Machines[a].Care["oil"] == nil ||
		second.Machines[b] != first.Machines[b] {
		t.Errorf("%+v", second)
	}
	if first.Machines[a].Care["oil"] != nil {
		t.Error("a bench handed out was changed")
	}
	if s.Changed() {
		t.Error("still changed after reading")
	}
}

// TestSnapshotStaysSmall: years of daily readings on five meters, everything at its cap, one
// record.
func TestSnapshotStaysSmall(t *testing.T) {
	s, c := newStore(t)
	f := machineFact("Anvil")
	f.Machine.ID = "m"
	actions := []model.Action{{At: c.at(-900), Facts: []model.Fact{f}}}
	for day := range 800 {
		facts := []model.Fact{swap(model.RenewableParts[day%len(model.RenewableParts)], "worn",
			"blade-check"), care("procedure-" + string(rune('A'+day%60)) + "-with-a-long-name")}
		facts = append(facts,
			model.Fact{Kind: model.KindOutcome,
				Outcome: &model.Outcome{Symptom: "first-layer-not-sticking-" +
					string(rune('A'+day%60)), Procedure: "layer-lens-clean", Is: "cured"}})
		for i, m := range model.TypedMeters {
			facts = append(facts,
				reading(m, float64(day)*(7.3+float64(i)*3.17)+float64(day*day%17)/10))
		}
		facts = append(facts,
			model.Fact{Kind: model.KindFinding,
				Finding: &model.Found{Kind: "note",
					Text:      strings.Repeat("the belt hums a little at the left end ", 8),
					Procedure: "belts-reset"}},
			model.Fact{Kind: model.KindValue,
				Value: &model.Measured{Name: "belt tone " + strconv.Itoa(10+day%80), Value: 82.5 +
					float64(day%9), Unit: "Hz"}})
		actions = append(actions,
			model.Action{At: c.at(day - 800).Add(time.Duration(day*137%1440) * time.Minute),
				Machine: "m", Facts: facts})
	}
	if _, err := s.AppendAll(actions); err != nil {
		t.Fatal(err)
	}
	n := snapshotSize(t, s, "m")
	t.Logf("%d bytes", n)
	if n > 16<<10 {
		t.Errorf("the snapshot takes %d bytes", n)
	}
}
