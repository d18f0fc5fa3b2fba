package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestAProofIsOwedOnce: a set-up action done twice in a session, because it was undone in a break,
// owes its proof once.
func TestAProofIsOwedOnce(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "gears-blow", "rods-wipe")
	reach(t, r, "close-door", "tray")
	rep, err := r.W.Resume(r.Context())
	take(t, r, rep, err)
	for p := r.W.Prompt(r.Now); p.Kind == walk.AskState; p = r.W.Prompt(r.Now) {
		text := walktest.Good(r.W, r.Context(), p)
		switch p.Variable {
		case model.Changer:
			text = "detached"
		case model.Heat:
			text = "30"
		}
		say(t, r, text)
	}
	owed := false
	for range 400 {
		if b := r.W.Block(); b != nil && b.ID == "owed" {
			owed = true
			seen := map[string]bool{}
			for _, s := range b.Proc.Steps {
				if seen[s.Name] {
					t.Fatalf("%s is owed twice", s.Name)
				}
				seen[s.Name] = true
			}
		}
		done, err := r.Step()
		if err != nil {
			t.Fatal(err)
		}
		if done {
			break
		}
	}
	if !owed || !r.W.Ended {
		t.Errorf("a proof was owed %t, the session ended %t", owed, r.W.Ended)
	}
}
