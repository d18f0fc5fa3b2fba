package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
)

// TestAHeatedChangerIsDeadAndColdBeforeHands: a changer that dries has a mains supply and heat of
// its own: its plug is asked for by itself, and it is read cold (45 °C, as every part a hand
// touches) before a roll is lifted.
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
		if p := lib.Get(id); p.Require[model.Filament] != "unloaded" ||
			p.Require[model.Heat] != "cold" {
			t.Errorf("%s requires %v", id, p.Require)
		}
	}
}

// TestAFanBesideMainsIsHandedOn: mains terminals are for a qualified person. What nobody knows
// counts as mains, and a cover found wrong goes back on.
func TestAFanBesideMainsIsHandedOn(t *testing.T) {
	lib := library(t)
	for _, x := range [][2]string{{"bay", "mains terminals too"}, {"bay", "not known"},
		{"seen-mains", "mains is there"}} {
		r := begin(t, lib, machine(lib, "full"), "fan-swap")
		reach(t, r, "fan-swap", "which")
		say(t, r, "board or chamber fan")
		reach(t, r, "fan-swap", x[0])
		say(t, r, x[1])
		for range 2000 {
			if s := r.W.Step(); s != nil && r.W.Block().ID == "fan-swap" &&
				(s.Name == "part" || s.Name == "lift-out") {
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

// TestTheDryerKeepsTheLowestLimit: each limit is the highest setting taken, and no polymer named
// with it bears less by the table of materials (ABS and card spools 80 °C, HIPS 70 °C: from
// memory).
func TestTheDryerKeepsTheLowestLimit(t *testing.T) {
	lib := library(t)
	for answer, high := range map[string]string{"unknown roll or spool: 45": "46",
		"HIPS, filament or spool: 70":           "71",
		"ABS, ASA, PA12; ABS or card spool: 80": "81", "PC, PPA, PPS; on a spool of PC: 100": "101"} {
		r := begin(t, lib, machine(lib, "full"), "dry-filament")
		reach(t, r, "dry-filament", "limit")
		say(t, r, answer)
		for range 20 {
			if s := r.W.Step(); s != nil && s.Gate == model.Measure &&
				s.Quantity == "dryer setting" {
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

// TestARoundedScrewIsCountedOut: a socket that rounds with other screws out leaves those in the
// book: all come back, and no gear counts as renewed.
func TestARoundedScrewIsCountedOut(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "gear-swap")
	reach(t, r, "gear-swap", "undo")
	say(t, r, "2")
	reach(t, r, "gear-swap", "all-out")
	say(t, r, "one rounds")
	if s := r.W.Step(); s == nil || s.Name != "cheek" {
		t.Fatal("after a rounded socket the screws that are out are not asked back")
	}
	if n, has := r.W.Wanted(); !has || n != 2 {
		t.Errorf("%d screws are asked back", n)
	}
	finish(t, r)
	for _, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.Step == "mesh" {
			t.Error("the mesh of gears that were never fitted is asked")
		}
	}
}

// TestNoHandAtLeverAndTubeWhileAHeaterIsSet: common practice: after the pulls every heater is at
// zero before lever and tube are handled, they are back before filament is fed, and the last word
// is a reading of the hot end.
func TestNoHandAtLeverAndTubeWhileAHeaterIsSet(t *testing.T) {
	p := library(t).Get("cold-pull")
	var order []string
	for _, s := range p.Steps {
		order = append(order, s.Name)
	}
	last := -1
	for _, name := range []string{"tube", "pull", "zero-mid", "lever", "tube-back", "feed",
		"zero-end", "hot-end"} {
		at := slices.Index(order, name)
		if at <= last {
			t.Errorf("%s stands at %d, after a step at %d: %v", name, at, last, order)
		}
		last = at
	}
}
