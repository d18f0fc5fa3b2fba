package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// standing gives how a caution stands at the current step: in full, as its brief, or not at all.
func standing(r *walktest.Run, id string) string {
	cs := r.W.ShownCautions(r.Context())
	if pg := r.W.Page(r.Context()); pg != nil {
		cs = append(slices.Clone(pg.Cautions), pg.Beside...)
	}
	for _, c := range cs {
		switch {
		case c.ID == id && c.Whole:
			return "whole"
		case c.ID == id:
			return "brief"
		}
	}
	return ""
}

// TestACautionStandsInFullWhereItIsWorse: hot or live, what burns or moves stands in full again;
// what harms no more there stays a brief.
func TestACautionStandsInFullWhereItIsWorse(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check", "rods-wipe")
	reach(t, r, "blade-check", "arm")
	if is := standing(r, "blade"); is != "whole" {
		t.Errorf("the blade's first step: %q", is)
	}
	reach(t, r, "rods-wipe", "carry-out")
	if is := standing(r, "heap"); is != "whole" {
		t.Errorf("the wipes, first time: %q", is)
	}
	reach(t, r, "owed-hot", "blade-check.three-cuts")
	if is := standing(r, "blade"); is != "" {
		t.Errorf("the blade on a closed head: %q", is)
	}
	if is := standing(r, "moves"); is == "" {
		t.Error("it moves, and nothing says so")
	}
	reach(t, r, "close-out", "wipes")
	if is := standing(r, "heap"); is != "brief" {
		t.Errorf("the wipes on a live machine: %q", is)
	}
}

// TestACautionThatDoesNotApplyIsNotShown: what hangs on an answer stands where it was given; no hot
// part is warned of while the hot end is known to be cold, save where it is read.
func TestACautionThatDoesNotApplyIsNotShown(t *testing.T) {
	lib := library(t)
	for with, want := range map[string]string{"electric blower": "", "non-flammable can": "whole"} {
		r := begin(t, lib, machine(lib, "full"), "fans-blow", "wiper-check")
		reach(t, r, "begin", "blow-with")
		say(t, r, with)
		reach(t, r, "cover-off", "probe")
		if standing(r, "hot") == "" {
			t.Error("the probe is held to a hot end that nothing warns of")
		}
		reach(t, r, "fans-blow", "blow")
		if is := standing(r, "spit"); is != want {
			t.Errorf("%s: the can that spits stands %q", with, is)
		}
		if with == "electric blower" {
			reach(t, r, "wiper-check", "strands")
			if is := standing(r, "hot"); is != "" {
				t.Errorf("read cold, and hot stands %q", is)
			}
		}
	}
}

// TestWhatTheLineSaysIsNotSaidTwice: a NOTICE stands in full the first time; then it is left out
// beside a line that says it.
func TestWhatTheLineSaysIsNotSaidTwice(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "wipe-rods")
	if is := standing(r, "push"); is != "whole" {
		t.Errorf("first: %q", is)
	}
	reach(t, r, "rods-wipe", "travel")
	if is := standing(r, "push"); is != "" {
		t.Errorf("beside a line that says slowly: %q", is)
	}
	if standing(r, "nip") == "" {
		t.Error("what hurts a person is left to the line")
	}
}

// TestAWaitIsTheLastRowOfItsPage: while it runs the page it ends stays, with its rows done; so does
// the one behind which the old part is asked for.
func TestAWaitIsTheLastRowOfItsPage(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "filter-swap", "gears-blow",
		"return-to-service")
	r.Pace = walk.Pages
	var waits, ends int
	for range 900 {
		p, pg := r.W.Prompt(r.Now), r.W.Page(r.Context())
		switch {
		case p.Kind == walk.AskWait && pg != nil:
			waits++
			if pg.Wait != p.Step || !pg.Asked() || len(pg.Rows) == 0 {
				t.Errorf("the page of %s: %+v", p.Step.Name, pg)
			}
		case p.Kind == walk.AskEnd:
			ends++
			if pg == nil || !pg.End || pg.Block.ID != "filter-swap" || !pg.Asked() ||
				len(pg.Rows) < 4 {
				t.Errorf("the old part is asked for beside %+v", pg)
			}
		}
		if done, err := r.PageStep(); err != nil {
			t.Fatal(err)
		} else if done {
			break
		}
	}
	if waits < 2 || ends != 1 {
		t.Errorf("%d waits with a page, %d questions of an old part", waits, ends)
	}
}
