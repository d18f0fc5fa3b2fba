package walk_test

import "testing"

// TestCountedWholeWhenPutTogether: parts are counted in their place when nothing is out any more, in a
// sitting without a proof after it too.
func TestCountedWholeWhenPutTogether(t *testing.T) {
	lib := library(t)
	for _, id := range []string{"fans-blow", "rods-wipe", "screws-oil", "belts-reset"} {
		r := begin(t, lib, machine(lib, "full"), id)
		reach(t, r, "close-out", "whole")
		if l := r.W.Ledger(); !l.Empty() {
			t.Errorf("%s: the machine is counted whole with %v out and %v", id, l.Out, l.Flags)
		}
		finish(t, r)
	}
}
