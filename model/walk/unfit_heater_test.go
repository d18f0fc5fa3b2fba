package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/model/walk"
)

// TestAHeaterFoundUnfitIsNotTried: what was handed on because of felt, chips or a stiff fan is not
// heated afterwards by the proof of the same procedure (common practice: no trial of a heater that
// somebody else has to open first).
func TestAHeaterFoundUnfitIsNotTried(t *testing.T) {
	lib := library(t)
	for _, c := range []struct{ id, step, answer string }{
		{"chamber-heat", "marks", "strings or chips on it"},
		{"chamber-heat", "dust", "felted inside"},
		{"chamber-heat", "turn", "stiff or gritty"},
		{"changer-heat", "marks", "chips on the heater"},
		{"changer-heat", "turn", "stiff or gritty"},
	} {
		t.Run(c.id+", "+c.answer, func(t *testing.T) {
			r := begin(t, lib, machineFor(lib, lib.Get(c.id)), c.id)
			said := 0
			for range 2000 {
				p := r.W.Prompt(r.Now)
				if p.Kind == walk.AskOver {
					break
				}
				if p.Kind == walk.AskStep && p.Block.ID == c.id && p.Step.Name == c.step {
					said++
					say(t, r, c.answer)
					continue
				}
				if p.Kind == walk.AskStep && strings.HasPrefix(p.Step.Name, c.id+".") &&
					len(p.Step.Drives) > 0 {
					t.Fatalf("%s is asked for all the same", p.Step.Name)
				}
				if _, err := r.Step(); err != nil {
					t.Fatal(err)
				}
			}
			ended(t, r, c.answer)
			if said == 0 {
				t.Errorf("nobody was asked %s", c.step)
			}
		})
	}
}
