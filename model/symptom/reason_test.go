package symptom_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
)

// What two symptoms say alike of one care is said once.
func TestReasonsOfTwoSymptomsAreToldTogether(t *testing.T) {
	b := newBench(t)
	r := b.rank(t, machine(model.FullFeatures, nil), nil,
		"under-extrusion: every roll, and it clicks", "extruder-clicks: all the time, with any roll")
	l := find(t, r, "cold-pull")
	want := []string{"high for both", "both your answers point to it"}
	if !slices.Equal(l.Reasons, want) {
		t.Errorf("got %q\nwant %q", l.Reasons, want)
	}
	seen := map[string]bool{}
	for _, s := range r.NotCare {
		if seen[s] {
			t.Errorf("%q is said twice", s)
		}
		seen[s] = true
	}
	if len(r.NotCare) != 4 {
		t.Errorf("causes maintenance won't fix: %q", r.NotCare)
	}
}
