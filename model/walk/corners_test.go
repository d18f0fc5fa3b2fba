package walk_test

import (
	"testing"

	"bench/oilcan/model/walk"
)

// TestAHeadThatCannotBePushed: where a door shuts, and where there is none, a geared head is not
// forced: its way is looked along, and its first move is a slow jog under a hand at the switch. One
// that was pushed before and is held stops the machine.
func TestAHeadThatCannotBePushed(t *testing.T) {
	lib := library(t)
	for block, tc := range map[string]struct {
		kind []string
		care string
	}{"close-door": {machineKinds[0], "camera-clean"}, "plug-in": {machineKinds[1], "rods-wipe"}} {
		r := begin(t, lib, machine(lib, tc.kind...), tc.care, "self-check")
		reach(t, r, block, "corners")
		say(t, r, "geared, never pushed")
		reach(t, r, block, "way")
		jogged := false
		for range 600 {
			p := r.W.Prompt(r.Now)
			if p.Kind == walk.AskOver {
				break
			}
			jogged = jogged || p.Step != nil && p.Step.Name == block+".first-jog"
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		if !jogged {
			t.Errorf("%s: nobody watches its first move", block)
		}
		r = begin(t, lib, machine(lib, tc.kind...), tc.care, "self-check")
		reach(t, r, block, "corners")
		stopAt(t, r, "stuck, it pushed before")
	}
}
