package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// TestSetUpsWithBadAnswers misses each gate of the set-up actions that open and close a machine in
// turn, and then answers well: whatever is out by then, the session comes to an end with nothing
// out, or stopped.
func TestSetUpsWithBadAnswers(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full", "lid-changer", "changer-dryer")
	for _, id := range []string{"changer-off", "top-off", "cover-off", "cover-on", "top-on",
		"changer-on", "close-door", "plug-in"} {
		t.Run(id, func(t *testing.T) {
			asked := map[string]bool{}
			missEach(t, begin(t, lib, m, "fans-blow", "belts-reset"), id, func(s *model.Step) bool {
				// each once
				was := asked[s.Name]
				asked[s.Name] = true
				return !was
			})
		})
	}
}

// TestARoundedCoverScrewStaysIn: what lies behind the cover waits, the screws that are out go back,
// all else of the session is done, and the machine is not locked for it.
func TestARoundedCoverScrewStaysIn(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow", "rods-wipe")
	reach(t, r, "cover-off", "screws")
	say(t, r, "1")
	reach(t, r, "cover-off", "lift")
	say(t, r, "screw rounded, still in")
	reach(t, r, "cover-off", "screws-back")
	if n, has := r.W.Wanted(); !has || n != 1 {
		t.Errorf("%d screws are asked back", n)
	}
	finish(t, r)
	if r.W.Stopped != "" {
		t.Error("a rounded screw locks the machine")
	}
	done := careOf(&r.J, "done")
	if slices.Contains(done, "fans-blow") || !slices.Contains(done, "rods-wipe") {
		t.Errorf("done are %v", done)
	}
	for _, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.ID == "cover-on" && e.Walk.What == walk.Passed {
			t.Fatal("a cover that never came off is put back")
		}
	}
}

// TestABrokenLatchEndsWithTheTubesOut: the lead's latch breaks when the tubes are out already; both
// ways to say so lead on.
func TestABrokenLatchEndsWithTheTubesOut(t *testing.T) {
	lib := library(t)
	for answer, stops := range map[string]bool{"parted, its latch broken": false,
		"it will not part": true} {
		r := begin(t, lib, machine(lib, "full", "lid-changer"), "belts-reset")
		reach(t, r, "changer-off", "lead")
		for range 5 {
			if s := r.W.Step(); s == nil || s.Name != "lead" {
				break
			}
			say(t, r, answer)
		}
		finish(t, r)
		if (r.W.Stopped != "") != stops {
			t.Errorf("%s: stopped %q", answer, r.W.Stopped)
		}
		if stops {
			continue
		}
		if !slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
			return e.Finding != nil && e.Finding.Step == "lead"
		}) {
			t.Error("a broken latch leaves no finding")
		}
		if r.W.End == nil || r.W.End.State != "ready" {
			t.Errorf("handed back as %+v", r.W.End)
		}
	}
}

// TestFilamentInTheTubeIsNotTheFilamentInTheHead: a head looked through says nothing of the tubes,
// nor clear tubes of the head; what is cut above the head leaves a stub in it, and the work in the
// head asks.
func TestFilamentInTheTubeIsNotTheFilamentInTheHead(t *testing.T) {
	p := map[string]string{}
	for _, x := range append(library(t).All(), library(t).SetUps()...) {
		for _, s := range x.Steps {
			p[x.ID+"/"+s.Name] = s.Known
		}
	}
	for step, want := range map[string]string{"unload/left": "strand",
		"gears-blow/strand": "strand", "blade-check/strand": "strand",
		"gear-swap/strand": "strand", "unload/slots": "tube-clear", "changer-off/strand": "tube-clear"} {
		if p[step] != want {
			t.Errorf("%s makes known %q, not %q", step, p[step], want)
		}
	}
}

// TestTubesAtTheHeadAreCountedAgainstTheMachine: how many come into the toolhead is asked once; one
// left hanging does not pass as all of them, and a number that was wrong is put right there.
func TestTubesAtTheHeadAreCountedAgainstTheMachine(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Settings["head-tubes"] = "4"
	r := begin(t, lib, m, "rods-wipe")
	reach(t, r, "changer-off", "tubes")
	say(t, r, "3")
	if b, s := r.W.Block(), r.W.Step(); b.ID != "changer-off" || s.Name != "tubes" {
		t.Fatalf("3 of 4 tubes out, and it goes on at %s/%s", b.ID, s.Name)
	}
	say(t, r, "4")
	if n := r.W.Ledger().Out["tubes"]; n != 4 {
		t.Errorf("%d tubes out", n)
	}
	finish(t, r)
}
