package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestCountedWholeWhenPutTogether: parts are counted in their place when nothing is out any more,
// in a session without a proof after it too.
func TestCountedWholeWhenPutTogether(t *testing.T) {
	lib := library(t)
	for _, id := range []string{"fans-blow", "rods-wipe", "screws-oil", "belts-reset"} {
		r := begin(t, lib, machine(lib, "full"), id)
		reach(t, r, "plug-in", "whole") // what is known from there is not asked again at the end
		if l := r.W.Ledger(); !l.Empty() {
			t.Errorf("%s: the machine is counted whole with %v out and %v", id, l.Out, l.Flags)
		}
		finish(t, r)
	}
}

// TestResumedUnpluggedIsPoweredAgain: a session that found the machine on and pulled its plug puts
// it back, also when it is resumed after all was closed: nothing asks for a set-up action then, and
// the counts at the plug and what is owed at power-on would be left out.
func TestResumedUnpluggedIsPoweredAgain(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "plug-in", "whole")
	say(t, r, "pause")
	for p := r.W.Prompt(r.Now); p.Kind != walk.AskStep; p = r.W.Prompt(r.Now) {
		answer := walktest.Good(r.W, r.Context(), p)
		switch {
		case p.Kind == walk.AskState && p.Variable == model.Power:
			answer = r.W.Begun.Settings["plug-tag"]
		case p.Kind == walk.AskState && p.Variable == model.Heat:
			answer = "24"
		}
		say(t, r, answer)
	}
	reach(t, r, "plug-in", "whole")
	reach(t, r, "close-out", "ready")
	if got := r.W.Believed[model.Power]; got != "on" {
		t.Errorf("the machine is handed back with power %s", got)
	}
	finish(t, r)
}
