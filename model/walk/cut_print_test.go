package walk_test

import (
	"testing"

	"bench/oilcan/model/walk"
)

// TestWhatIsPrintedIsNotPrintedAgainAfterABreak: broken off where the print comes off the plate, it
// is read cold again and goes on from where nobody is at the controls; the print before that
// reading is done and stands there.
func TestWhatIsPrintedIsNotPrintedAgainAfterABreak(t *testing.T) {
	lib := library(t)
	for _, c := range []struct{ id, at, cold, then string }{
		{"flow-check", "clear-1", "off-1", "clear-1"},
		{"flow-check", "lift-1", "off-1", "clear-1"},
		{"flow-check", "shut-1", "off-1", "clear-1"},
		{"flow-check", "lift-2", "off-2", "clear-2"},
		{"first-layer", "clear", "cool", "clear"},
		{"first-layer", "lift", "cool", "clear"},
		{"first-layer", "shut", "cool", "clear"},
	} {
		t.Run(c.id+"/"+c.at, func(t *testing.T) {
			r := begin(t, lib, machine(lib, "full"), c.id)
			if c.at == "lift-2" {
				reach(t, r, c.id, "change")
				say(t, r, "3 % or less")
			}
			reach(t, r, c.id, c.at)
			broken := len(r.J.Entries)
			resume(t, r, nil)
			count(t, r)
			reach(t, r, c.id, c.cold)
			for _, was := range []string{c.cold, c.then} {
				if s := r.W.Step(); s == nil || s.Name != was {
					t.Fatalf("it goes on at %s, not at %s", r.W.Position(), was)
				}
				if p := r.W.Prompt(r.Now); p.Kind != walk.AskStep {
					t.Fatalf("it asks %s", p.Kind)
				}
				if _, err := r.Step(); err != nil {
					t.Fatal(err)
				}
			}
			for _, e := range r.J.Entries[broken:] {
				if e.Walk != nil && e.Walk.What == walk.Passed &&
					(e.Walk.Step == "print-1" || e.Walk.Step == "start") {
					t.Errorf("%s is asked again", e.Walk.Step)
				}
			}
			finish(t, r)
		})
	}
}
