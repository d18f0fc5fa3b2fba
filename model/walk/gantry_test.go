package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// slinger is a machine with a moving bed and a gantry that sinks when its motors let go.
func slinger(lib *procedures.Library, kind ...string) *model.Machine {
	return machine(lib, append([]string{"bedslinger", "rods-steel", "bush-ball"}, kind...)...)
}

// passedOf lists the steps passed in a run, as block/step.
func passedOf(r *walktest.Run) []string {
	var out []string
	for _, e := range r.J.Entries {
		if e.Walk != nil && (e.Walk.What == walk.Passed || e.Walk.What == walk.Missed &&
			e.Walk.Then == "note") {
			out = append(out, e.Walk.ID+"/"+e.Walk.Step)
		}
	}
	return out
}

// TestBlocksOfAGantryAreDrawnUnderPower: with the motors dead and the screws freshly oiled a gantry
// runs down on the hand that draws its block. Both blocks come out after switching on, jogged up by
// 10 mm, before anything else moves.
func TestBlocksOfAGantryAreDrawnUnderPower(t *testing.T) {
	lib := library(t)
	for _, kind := range []string{"open-frame", "enclosed"} {
		t.Run(kind, func(t *testing.T) {
			r := begin(t, lib, slinger(lib, kind), "rods-wipe")
			reach(t, r, "plug-in", "plug")
			if n := r.W.Ledger().Inside["blocks"]; n != 2 {
				t.Fatalf("%d blocks under the gantry before the plug goes in", n)
			}
			reach(t, r, "gantry-free", "quiet")
			if r.W.Believed[model.Power] != "on" || r.W.Ledger().Inside["blocks"] != 2 {
				t.Fatalf("freed with power %s over %v", r.W.Believed[model.Power],
					r.W.Ledger().Inside)
			}
			reach(t, r, "gantry-free", "draw")
			if rep := say(t, r, "1"); rep.Refusal == "" {
				t.Error("one block of two passes")
			}
			finish(t, r)
			steps := passedOf(r)
			on := slices.Index(steps, "switch-on/on")
			if next := slices.IndexFunc(steps[on:], func(s string) bool {
				return s == "gantry-free/draw"
			}); next < 0 || next > 6 {
				t.Errorf("after switching on: %v", steps[on:])
			}
		})
	}
}

// TestAGantryThatDoesNotHoldIsFreedByTwo: a machine that will not jog before homing, and one whose
// motors let go, is unplugged again; one person holds the beam, the other draws the blocks. Then it
// is plugged in anew.
func TestAGantryThatDoesNotHoldIsFreedByTwo(t *testing.T) {
	lib := library(t)
	for _, how := range []string{"will not jog", "sinks or tilts"} {
		t.Run(how, func(t *testing.T) {
			r := begin(t, lib, slinger(lib, "open-frame"), "rods-wipe")
			reach(t, r, "gantry-free", "jog")
			say(t, r, how)
			if b, s := r.W.Block(), r.W.Step(); b.ID != "gantry-free" ||
				s.Variable != model.Power || s.Value != "unplugged" {
				t.Fatalf("goes on at %s/%s", b.ID, s.Name)
			}
			reach(t, r, "gantry-free", "draw-held")
			if r.W.Believed[model.Power] != "unplugged" {
				t.Fatalf("blocks drawn by hand with power %s", r.W.Believed[model.Power])
			}
			finish(t, r)
			if l := r.W.Ledger(); !l.Empty() {
				t.Errorf("left: %v %v", l.Out, l.Inside)
			}
			if r.W.Believed[model.Power] != "on" {
				t.Errorf("power is %s at the end, the session found it on",
					r.W.Believed[model.Power])
			}
		})
	}
}

// TestAGantryThatNeverJogsIsFreedBeforeThePlug: said once of the machine, the two people come
// before the plug.
func TestAGantryThatNeverJogsIsFreedBeforeThePlug(t *testing.T) {
	lib := library(t)
	m := slinger(lib, "open-frame")
	m.Settings["gantry-jog"] = "no"
	r := begin(t, lib, m, "rods-wipe")
	reach(t, r, "gantry-held", "held")
	if p := r.W.Believed[model.Power]; p != "unplugged" {
		t.Fatalf("held with power %s", p)
	}
	if rep := say(t, r, "alone here"); rep.Note == "" && rep.Refusal == "" {
		t.Error("alone is not answered")
	}
	reach(t, r, "plug-in", "plug")
	if n := r.W.Ledger().Inside["blocks"]; n != 0 {
		t.Errorf("%d blocks stand under the gantry", n)
	}
	finish(t, r)
}

