package walk_test

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
)

// TestWhatHangsIsBlockedBeforeAnythingElse: power is cut with a bed or gantry in the air. Its plug
// is out and it is read cold before a hand goes near, and it stands on its blocks before anything
// is counted, brought back or read inside.
func TestWhatHangsIsBlockedBeforeAnythingElse(t *testing.T) {
	for i, look := range []string{"bed", "gantry"} {
		t.Run(look, func(t *testing.T) {
			r := foundOn(t, machineKinds[i], model.Ledger{Out: map[string]int{"cover screws": 1}},
				nil, "rods-wipe")
			reach(t, r, plan.CutPower, look)
			say(t, r, "hangs")
			if s := r.W.Step(); s.Gate != model.State || s.Value != "unplugged" {
				t.Fatalf("over what hangs it goes on at %s", s.Name)
			}
			reach(t, r, plan.CutPower, look+"-cold")
			if p := r.W.Believed[model.Power]; p != "unplugged" {
				t.Errorf("the probe goes in with power %s", p)
			}
			if rep := say(t, r, "46"); rep.Refusal == "" ||
				!strings.Contains(rep.Refusal, "reach under nothing") {
				t.Errorf("at 46 °C: %q", rep.Refusal)
			}
			reach(t, r, plan.CutPower, look+"-block")
			if rep := say(t, r, "0"); rep.Refusal == "" {
				t.Error("no block passes")
			}
			finish(t, r)
		})
	}
}

// TestBrokenOffUnderWhatHangs: after a break the power is asked first, then how it hangs, before
// hands go in.
func TestBrokenOffUnderWhatHangs(t *testing.T) {
	for _, power := range []string{"off", "on"} {
		r := foundOn(t, machineKinds[0], model.Ledger{Out: map[string]int{"cover screws": 1}}, nil,
			"rods-wipe")
		reach(t, r, plan.CutPower, "bed")
		say(t, r, "hangs")
		rep, err := r.W.Resume(r.Context())
		if err := r.Take(rep, err); err != nil {
			t.Fatal(err)
		}
		if p := r.W.Prompt(r.Now); p.Kind != walk.AskState || p.Variable != model.Power {
			t.Fatalf("it asks %s", p.Question)
		}
		say(t, r, power)
		want := map[string]string{"off": "bed", "on": "hands"}[power]
		if b, s := r.W.Block(), r.W.Step(); b.ID != plan.CutPower || s.Name != want {
			t.Errorf("said %s it goes on at %s/%s", power, b.ID, s.Name)
		}
		powerless(t, r)
		finish(t, r)
	}
}

// TestFoundOnWhilePlugIsSought: the plug is to come out under what hangs, and power turns out to be
// on: all begins again.
func TestFoundOnWhilePlugIsSought(t *testing.T) {
	r := foundOn(t, machineKinds[0], model.Ledger{Out: map[string]int{"cover screws": 1}}, nil,
		"rods-wipe")
	reach(t, r, plan.CutPower, "bed")
	say(t, r, "hangs")
	say(t, r, "on")
	if b, s := r.W.Block(), r.W.Step(); b.ID != plan.CutPower || s.Name != "hands" {
		t.Errorf("it goes on at %s/%s", b.ID, s.Name)
	}
	powerless(t, r)
	finish(t, r)
}

// TestNobodyGoesNearBeforeItIsAired: with vapour in the air and power cut from away, the bed is not
// looked at closely and nothing is reached before door and top stood open for ten minutes.
func TestNobodyGoesNearBeforeItIsAired(t *testing.T) {
	drying := model.Condition{model.Vapour: "drying", model.Sensor: "proved"}
	for i, look := range []string{"bed", "gantry"} {
		for _, how := range []string{"circuit at the board", "plug or strip, away"} {
			r := foundOn(t, machineKinds[i], model.Ledger{}, drying, "self-check")
			began := r.Now
			reach(t, r, plan.CutVapour, "reach")
			say(t, r, how)
			reach(t, r, plan.CutVapour, look)
			if d := r.Now.Sub(began); d < 10*time.Minute {
				t.Errorf("%s, %s: looked at %s after power was found on", look, how, d)
			}
			if p := r.W.Believed[model.Power]; p != "off" {
				t.Errorf("power is %s", p)
			}
			say(t, r, "hangs")
			reach(t, r, plan.CutVapour, look+"-block")
			if p := r.W.Believed[model.Power]; p != "unplugged" {
				t.Errorf("blocked with power %s", p)
			}
			finish(t, r)
		}
	}
}

// TestNoPlaceToCutItFromAway: nobody goes to a live machine that stands in vapour, not even to open
// its door. The first answer is the board; where not even that can be reached, the session stops
// there.
func TestNoPlaceToCutItFromAway(t *testing.T) {
	drying := model.Condition{model.Vapour: "drying", model.Sensor: "proved"}
	r := foundOn(t, machineKinds[0], model.Ledger{}, drying, "self-check")
	reach(t, r, plan.CutVapour, "reach")
	if first := r.W.Step().Options[0].Is; first != "circuit at the board" {
		t.Errorf("first it offers %q", first)
	}
	say(t, r, "neither")
	for _, word := range []string{"leave the room", "call for help"} {
		if !strings.Contains(strings.ToLower(r.W.Stopped), word) {
			t.Errorf("it does not say %q: %q", word, r.W.Stopped)
		}
	}
	for range 3 { // still on, and nobody is sent to it
		p := r.W.Prompt(r.Now)
		rep := say(t, r, "on")
		if p.Kind != walk.AskState || p.Variable != model.Power ||
			!strings.Contains(rep.Refusal, "sparks in vapour") ||
			!strings.Contains(rep.Refusal, "two arm's lengths away") {
			t.Errorf("over a live machine in vapour it asks %s, and answers %q", p.Question,
				rep.Refusal)
		}
	}
	say(t, r, "off") // cut by whoever was called; only now is it gone near, to air it
	finishStopped(t, r)
}

// TestStillFedInVapour: who answers that it is still on is not sent to the machine's own switch.
func TestStillFedInVapour(t *testing.T) {
	drying := model.Condition{model.Vapour: "drying", model.Sensor: "proved"}
	r := foundOn(t, machineKinds[0], model.Ledger{}, drying, "self-check")
	reach(t, r, plan.CutVapour, "away")
	if rep := say(t, r, "on"); rep.Refusal == "" ||
		strings.Contains(rep.Refusal, "machine's switch") {
		t.Errorf("said on: %q", rep.Refusal)
	}
	reach(t, r, plan.CutVapour, "door")
}
