package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// TestAMachineThatWaitsIsAskedWhetherItMayPrint: waiting for a part says nothing of printing. It is
// asked, and stands on its tag; where the care that waits says no itself, nobody is asked.
func TestAMachineThatWaitsIsAskedWhetherItMayPrint(t *testing.T) {
	lib := library(t)
	for name, tc := range map[string]struct {
		id, step, answer string
		says             []string // at the end, by step
		tag              string
	}{
		"no": {"wiper-check", "change", "none in stock", []string{"until", "no print before it is in"},
			"no print before it is in"},
		"yes, limited": {"wiper-check", "change", "none in stock", []string{"until",
			"prints, with a limit", "limit-part", "PLA only, no ABS"}, "PLA only, no ABS"},
		"the care says no": {"sock-check", "change", "none, and no old one holds", nil,
			"no print before it is in"},
	} {
		t.Run(name, func(t *testing.T) {
			r := beginAs(t, lib, machine(lib, "full"), walk.Start{}, "close-out", tc.id)
			reach(t, r, tc.id, "judge")
			say(t, r, "torn")
			reach(t, r, tc.id, tc.step)
			say(t, r, tc.answer)
			say(t, r, tc.answer)
			for i := 0; i < len(tc.says); i += 2 {
				reach(t, r, "close-out", tc.says[i])
				if i == 2 {
					if rep := say(t, r, "-"); rep.Refusal == "" {
						t.Error("a dash passes for what it must not do")
					}
				}
				say(t, r, tc.says[i+1])
			}
			for range 300 {
				p := r.W.Prompt(r.Now)
				if p.Kind == walk.AskOver {
					break
				}
				if p.Step != nil && p.Step.Name == stepUntil {
					t.Fatal("it is asked, and the care that waits has said")
				}
				if _, err := r.Step(); err != nil {
					t.Fatal(err)
				}
			}
			tag := ""
			for _, e := range r.J.Entries {
				if e.Tag != nil {
					tag = string(e.Tag.Kind) + ": " + e.Tag.Why
				}
			}
			if want := string(model.TagWaiting) + ": " + tc.tag; tag != want {
				t.Errorf("its tag says %q, want %q", tag, want)
			}
		})
	}
}

const stepUntil = "until"
