package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// walked answers a procedure well but for what is said here, to its end, and gives its steps in
// their order.
func walked(t *testing.T, r *walktest.Run, id string, said map[string]string) []string {
	t.Helper()
	var steps []string
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			return steps
		}
		if p.Kind == walk.AskStep && p.Block.ID == id {
			if len(steps) == 0 || steps[len(steps)-1] != p.Step.Name {
				steps = append(steps, p.Step.Name)
			}
			if a := said[p.Step.Name]; a != "" {
				if rep := say(t, r, a); rep.Refusal != "" {
					t.Fatalf("%s: %s", p.Step.Name, rep.Refusal)
				}
				continue
			}
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatal("it does not end")
	return nil
}

// TestScrewsOutWhenOneIsRoundedAreCounted: two screws lie in the tray when the socket of the third
// rounds; both are asked back, and a bearing that was never changed is not logged as new.
func TestScrewsOutWhenOneIsRoundedAreCounted(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "bearing-swap")
	reach(t, r, "bearing-swap", "undo")
	say(t, r, "2")
	if out := r.W.Ledger().Out["carrier screws"]; out != 2 {
		t.Fatalf("2 screws in the tray, %d in the ledger", out)
	}
	steps := walked(t, r, "bearing-swap", map[string]string{"all-out": "one is rounded"})
	if !slices.Contains(steps, "refit") {
		t.Errorf("the screws in the tray are not asked back: %v", steps)
	}
	for _, e := range r.J.Entries {
		if e.Swap != nil {
			t.Errorf("nothing was renewed, and the book says %s", e.Swap.Part)
		}
	}
	ended(t, r, "one is rounded")
}

// TestBushingLeavesItsRodAtTheEnd: the belt comes off its carriage, the rod is drawn, then the
// bushings; a new ball block is greased before it goes on, since it comes with preserving oil only
// (common practice).
func TestBushingLeavesItsRodAtTheEnd(t *testing.T) {
	lib := library(t)
	for kind, want := range map[string][]string{
		"bushing": {"back-off", "belt-off", "undo", "rod", "draw", "slide", "rod-in", "refit",
			"belt-on", "tension"},
		"ball block": {"back-off", "belt-off", "undo", "draw", "grease", "slide", "refit",
			"belt-on", "tension"},
	} {
		r := begin(t, lib, machine(lib, "full"), "bearing-swap")
		steps := walked(t, r, "bearing-swap", map[string]string{"kind": kind})
		at := -1
		for _, s := range want {
			i := slices.Index(steps, s)
			if i <= at {
				t.Errorf("%s: %q stands at %d, after %d: %v", kind, s, i, at, steps)
			}
			at = i
		}
		finish(t, r)
	}
}

// TestEachBeltOfAPairKeepsItsOwnLength: the two belts of a crossed pair need not have the same
// count of teeth.
func TestEachBeltOfAPairKeepsItsOwnLength(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "belt-swap")
	walked(t, r, "belt-swap", map[string]string{"which-pair": "both of the pair",
		"old-teeth": "402", "trim": "402", "old-right": "398", "trim-right": "398"})
	ended(t, r, "402 and 398 teeth")
	if r.W.Stopped != "" {
		t.Errorf("it stops: %s", r.W.Stopped)
	}
}

// TestBeltOfTheBedScrewsKeepsTheirPhase: the screws are marked before the old belt goes slack and
// looked at before the new one is tight; then the bed is checked and set true.
func TestBeltOfTheBedScrewsKeepsTheirPhase(t *testing.T) {
	lib := library(t)
	const bed = "the belt of the bed screws"
	for _, c := range []struct {
		features []string
		said     map[string]string
		order    []string
	}{
		{[]string{"full", "z-belt"},
			map[string]string{"which-pair": bed, "bed-after": "another day"},
			[]string{"phase", "back-off", "draw", "phase-kept", "tension", "bed-after"}},
		{[]string{"open-frame", "bedslinger", "z-screw", "z-belt", "knobs"},
			map[string]string{"which": bed, "bed-after-screws": "another day"},
			[]string{"phase-screws", "back-off", "draw", "phase-kept-screws", "tension",
				"bed-after-screws"}},
	} {
		r := begin(t, lib, machine(lib, c.features...), "belt-swap")
		steps := walked(t, r, "belt-swap", c.said)
		at := -1
		for _, s := range c.order {
			i := slices.Index(steps, s)
			if i <= at {
				t.Errorf("%q stands at %d, after %d: %v", s, i, at, steps)
			}
			at = i
		}
		var due []string
		for _, e := range r.J.Entries {
			if e.Due != nil {
				due = append(due, e.Due.Procedure)
			}
		}
		if !slices.Contains(due, "z-belt-check") || !slices.Contains(due, "bed-tram") {
			t.Errorf("due after it: %v", due)
		}
	}
}

// TestPlayOfABedOnItsStopsIsNotAsked: a bed that lies on its stops cannot knock nor stand askew;
// only one that slides is rocked, and the screws are judged by the map.
func TestPlayOfABedOnItsStopsIsNotAsked(t *testing.T) {
	lib := library(t)
	lifts := model.NewFeatureSet("enclosed", "corexy", "z-screw", "rails", "probe")
	for id, step := range map[string]string{"play-check": "bed", "square-check": "bed"} {
		for _, s := range lib.Get(id).For(lifts, nil).Steps {
			if s.Name == step {
				t.Errorf("%s, %s: %q", id, s.Name, s.Do)
			}
		}
	}
	judged := slices.ContainsFunc(lib.Get("square-check").For(lifts, nil).Later,
		func(l model.Later) bool {
			return l.Quantity == "map spread"
		})
	if !judged {
		t.Error("the bed screws of a machine with a probe are judged by nothing")
	}
}
