package walk_test

import (
	"testing"

	"bench/oilcan/model"
)

// TestAHeatedChangerIsDeadAndColdBeforeHands: a changer that dries has a mains supply and heat of its own: its plug is
// asked for by itself, and it is read cold (45 °C, as every part a hand touches) before a roll is lifted.
func TestAHeatedChangerIsDeadAndColdBeforeHands(t *testing.T) {
	lib := library(t)
	for _, id := range []string{"feed-path", "feed-path-look"} {
		r := begin(t, lib, machine(lib, machineKinds[2]...), id)
		reach(t, r, id, "warm")
		say(t, r, "71")
		if s := r.W.Step(); s == nil || s.Name != "warm" {
			t.Fatalf("%s goes on over a changer at 71 °C", id)
		}
		r = begin(t, lib, machine(lib, machineKinds[2]...), id)
		reach(t, r, id, "supply")
		say(t, r, "fail")
		finish(t, r)
		if r.W.Stopped == "" {
			t.Errorf("%s goes on with the changer's plug in", id)
		}
		if p := lib.Get(id); p.Require[model.Filament] != "unloaded" || p.Require[model.Heat] != "cold" {
			t.Errorf("%s requires %v", id, p.Require)
		}
	}
}

// TestAFanBesideMainsIsHandedOn: mains terminals are for a qualified person. What nobody knows counts as mains, and a
// cover found wrong goes back on.
func TestAFanBesideMainsIsHandedOn(t *testing.T) {
	lib := library(t)
	for _, x := range [][2]string{{"bay", "mains terminals too"}, {"bay", "not known"}, {"seen-mains", "mains is there"}} {
		r := begin(t, lib, machine(lib, "full"), "fan-swap")
		reach(t, r, "fan-swap", "which")
		say(t, r, "board or chamber fan")
		reach(t, r, "fan-swap", x[0])
		say(t, r, x[1])
		for range 2000 {
			if s := r.W.Step(); s != nil && r.W.Block().ID == "fan-swap" && (s.Name == "part" || s.Name == "lift-out") {
				t.Fatalf("%s: the fan is taken out beside mains", x[1])
			}
			if r.W.Ended {
				break
			}
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		ended(t, r, x[1])
	}
}

// TestTheDryerKeepsTheLowestLimit: each limit is the highest setting taken, and no polymer named with it bears less by
// the table of materials (ABS and card spools 80 °C, HIPS 70 °C: from memory).
func TestTheDryerKeepsTheLowestLimit(t *testing.T) {
	lib := library(t)
	for answer, high := range map[string]string{"unknown roll or spool: 45": "46", "HIPS, filament or spool: 70": "71",
		"ABS, ASA, PA12; ABS or card spool: 80": "81", "PC, on a spool of PC: 100": "101"} {
		r := begin(t, lib, machine(lib, "full"), "dry-filament")
		reach(t, r, "dry-filament", "limit")
		say(t, r, answer)
		for range 20 {
			if s := r.W.Step(); s != nil && s.Gate == model.Measure && s.Quantity == "dryer setting" {
				break
			}
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		at := r.W.Step().Name
		say(t, r, high)
		if s := r.W.Step(); s == nil || s.Name != at {
			t.Errorf("%q: a dryer at %s °C is taken", answer, high)
		}
	}
}