// TestAGantryLeftUnpluggedKeepsItsBlocks: a session that finds and leaves the machine without power
// leaves the gantry on its blocks, and they stay in the book.
func TestAGantryLeftUnpluggedKeepsItsBlocks(t *testing.T) {
	lib := library(t)
	r := beginWith(t, lib, slinger(lib, "open-frame"), walk.Start{Ask: true}, lib.Get("rods-wipe"))
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		say(t, r, map[model.Variable]string{model.Power: r.W.Begun.Settings["plug-tag"],
			model.Heat: "20", model.Bed: "on blocks",
			model.Filament: "unloaded", model.Cover: "on"}[r.W.Prompt(r.Now).Variable])
	}
	say(t, r, "2")
	finish(t, r)
	if n := r.W.Ledger().Inside["blocks"]; n != 2 || !r.W.Ended || r.W.Stopped != "" {
		t.Errorf("%d blocks under the gantry at the end, %s", n, r.W.Stopped)
	}
	if slices.ContainsFunc(passedOf(r), func(s string) bool {
		return s == "plug-in/plug" || s == "gantry-held/draw-held"
	}) {
		t.Errorf("the blocks were drawn: %v", passedOf(r))
	}
}

// TestPowerFoundOnOverTheBlocksOfAGantry: said on at a start it is cut before anything else; off,
// the gantry rests on its blocks, and the motors lift it off them as ever.
func TestPowerFoundOnOverTheBlocksOfAGantry(t *testing.T) {
	r := foundOn(t, machineKinds[1], model.Ledger{Inside: map[string]int{"blocks": 2}}, nil,
		"self-check")
	for r.W.Believed[model.Power] == "on" {
		if p := r.W.Prompt(r.Now); p.Block == nil || p.Block.ID != "cut-power" {
			t.Fatalf("under power it asks %s: %s", p.Kind, p.Question)
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	n := len(passedOf(r))
	reach(t, r, "gantry-free", "quiet")
	if r.W.Ledger().Inside["blocks"] != 2 {
		t.Error("the blocks were drawn before the motors held the gantry")
	}
	for _, s := range passedOf(r)[n:] {
		if b, _, _ := strings.Cut(s, "/"); !slices.Contains([]string{"cut-power", "cool-off",
			"unplug", "begin", "lay-out", "plug-in", "switch-on"}, b) {
			t.Errorf("%s before the gantry is free", s)
		}
	}
	finish(t, r)
}

// TestToolsAreCountedAsTheyWere: the tools on the roll at the plug are the tools on the roll when
// the machine closes; where the plug was out before the session, only the person knows.
func TestToolsAreCountedAsTheyWere(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "unplug", "roll")
	say(t, r, "9")
	reach(t, r, "close-door", "inside")
	if rep := say(t, r, "8"); rep.Refusal == "" {
		t.Error("a tool is missing and the door may shut")
	}
	if rep := say(t, r, "9"); rep.Refusal != "" {
		t.Errorf("nine of nine: %s", rep.Refusal)
	}
	finish(t, r)
}

// TestAGantryOnItsStopsIsNotFreed: off and down at its stops, no block is under it: it is not
// jogged off blocks that never were, and nobody counts how many were drawn.
func TestAGantryOnItsStopsIsNotFreed(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, slinger(lib, "open-frame"), "rods-wipe", "self-check")
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		p := r.W.Prompt(r.Now)
		say(t, r, asItWas(r, p.Variable, map[model.Variable]string{model.Power: "unplugged",
			model.Bed: "low"}[p.Variable]))
	}
	finish(t, r)
	steps := passedOf(r)
	if on := slices.Index(steps, "switch-on/on"); on < 0 {
		t.Fatalf("it was not switched on: %v", steps)
	}
	if i := slices.Index(steps, "gantry-free/quiet"); i >= 0 &&
		!slices.Contains(steps[:i], "switch-off/sits") {
		t.Errorf("it is freed of blocks that never were: %v", steps[:i])
	}
}

// TestAHandAtALiveBedIsWarned: blocks go in and come out under power; where the bed is at mains
// voltage, that hand is told so.
func TestAHandAtALiveBedIsWarned(t *testing.T) {
	lib := library(t)
	for id, step := range map[string]string{"gantry-free": "draw", "switch-off": "blocks"} {
		p := lib.Get(id).For(model.NewFeatureSet("bedslinger", "mains-bed"), nil)
		if !slices.ContainsFunc(p.Cautions, func(c model.Caution) bool {
			return c.ID == "mains-bed" && slices.Contains(c.Before, step)
		}) {
			t.Errorf("%s/%s: nobody is told that the bed is live", id, step)
		}
	}
}
