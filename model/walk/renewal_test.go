package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk/walktest"
)

// mayHold keeps answering a step until the walk leaves it.
func mayHold(t *testing.T, r *walktest.Run, answer string) {
	t.Helper()
	at := r.W.Step().Name
	for range 8 {
		if s := r.W.Step(); r.W.Stopped != "" || s == nil || s.Name != at {
			return
		}
		say(t, r, answer)
	}
	t.Fatalf("%q is asked again and again after %q", at, answer)
}

// TestARodsEndsAreCountedAndWhatItCarriesIsHeld: a bed or beam tips when its rod is drawn (common
// practice), and a rod whose end screws stay behind in the tray walks out of its seat.
func TestARodsEndsAreCountedAndWhatItCarriesIsHeld(t *testing.T) {
	lib := library(t)
	at := func(step string) *walktest.Run {
		r := begin(t, lib, machine(lib, "full"), "bearing-swap")
		reach(t, r, "bearing-swap", step)
		return r
	}
	r := at("rod-ends")
	say(t, r, "4")
	reach(t, r, "bearing-swap", "ends-in")
	if n, has := r.W.Wanted(); !has || n != 4 {
		t.Errorf("%d end screws are asked back of 4", n)
	}
	finish(t, r)

	r = at("held")
	mayHold(t, r, "it hangs free")
	for _, e := range finished(t, r) {
		if e == "bearing-swap/rod-ends" || e == "bearing-swap/rod" {
			t.Errorf("%s of a rod whose load hangs free", e)
		}
	}

	r = at("rod-ends")
	say(t, r, "3")
	reach(t, r, "bearing-swap", "ends-free")
	say(t, r, "one is rounded")
	if n, has := r.W.Wanted(); r.W.Step().Name != "ends-in" || !has || n != 3 {
		t.Errorf("after a rounded socket %s wants %d", r.W.Step().Name, n)
	}
	for _, e := range finished(t, r) {
		if e == "bearing-swap/draw" || e == "bearing-swap/new-in" {
			t.Errorf("%s though the rod stayed in", e)
		}
	}
}

// finished walks a session to its end and gives the steps passed in it.
func finished(t *testing.T, r *walktest.Run) []string {
	t.Helper()
	finish(t, r)
	var out []string
	for _, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.What == "passed" {
			out = append(out, e.Walk.ID+"/"+e.Walk.Step)
		}
	}
	return out
}

// TestNoRenewalBeginsWithHalfOfWhatItTakes: both sides of an axis and both belts of a pair go
// together, so one alone opens nothing (common practice).
func TestNoRenewalBeginsWithHalfOfWhatItTakes(t *testing.T) {
	lib := library(t)
	for _, x := range [][2]string{{"bearing-swap", "stock"}, {"belt-swap", "stock-pair"}} {
		r := begin(t, lib, machine(lib, "full"), x[0])
		reach(t, r, x[0], x[1])
		mayHold(t, r, "1")
		for _, e := range finished(t, r) {
			if e == x[0]+"/photo" {
				t.Errorf("%s is begun with one new part", x[0])
			}
		}
	}
	r := begin(t, lib, machine(lib, machineKinds[1]...), "belt-swap")
	reach(t, r, "belt-swap", "stock")
	say(t, r, "1")
	if s := r.W.Step(); s.Name != "photo" {
		t.Errorf("one belt for one place is not enough: %s", s.Name)
	}
}

// TestARoundedBeltScrewRenewsNothing: what is out goes back, and no belt counts as renewed.
func TestARoundedBeltScrewRenewsNothing(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "belt-swap")
	reach(t, r, "belt-swap", "free-ends")
	say(t, r, "3")
	reach(t, r, "belt-swap", "ends-free")
	say(t, r, "one is rounded")
	if n, has := r.W.Wanted(); r.W.Step().Name != "fit-ends" || !has || n != 3 {
		t.Errorf("after a rounded socket %s wants %d", r.W.Step().Name, n)
	}
	if slices.Contains(finished(t, r), "belt-swap/travel") {
		t.Error("a belt that never came off is judged as new")
	}
}

// TestWithoutABlockNobodyReachesBelowTheBed: asked over and over it stops in the end.
func TestWithoutABlockNobodyReachesBelowTheBed(t *testing.T) {
	lib := library(t)
	for _, stop := range []string{"yes", "no"} {
		m := machine(lib, "full")
		m.Settings["stop-holds"] = stop
		r := begin(t, lib, m, "screws-oil")
		reach(t, r, "screws-oil", "block-in")
		mayHold(t, r, "0")
		finishStopped(t, r)
		if r.W.Stopped == "" {
			t.Errorf("stop holds %s: no block, and it goes on", stop)
		}
	}
}

