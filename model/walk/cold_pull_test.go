package walk_test

import "testing"

// TestAColdPullGoesOnUnderPower: what it takes out on its way to the filament is its own, and no
// emergency.
func TestAColdPullGoesOnUnderPower(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "cold-pull")
	reach(t, r, "cold-pull", "glass")
	say(t, r, "in the way")
	reach(t, r, "cold-pull", "tube")
	say(t, r, "1")
	if l := r.W.Ledger(); l.Out["glass top"] != 1 || l.Out["head tube"] != 1 ||
		r.W.Block().ID != "cold-pull" {
		t.Fatalf("with %v out it goes on at %s", l.Out, r.W.Block().ID)
	}
	finish(t, r)
	for _, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.Item == "emergency" {
			t.Error("power is cut")
		}
	}
}
