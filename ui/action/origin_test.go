package action

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

func TestOrigin(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for text, want := range map[string]string{"new": "2026-11-25", "used": "used", "": "",
		"replaced": "", "2026-03": "2026-03-01", "new 2025-11": "2025-11-01",
		"Bought new in 2025-11": "2025-11-01", "used since 2024-05": "used"} {
		o, err := ReadOrigin(text, now)
		if err != nil || OriginOf(o.With(model.MachineFact{}), now) != want ||
			o.New != (text == "new") {
			t.Errorf("%q is read as %+v, %v", text, o, err)
		}
	}
	if o, err := ReadOrigin("used xyzzy", now); err == nil {
		t.Errorf("what nobody understands is read as %+v", o)
	}
	if o, err := ReadOrigin("03/04/2026", now); err == nil {
		t.Errorf("an ambiguous day is read as %+v", o)
	}
}

// Each starting set is one a machine can have, and no two are the same.
func TestStartingSets(t *testing.T) {
	seen := map[string]bool{}
	for i, s := range StartingSets {
		var names []string
		for _, f := range s.Features {
			names = append(names, string(f))
		}
		if _, err := model.ParseFeatures(names); err != nil || seen[s.Says] {
			t.Errorf("%s: %v", s.Name, err)
		}
		seen[s.Says] = true
		for _, word := range []string{s.Name, string(rune('1' + i))} {
			if got, err := FindStartingSet(word); err != nil || got.Name != s.Name {
				t.Errorf("%s finds %s, %v", word, got.Name, err)
			}
		}
	}
	asked := 0
	for _, q := range FeatureQuestions {
		if !q.Later {
			asked++
		}
	}
	if asked > 5 { // with name, set, duty, origin, two counters and the care list: twelve
		t.Errorf("%d questions on what a new machine has", asked)
	}
}
