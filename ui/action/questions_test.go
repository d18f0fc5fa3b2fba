package action

import (
	"testing"

	"bench/oilcan/model"
)

// TestFeaturesAreAskedForWhole: every feature is asked for once, and what excludes one another as
// such.
func TestFeaturesAreAskedForWhole(t *testing.T) {
	seen := map[model.Feature]int{}
	for _, q := range FeatureQuestions {
		if len(q.Of) > 9 {
			t.Errorf("%s has more answers than digits", q.Name)
		}
		if q.Ask == "" {
			t.Errorf("%s has no sentence", q.Name)
		}
		for _, o := range q.Of {
			seen[o.Is]++
		}
	}
	for _, f := range model.Features {
		if seen[f] != 1 {
			t.Errorf("%s is asked for %d times", f, seen[f])
		}
	}
	for _, g := range model.ExclusiveGroups {
		for _, q := range FeatureQuestions {
			if q.Of[0].Is == g[0] && (q.Any || len(q.Of) != len(g)) {
				t.Errorf("%v excludes one another but is asked as any of several", g)
			}
		}
		if q := QuestionOf(g); len(q.Of) != len(g) || q.Of[len(g)-1].Is != g[len(g)-1] {
			t.Errorf("%v is asked by %q", g, q.Ask)
		}
	}
}
