package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// rodsAlone walks the rods alone on a machine that was found off, cold and closed and is left
// unplugged, as the screens do, by a hand that walked it often before where another session did.
func rodsAlone(t *testing.T, pace string, filament model.Value,
	before *walktest.Run) *walktest.Run {
	t.Helper()
	lib := library(t)
	r := beginAs(t, lib, machine(lib, "full"), walk.Start{Leave: model.Unplugged}, "rods-wipe")
	r.Pace, r.By = pace, "Ada"
	if before != nil {
		r.Practice = practice(before, r.Now)
	}
	stands := map[model.Variable]string{model.Power: "off", model.Heat: "21",
		model.Filament: filament, model.Bed: "low"}
	var said []walk.StateAnswer
	for _, row := range r.W.StateRows() {
		text := stands[row.Variable]
		if text == "" {
			text = walktest.Good(r.W, r.Context(), row.Prompt)
		}
		said = append(said, walk.StateAnswer{Variable: row.Variable, Item: row.Item, Text: text})
	}
	rep, err := r.W.AnswerStates(r.Context(), said)
	take(t, r, rep, err)
	for r.Prompts = 1; ; { // the state is one
		at, n := walk.StateLine(r.W), r.Prompts
		if b, s := r.W.Block(), r.W.Step(); s != nil {
			at = b.ID + "/" + s.Name
		}
		done, err := r.PageStep()
		if err != nil {
			t.Fatal(err)
		}
		if r.Prompts > n {
			t.Logf("%-8s %2d %s", pace, r.Prompts, at)
		}
		if done {
			return r
		}
	}
}

// Rods alone are a wipe of four minutes: what stands around it is no more than these prompts. With
// filament in the head it is cut there first, in two prompts or three.
func TestRodsAloneAreLight(t *testing.T) {
	for _, x := range []struct {
		filament     model.Value
		steps, pages int
	}{{model.Unloaded, 30, 16}, {model.Loaded, 33, 18}} {
		steps := rodsAlone(t, walk.Steps, x.filament, nil)
		pages := rodsAlone(t, walk.ByUse, x.filament, steps)
		t.Logf("filament %s: %d prompts in steps, %d in pages", x.filament, steps.Prompts,
			pages.Prompts)
		if steps.Prompts > x.steps || pages.Prompts > x.pages {
			t.Errorf("filament %s: %d prompts in steps and %d in pages, want %d and %d", x.filament,
				steps.Prompts, pages.Prompts, x.steps, x.pages)
		}
		for _, r := range []*walktest.Run{steps, pages} {
			if r.W.End == nil || !r.W.End.Unplugged || cared(r) != " rods-wipe:done" {
				t.Errorf("filament %s: %s, ended %+v", x.filament, cared(r), r.W.End)
			}
		}
	}
}
