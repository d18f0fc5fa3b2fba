package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model/walk"
)

// TestTheShopGoesBackOneAnswer: a row and the hold below it are two answers though one look at the
// machine sees both. Taken back, the hold alone is taken back, and what the row counted still says
// how many go back in.
func TestTheShopGoesBackOneAnswer(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, machineKinds[1]...), "tube-wear")
	r.Pace = walk.Pages
	now, n := newShop(), 0
	look := func() {
		now = now.take(r.W, r.J.Entries[n:])
		n = len(r.J.Entries)
	}
	for !slices.Contains(passedOf(r), "tube-wear/pull") {
		if over, err := r.PageStep(); err != nil || over {
			t.Fatalf("%v: the tubes are not drawn", err)
		}
		look()
	}
	if rep := say(t, r, "back"); rep.Refusal != "" {
		t.Fatal(rep.Refusal)
	}
	look()
	if now.typed["tube-wear/number"] == 0 || now.has["feed tubes"] != 0 {
		t.Errorf("%d tubes numbered, %d out", now.typed["tube-wear/number"], now.has["feed tubes"])
	}
	for !r.W.Ended {
		if _, err := r.PageStep(); err != nil {
			t.Fatal(err)
		}
		look()
	}
	if now.has["feed tubes"] != 0 {
		t.Errorf("%d tubes are out, and the session is closed", now.has["feed tubes"])
	}
}

// TestTheShopGoesBackOverWhatWasDoneInAWait: that is an answer as any other. Taken back with the
// one before the wait, what was counted before both still stands.
func TestTheShopGoesBackOverWhatWasDoneInAWait(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	now, n := newShop(), 0
	look := func() {
		now = now.take(r.W, r.J.Entries[n:])
		n = len(r.J.Entries)
	}
	toWait(t, r, "cool", "shed")
	look()
	power, before := now.power, len(now.before)
	say(t, r, "#1 all there")
	look()
	if len(now.before) != before+1 {
		t.Fatalf("%d answers to go back over, %d before one was given in the wait", len(now.before),
			before)
	}
	say(t, r, "back")
	look()
	if now.power != power || len(now.before) != before {
		t.Errorf("power %q, before it %q; %d answers to go back over, not %d", now.power, power,
			len(now.before), before)
	}
}
