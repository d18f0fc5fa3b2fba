package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/model"
)

// TestABareMainsBedIsUnplugged: with the plate off the terminals of a bed on mains lie open to a
// hand, and the switch of a machine parts one pole at best (common practice).
func TestABareMainsBedIsUnplugged(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, machineKinds[2]...), "plate-wash")
	for _, step := range []string{"read", "lift", "bed"} {
		reach(t, r, "plate-wash", step)
		if is := r.W.Believed[model.Power]; is != "unplugged" {
			t.Fatalf("%s of a bed on mains with power %s", step, is)
		}
	}
	finish(t, r)
	if r = begin(t, lib, machine(lib, "full"), "plate-wash"); true {
		reach(t, r, "plate-wash", "read")
	}
	if is := r.W.Believed[model.Power]; is != "off" {
		t.Errorf("a bed of low voltage is washed with power %s: switched off is enough", is)
	}
}

// TestGlassIsNeverBent: spring steel is bent to let a print go; glass and every other rigid plate
// breaks. It comes off a cold bed, and chipped or cracked it is out of use (common practice; the
// figure of 35 °C is from memory).
func TestGlassIsNeverBent(t *testing.T) {
	lib := library(t)
	for _, plate := range []string{"glass", "other rigid plate"} {
		r := begin(t, lib, machine(lib, "full"), "plate-wash")
		reach(t, r, "plate-wash", "surface")
		say(t, r, plate)
		reach(t, r, "plate-wash", "read-rigid")
		if say(t, r, "41"); r.W.Step().Name != "read-rigid" {
			t.Fatalf("%s is taken off a bed at 41 °C", plate)
		}
		reach(t, r, "plate-wash", "lift-rigid")
		rep := say(t, r, "plastic on it")
		if text := rep.Refusal + rep.Note; !strings.Contains(text, "Never bend") {
			t.Errorf("%s with plastic on it: %q", plate, text)
		}
		finish(t, r)
		for _, e := range r.J.Entries {
			if e.Walk != nil && e.Walk.Step == "lift" {
				t.Errorf("%s is lifted as spring steel is", plate)
			}
		}

		r = begin(t, lib, machine(lib, "full"), "plate-wash")
		reach(t, r, "plate-wash", "surface")
		say(t, r, plate)
		reach(t, r, "plate-wash", "edges")
		stopAt(t, r, "chipped or cracked")
		finishStopped(t, r)
	}
}

// TestABrokenPlateOnlyCovers: found broken once washed, it goes back as a cover and the machine is
// stopped, unless a sound one goes in.
func TestABrokenPlateOnlyCovers(t *testing.T) {
	lib := library(t)
	for answer, stops := range map[string]bool{"sound plate": false, "the broken one": true} {
		r := begin(t, lib, machine(lib, "full"), "plate-wash")
		reach(t, r, "plate-wash", "surface")
		say(t, r, "glass")
		reach(t, r, "plate-wash", "look-rigid")
		say(t, r, "chipped or cracked")
		reach(t, r, "plate-wash", "in-place")
		say(t, r, answer)
		finish(t, r)
		if (r.W.Stopped != "") != stops {
			t.Errorf("%s: stopped %q", answer, r.W.Stopped)
		}
	}
}
