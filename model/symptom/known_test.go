package symptom_test

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
)

// caseOf is a machine with one symptom, nothing answered.
func (b bench) caseOf(m *model.Machine, id string) symptom.Case {
	return symptom.Case{Table: b.table, Machine: m, Procs: b.procs, Now: now,
		Heard: []symptom.Heard{{Symptom: b.table.Get(id)}}}
}

// TestFoundGoodFades: care done and found good says less every day, and after a fortnight nothing.
func TestFoundGoodFades(t *testing.T) {
	b := newBench(t)
	score := func(days int) float64 {
		return find(t,
			symptom.Rank(b.caseOf(machine(model.FullFeatures, map[string]int{"dry-filament": days}),
				"stringing")), "dry-filament").Score
	}
	for days := 1; days <= 14; days++ {
		if score(days) <= score(days-1) {
			t.Errorf("after %d days %.3f, the day before %.3f", days, score(days), score(days-1))
		}
	}
	if score(14) != score(15) || score(0) > 0.2*score(15) {
		t.Errorf("today %.3f, after 14 days %.3f, after 15 %.3f", score(0), score(14), score(15))
	}
}

// TestNotProvedSaysLess: care told from memory, or with its proof owed, clears its cause less than
// care done whole.
func TestNotProvedSaysLess(t *testing.T) {
	b := newBench(t)
	score := func(change func(*model.Machine)) float64 {
		m := machine(model.FullFeatures, map[string]int{"belts-reset": 1})
		change(m)
		return find(t, symptom.Rank(b.caseOf(m, "ringing")), "belts-reset").Score
	}
	whole := score(func(*model.Machine) {})
	memory := score(func(m *model.Machine) { m.Care["belts-reset"].Memory = true })
	owed := score(func(m *model.Machine) {
		m.Findings = []model.Finding{{ID: "1", At: now,
			Found: model.Found{Kind: "owed", Procedure: "belts-reset"}}}
	})
	if memory <= 2*whole || owed <= 2*whole {
		t.Errorf("whole %.2f, by memory %.2f, proof owed %.2f", whole, memory, owed)
	}
}

// TestOpenFindingCounts: a finding that stands leads to its care, one that names a part to the care
// that renews it; what is owed or lost says nothing of wear.
func TestOpenFindingCounts(t *testing.T) {
	b := newBench(t)
	plain := symptom.Rank(b.caseOf(machine(model.FullFeatures, nil), "under-extrusion"))
	with := func(f model.Found) symptom.Result {
		m := machine(model.FullFeatures, map[string]int{"gears-blow": 1})
		m.Findings = []model.Finding{{ID: "1", At: now.Add(-24 * time.Hour), Found: f}}
		return symptom.Rank(b.caseOf(m, "under-extrusion"))
	}
	r := with(model.Found{Kind: "note", Text: "dust in the teeth", Procedure: "gears-blow"})
	if l := find(t, r, "gears-blow"); l.Score < 3.9*find(t, plain, "gears-blow").Score ||
		!strings.Contains(strings.Join(l.Reasons, "; "),
			"open since 2026-11-24: dust in the teeth") {
		t.Errorf("the finding does not lead to its care: %.2f %v", l.Score, l.Reasons)
	}
	r = with(model.Found{Kind: "part", Text: "a tooth is chipped", Procedure: "gears-blow",
		Part: "gear set"})
	if l := find(t, r, "gear-swap"); l.Score < 3.9*find(t, plain, "gear-swap").Score {
		t.Errorf("a chipped gear does not lead to the gears' renewal: %.2f", l.Score)
	}
	if l := find(t, r, "gears-blow"); l.Score >= find(t, plain, "gears-blow").Score {
		t.Errorf("a chipped gear leads to blowing them clean: %.2f", l.Score)
	}
	for _, kind := range []model.FindingKind{"owed", "lost"} {
		r = with(model.Found{Kind: kind, Procedure: "cold-pull"})
		if find(t, r, "cold-pull").Score != find(t, plain, "cold-pull").Score {
			t.Errorf("what is %s counts as wear", kind)
		}
	}
}

// TestUnderWay: care that the begun session has still to come says so, by itself or by its look.
func TestUnderWay(t *testing.T) {
	b := newBench(t)
	for _, session := range []string{"gears-blow", "gears-blow-look"} {
		c := b.caseOf(machine(model.FullFeatures, nil), "under-extrusion")
		c.Session = []string{session}
		r := symptom.Rank(c)
		if l := find(t, r, "gears-blow"); !l.Begun ||
			!strings.HasPrefix(l.Reasons[0], "under way") {
			t.Errorf("%s: %v %v", session, l.Begun, l.Reasons)
		}
		if find(t, r, "cold-pull").Begun {
			t.Errorf("%s: a cold pull is under way too", session)
		}
	}
}
