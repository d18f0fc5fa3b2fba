package walk_test

import (
	"fmt"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// kinds of machines that between them fit every procedure.
var machineKinds = [][]string{
	{"full"},
	{"open-frame", "bedslinger", "rods-steel", "bush-ball", "lined-hotend", "knobs", "bed-cable",
		"direct-drive",
		"nozzle-threaded", "sock", "belt-manual", "z-screw", "nut-metal", "cutter"},
	{"enclosed", "corexy", "rails", "rollers", "z-screw", "z-belt", "remote-drive", "metal-hotend",
		"nozzle-threaded", "sensor-pt",
		"probe", "exhaust", "mains-bed", "bed-cable", "lens-polymer", "layer-sensor", "changer",
		"lid-changer", "changer-dryer", "belt-manual", "chamber-heater", "battery-backup"},
	{"enclosed", "bedslinger", "rods-steel", "bush-sintered", "nut-polymer", "nozzle-threaded",
		"rollers"},
	{"rods-steel", "layer-sensor"}, // next to nothing is known of it
}

// machineFor is the first kind of machine a procedure fits; nil where none does.
func machineFor(lib *procedures.Library, p *model.Procedure) *model.Machine {
	for _, k := range machineKinds {
		if m := machine(lib, k...); p.Fits(model.NewFeatureSet(m.Features...)) {
			return m
		}
	}
	return nil
}

// TestEveryProcedureWithGoodAnswers walks each procedure of the library once, on a machine that has
// it.
func TestEveryProcedureWithGoodAnswers(t *testing.T) {
	lib := library(t)
	for _, p := range lib.All() {
		t.Run(p.ID, func(t *testing.T) {
			m := machineFor(lib, p)
			if m == nil {
				t.Fatal("no kind of machine here fits it: add one")
			}
			finish(t, begin(t, lib, m, p.ID))
		})
	}
}

// wrongAnswers are the answers of a step that miss its gate.
func wrongAnswers(r *walktest.Run, s *model.Step) []string {
	var out []string
	for _, o := range s.Options {
		if o.Miss != nil {
			out = append(out, o.Is)
		}
	}
	if s.Miss != nil && s.Gate != model.Choice {
		out = append(out, "fail")
	}
	if n, has := r.W.Wanted(); has {
		out = append(out, fmt.Sprint(n+1))
	}
	lo, hi := r.W.Bounds(r.Context())
	if hi != nil && s.Meter == "" {
		out = append(out, model.Digits(*hi+1))
	}
	if lo != nil && s.Meter == "" {
		out = append(out, model.Digits(*lo-1))
	}
	if s.Min != nil && *s.Min > 0 {
		out = append(out, fmt.Sprint(*s.Min-1))
	}
	if s.Max != nil {
		out = append(out, fmt.Sprint(*s.Max+1))
	}
	return out
}

// TestEveryProcedureWithBadAnswers misses each gate of each procedure in turn, and then answers
// well: the session always comes to an end, with nothing left out, or stopped and closed. Without
// OILCAN_LONG it takes each third wrong answer.
func TestEveryProcedureWithBadAnswers(t *testing.T) {
	lib := library(t)
	for _, p := range lib.All() {
		t.Run(p.ID, func(t *testing.T) {
			m := machineFor(lib, p)
			if m == nil {
				t.Fatal("no kind of machine here fits it: add one")
			}
			missEach(t, begin(t, lib, m, p.ID), p.ID, func(*model.Step) bool { return true })
		})
	}
}

// missEach walks a session well, and from each gate of a block on a session beside it that misses
// the gate: one for each wrong answer there is.
func missEach(t *testing.T, r *walktest.Run, id string, misses func(*model.Step) bool) {
	t.Helper()
	n, nth := 0, each(3)
	for range 3000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Kind == walk.AskStep && p.Block.ID == id && misses(p.Step) {
			for _, wrong := range wrongAnswers(r, p.Step) {
				if n++; n%nth == 0 || n == 1 {
					missAndFinish(t, fork(t, r), wrong)
				}
			}
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	ended(t, r, "answering well")
}

// missAndFinish gives a wrong answer as often as it takes to be believed, and then good ones.
func missAndFinish(t *testing.T, r *walktest.Run, wrong string) {
	t.Helper()
	step, takesOut := r.W.Step().Name, r.W.Step().Set["strand"] == "clear"
	for range 6 { // a number is believed when given twice; a redo gives way after its tries
		if p := r.W.Prompt(r.Now); p.Kind != walk.AskStep || p.Step.Name != step {
			break
		}
		say(t, r, wrong)
	}
	for range 3000 {
		over, err := r.Step()
		if err != nil {
			t.Fatalf("after the wrong answer %q at %s: %v", wrong, step, err)
		}
		if over {
			break
		}
	}
	if takesOut { // a stub that did not come out stays on record, and nothing beside it
		if l := r.W.Ledger(); !r.W.Ended || l.Flags["strand"] == "" || !l.WithoutStub().Empty() {
			t.Fatalf("after %q at %s: %s, %s", wrong, step, r.W.Position(), walk.LedgerLine(l))
		}
		return
	}
	ended(t, r, wrong)
}
