package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// TestThePaperOfNoWorkIsShort: where all care was left out before anything was opened, only what
// stands of the heat and how the machine is handed back is asked; once a step of care was answered,
// all of the paper is, save the parts fitted where no care was about a part.
func TestThePaperOfNoWorkIsShort(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		at   []string
		want []string
	}{
		{[]string{"self-check", "whole"}, []string{"heat-off", "ready", "sign"}},
		{[]string{"self-check", "start"}, []string{"wipes", "inside", "heat-off", "ready", "sign"}},
	} {
		r := begin(t, lib, machine(lib, "full"), "self-check")
		reach(t, r, c.at[0], c.at[1])
		say(t, r, "leave no time")
		from := len(r.J.Entries)
		finish(t, r)
		var asked []string
		for _, e := range r.J.Entries[from:] {
			if x := e.Walk; x != nil && x.What == walk.Passed && x.ID == "close-out" &&
				x.How != model.AsKnown {
				asked = append(asked, x.Step)
			}
		}
		// perhaps done while it waited
		asked = slices.DeleteFunc(asked, func(s string) bool { return s == "drawer" })
		if !slices.Equal(asked, c.want) {
			t.Errorf("left at %v the paper asks %v", c.at, asked)
		}
	}
}
