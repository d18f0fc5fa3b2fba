package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestWhatCannotJoinIsSaid: where it is not known how the belts are tensioned, care that resets
// them fits nothing; nobody is told that it joins.
func TestWhatCannotJoinIsSaid(t *testing.T) {
	lib := library(t)
	for kind, joins := range map[string]bool{"full": true, "corexy": false} {
		r := begin(t, lib, machine(lib, kind), "belt-tone")
		reach(t, r, "belt-tone", "left")
		note := ""
		for range 14 {
			p := r.W.Prompt(r.Now)
			if p.Kind != walk.AskStep || p.Block.ID != "belt-tone" {
				break
			}
			text := walktest.Good(r.W, r.Context(), p)
			switch p.Step.Name {
			case "left", "left-again":
				text = "80"
			case "right":
				text = "96"
			}
			note += say(t, r, text).Note
		}
		if !strings.Contains(note, "apart twice") ||
			strings.Contains(note, "does not fit") == joins {
			t.Errorf("%s: %q", kind, note)
		}
	}
}
