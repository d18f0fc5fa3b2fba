package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// metBy is what a session put on record of how a look met its part.
func metBy(t *testing.T, r *walktest.Run, id string) model.CareDone {
	t.Helper()
	for _, e := range r.J.Entries {
		if e.Care != nil && e.Care.Procedure == id && e.Care.Outcome == model.OutcomeDone {
			return *e.Care
		}
	}
	t.Fatalf("%s is not on record", id)
	return model.CareDone{}
}

// TestHowALookMetItsPart: the worst of its answers is on record, and whether it was given for
// itself or passed with a page.
func TestHowALookMetItsPart(t *testing.T) {
	steps := paced(t, walk.Steps, nil, "chute-clear-look", "gears-blow-look")
	if c := metBy(t, steps, "chute-clear-look"); c.Found != model.MetClean || c.Together {
		t.Errorf("step by step: %q, together %v", c.Found, c.Together)
	}
	pages := paced(t, walk.Pages, steps, "chute-clear-look", "gears-blow-look")
	if c := metBy(t, pages, "chute-clear-look"); c.Found != model.MetClean || !c.Together {
		t.Errorf("with a page: %q, together %v", c.Found, c.Together)
	}
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check-look")
	reach(t, r, "blade-check-look", "end")
	say(t, r, "stretched")
	finish(t, r)
	if c := metBy(t, r, "blade-check-look"); c.Found != model.MetLate || c.Together {
		t.Errorf("stretched, the arm springs back: %q, together %v", c.Found, c.Together)
	}
	if c := metBy(t, r, "blade-check"); c.Found != "" {
		t.Errorf("the care itself says %q", c.Found)
	}
}
