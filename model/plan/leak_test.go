package plan_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// A block buried in plastic hides its leads: it is cleared before anything heats, and nothing is
// heated or driven on a machine that struck something before it was looked over, common practice.
func TestBuriedOrStruckIsSeenToBeforeHeat(t *testing.T) {
	l := load(t)
	fs := model.NewFeatureSet(model.FullFeatures...)
	delete(fs, "nozzle-unit")
	fs["nozzle-threaded"] = true
	for _, c := range []struct {
		first string
		rest  []string
	}{
		{"leak-clear", []string{"nozzle-swap", "nozzle-swap-look", "cold-pull", "stub-out",
			"wiper-check-look", "gears-blow"}},
		{"crash-look", []string{"nozzle-swap", "cold-pull", "stub-out", "leak-clear",
			"blade-check", "bed-tram"}},
	} {
		for _, other := range c.rest {
			p, _, err := plan.Assemble(l.Get, fs, nil, []string{other, c.first},
				plan.Request{SetUps: l.SetUps(), Start: model.Condition{}})
			if err != nil {
				t.Fatal(err)
			}
			at := slices.Index(p.IDs(), c.first)
			heat, _ := heatOf(p)
			if its := slices.Index(p.IDs(), other); at < 0 || its < at || heat >= 0 && heat < at {
				t.Errorf("with %s, %s stands at %d of %v", other, c.first, at, p.IDs())
			}
		}
	}
}
