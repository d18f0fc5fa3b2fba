package model

import (
	"encoding/json"
	"slices"
	"testing"
)

// listed are a starter with its look, another starter that needs rails, and one that is not among
// them.
func listed() []*Procedure {
	days := []Interval{{Meter: Days, Low: 30, High: 38}}
	return []*Procedure{
		{ID: "fans-blow", Kind: Care, Starter: true, CountsAs: []string{"fans-look"},
			Intervals: days},
		{ID: "fans-look", Kind: Look, Intervals: days},
		{ID: "rails-grease", Kind: Care, Starter: true, Needs: []Feature{"rails"}, Intervals: days},
		{ID: "door-seals", Kind: Care, Intervals: days,
			Triggers: []Trigger{{Done: []string{"fans-blow"}}}},
		{ID: "electrical-glance", Kind: Look, Starter: true, Intervals: days},
		{ID: "as-found", Kind: Bookend, Starter: true},
	}
}

func items(gs []Gauge) []string {
	var out []string
	for _, g := range gs {
		out = append(out, g.Item)
	}
	slices.Sort(out)
	return out
}

func TestStarterList(t *testing.T) {
	if got, want := StarterList(listed(), FeatureSet{}), []string{"electrical-glance", "fans-blow",
		"fans-look"}; !slices.Equal(got, want) {
		t.Errorf("starter list %q, want %q", got, want)
	}
	f := MachineFact{CareList: StarterList(listed(), FeatureSet{}), Features: []Feature{"rails"}}
	if !f.Refit(listed(), nil).Keeps("rails-grease") {
		t.Error("rails added, and their care is not kept")
	}
	f = f.WithCare(listed(), "fans-blow", false)
	if f.Refit(listed(), f.Features).Keeps("fans-blow") {
		t.Error("what was let go came back though the features did not change")
	}
}

// Gauges are of the care list; a finding or other care calls for what is not on it, and its record
// is never lost.
func TestGaugesAreOfTheCareList(t *testing.T) {
	m := machine()
	m.CareList = StarterList(listed(), FeatureSet{})
	if got, want := items(Gauges(m, listed(), gaugeNow)), m.CareList; !slices.Equal(got, want) {
		t.Errorf("gauges %q, want %q", got, want)
	}
	if got := items(Gauges(m.KeptByAll(), listed(), gaugeNow)); !slices.Contains(got,
		"door-seals") {
		t.Errorf("all gauges: %q", got)
	}
	m.Care["fans-blow"] = done(1, nil)
	gs := Gauges(m, listed(), gaugeNow)
	if i := slices.IndexFunc(gs, func(g Gauge) bool { return g.Item == "door-seals" }); i < 0 ||
		gs[i].Care {
		t.Errorf("called for by other care: %q", items(gs))
	}
	m.Care["door-seals"] = done(0, nil)
	m.Due["door-seals"] = FallsDue{Procedure: "door-seals", Because: "seal torn"}
	if got := items(Gauges(m, listed(), gaugeNow)); !slices.Contains(got, "door-seals") {
		t.Errorf("due by a finding: %q", got)
	}
	m.MachineFact = m.WithCare(listed(), "fans-blow", false)
	if got := items(Gauges(m, listed(), gaugeNow)); slices.Contains(got, "fans-blow") {
		t.Errorf("let go: %q", got)
	}
	m.MachineFact = m.WithCare(listed(), "fans-blow", true)
	if g := Gauges(m, listed(), gaugeNow); !slices.ContainsFunc(g, func(g Gauge) bool {
		return g.Item == "fans-blow" && g.Known
	}) {
		t.Error("kept again, its record is gone")
	}
}

// What guards a person and is let go goes on being said; a machine from before is kept by all that
// fits it.
func TestLetGo(t *testing.T) {
	var before MachineFact
	if err := json.Unmarshal([]byte(`{"id":"m","name":"Heron"}`), &before); err != nil ||
		!before.Keeps("door-seals") {
		t.Fatalf("a machine from before is not kept by all that fits it: %v", err)
	}
	f := before.WithCare(listed(), "electrical-glance", false)
	if got := f.LetGo(listed()); len(got) != 1 || got[0].ID != "electrical-glance" ||
		!f.Keeps("door-seals") {
		t.Errorf("let go: %v, kept %q", got, f.CareList)
	}
	none := MachineFact{CareList: []string{}}
	b, err := json.Marshal(none)
	if err != nil || json.Unmarshal(b, &before) != nil || before.Keeps("fans-blow") {
		t.Errorf("a machine kept by nothing reads back as kept by all: %s", b)
	}
}