// TestACarbonRodIsFeltByABudFirst: a frayed one drives splinters through glove and wipe, so no hand
// and no wipe goes along it; where plug, door, top and window cannot be as they must there is no
// solvent.
func TestACarbonRodIsFeltByABudFirst(t *testing.T) {
	lib := library(t)
	p := lib.Get("rods-wipe").For(model.NewFeatureSet("rods-carbon", "bush-polymer"), nil)
	bud := slices.IndexFunc(p.Steps, func(s model.Step) bool { return s.Name == "bud-first" })
	wipe := slices.IndexFunc(p.Steps, func(s model.Step) bool { return s.Name == "wipe-rods" })
	if bud < 0 || bud > wipe {
		t.Fatalf("the bud is step %d, the wipe %d", bud, wipe)
	}
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "bud-first")
	say(t, r, "snags")
	if slices.Contains(finished(t, r), "rods-wipe/wipe-rods") {
		t.Error("a frayed rod is wiped by hand")
	}
	r = begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "dampen")
	mayHold(t, r, "fail")
	finish(t, r)
	if r.W.Stopped == "" || r.W.Believed[model.Vapour] == "drying" {
		t.Errorf("stopped %q, vapour %s", r.W.Stopped, r.W.Believed[model.Vapour])
	}
}

// TestARoundedPadOrPlateScrewRenewsNothing: what is out goes back by count, and nothing counts as
// new or as done.
func TestARoundedPadOrPlateScrewRenewsNothing(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "wiper-check")
	for step, answer := range map[string]string{"judge": "torn"} {
		reach(t, r, "wiper-check", step)
		say(t, r, answer)
	}
	reach(t, r, "wiper-check", "undo")
	say(t, r, "1")
	reach(t, r, "wiper-check", "old-off")
	say(t, r, "a screw is rounded")
	if n, has := r.W.Wanted(); r.W.Step().Name != "screws-in" || !has || n != 1 {
		t.Errorf("after a rounded socket %s wants %d", r.W.Step().Name, n)
	}
	finish(t, r)
	if slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool { return e.Swap != nil }) {
		t.Error("a pad that stayed on is on record as renewed")
	}

	m := machine(lib, "full")
	m.Settings["gear-plate"] = "plate, 2 mm key"
	r = begin(t, lib, m, "gears-blow")
	reach(t, r, "gears-blow", "plate-off")
	say(t, r, "3")
	reach(t, r, "gears-blow", "plate-lift")
	say(t, r, "a screw is rounded")
	if n, has := r.W.Wanted(); r.W.Step().Name != "screws-on" || !has || n != 3 {
		t.Errorf("after a rounded socket %s wants %d", r.W.Step().Name, n)
	}
	for _, e := range finished(t, r) {
		if e == "gears-blow/blow" || e == "gears-blow/teeth" {
			t.Errorf("%s through a plate that stayed on", e)
		}
	}
}

// TestAFilterThatStandsProudHasAWayOut: tried again three times it is in all the same, off the
// stock, and on record as a finding.
func TestAFilterThatStandsProudHasAWayOut(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "filter-swap")
	reach(t, r, "filter-swap", "fit")
	for range 4 {
		say(t, r, "stands proud")
	}
	if s := r.W.Step(); s == nil || s.Name == "fit" {
		t.Fatal("after four tries it is asked for again")
	}
	finish(t, r)
	if !r.W.Ledger().Empty() || !slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Swap != nil && e.Swap.Part == "filter"
	}) {
		t.Errorf("out still: %v; the new filter is not on record", r.W.Ledger())
	}
}

// TestABladeThatWillNotComeStaysIn: tried three times the screw goes back over it, nothing is out
// and none counts as new.
func TestABladeThatWillNotComeStaysIn(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "blade-check", "draw")
	for range 4 {
		say(t, r, "will not come")
	}
	if s := r.W.Step(); s == nil || s.Name != "screw-same" {
		t.Fatalf("the blade sits fast, and it goes on at %v", s)
	}
	say(t, r, "in its thread")
	if l := r.W.Ledger(); l.Out["blade"]+l.Out["arm screw"] > 0 {
		t.Errorf("still out: %v", l)
	}
	finish(t, r)
	if slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool { return e.Swap != nil }) {
		t.Error("a blade that stayed in is on record as renewed")
	}
}

// TestTheFirstScrewMayRound: none came out, so none is missing, and nothing is asked for below what
// is still screwed on.
func TestTheFirstScrewMayRound(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Settings["gear-plate"] = "plate, 2 mm key"
	for _, x := range [][5]string{{"gears-blow", "plate-off", "plate-lift", "screws-on", ""},
		{"wiper-check", "undo", "old-off", "screws-in", "torn"}} {
		r := begin(t, lib, m, x[0])
		if x[4] != "" {
			reach(t, r, x[0], "judge")
			say(t, r, x[4])
		}
		reach(t, r, x[0], x[1])
		say(t, r, "0")
		if s := r.W.Step(); s == nil || s.Name != x[2] {
			t.Fatalf("%s: no screw out, and it goes on at %v", x[0], s)
		}
		say(t, r, "a screw is rounded")
		if n, has := r.W.Wanted(); r.W.Step().Name != x[3] || !has || n != 0 {
			t.Errorf("%s: %s wants %d", x[0], r.W.Step().Name, n)
		}
		say(t, r, "0")
		if l := r.W.Ledger(); l.Out["gear plate"]+l.Out["gear plate screws"]+
			l.Out["pad screws"] > 0 {
			t.Errorf("%s: still out: %v", x[0], l)
		}
		finish(t, r)
	}
}
