package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestWhatAProcedureLeavesDoesNotOverruleAWord: filament was drawn out before a break, and loaded
// again in it. The person says so when they come back, and the end of the procedure changes nothing
// about it.
func TestWhatAProcedureLeavesDoesNotOverruleAWord(t *testing.T) {
	lib := library(t)
	for _, of := range []struct {
		care, step string
		v          model.Variable
		said, want string
	}{
		{"nozzle-swap", "old-count", model.Filament, "loaded", "loaded"},
		{"nozzle-swap", "old-count", model.Filament, "unloaded", "unloaded"},
		{"bed-tram", "offset", model.Heat, "30", "cold"},
		{"first-layer", "thickest", model.Filament, "unloaded", "unloaded"},
		{"first-layer", "thickest", model.Heat, "80", "cold"}, // read cold again before it ends
		{"first-layer", "start", model.Filament, "unloaded", "loaded"},
	} {
		r := begin(t, lib, machine(lib, machineKinds[1]...), of.care)
		reach(t, r, of.care, of.step)
		resume(t, r, map[model.Variable]string{of.v: of.said})
		through(t, r, of.care)
		if is := r.W.Believed[of.v]; is != of.want {
			t.Errorf("%s/%s: said %s %s, and at its end it is %s", of.care, of.step, of.v, of.said,
				is)
		}
		finish(t, r)
	}
}

// through answers well until a procedure is done.
func through(t *testing.T, r *walktest.Run, id string) {
	t.Helper()
	for range 300 {
		for _, b := range r.W.Blocks {
			if b.ID == id && b.Status != walk.Ahead {
				return
			}
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatalf("%s does not end", id)
}
