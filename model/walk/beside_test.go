package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model/walk"
)

// TestReadingsShareAScreen: hot end, bed and chamber are read one after the other with nothing done
// between; they stand on one screen, each is answered for itself, and one that is too hot keeps the
// next from being answered.
func TestReadingsShareAScreen(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "cool", "hot-end")
	for n, name := range []string{"hot-end", "bed", "chamber"} {
		rows := r.W.Together()
		if len(rows) != 3 || rows[n].Step.Name != name || !rows[n].Now {
			t.Fatalf("at %s stand %+v", name, rows)
		}
		for i, row := range rows {
			if row.Done != (i < n) {
				t.Errorf("at %s: %s done %v", name, row.Step.Name, row.Done)
			}
		}
		say(t, r, "60")
		if s := r.W.Step(); s.Name != name {
			t.Fatalf("60 °C passed at %s", name)
		}
		say(t, r, "30")
	}
	if r.W.Together() != nil {
		t.Error("what comes behind the readings shares their screen")
	}
}

// TestNoBlockIsCountedWhereNoneStood: said to be high, the bed stands on no block, and nobody
// counts blocks before the door is shut; after a block was put in and drawn again, its own count
// says so.
func TestNoBlockIsCountedWhereNoneStood(t *testing.T) {
	lib := library(t)
	for _, ids := range [][]string{{"rods-wipe"}, {"screws-oil"}} {
		r := begin(t, lib, machine(lib, "full"), ids...)
		reach(t, r, "close-door", "inside")
		if !passedKnown(r, "blocks-bed") {
			t.Errorf("%v: blocks were counted again", ids)
		}
		finish(t, r)
	}
}

// TestBlocksAreCountedAfterABreakWithOneIn: broken off with the block under the bed, it is counted.
func TestBlocksAreCountedAfterABreakWithOneIn(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "screws-oil")
	reach(t, r, "screws-oil", "onto")
	rep, err := r.W.Resume(r.Context())
	take(t, r, rep, err)
	if rows := r.W.StateRows(); !slices.ContainsFunc(rows, func(x walk.StateRow) bool {
		return x.Item == "in:block"
	}) {
		t.Errorf("the block is not asked for: %+v", rows)
	}
}

// TestAPageIsGoneBehindItsHold: once what stands behind the rows is answered, they and their
// cautions are off the screen.
func TestAPageIsGoneBehindItsHold(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	r.Pace = walk.Pages
	reach(t, r, "close-door", "inside")
	if pg := r.W.Page(r.Context()); pg == nil || pg.Hold == nil || pg.Hold.Name != "inside" {
		t.Fatalf("the page is %+v", pg)
	}
	if _, err := r.Step(); err != nil {
		t.Fatal(err)
	}
	if pg := r.W.Page(r.Context()); pg != nil {
		t.Errorf("%s stands with rows %+v", r.W.Step().Name, pg.Rows)
	}
}

// TestPartsAreCountedWheneverPowerComes: counted before, they are counted again before the plug
// goes in.
func TestPartsAreCountedWheneverPowerComes(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe", "self-check")
	reach(t, r, "plug-in", "whole")
	reach(t, r, "self-check", "start")
	if !passedKnown(r, "whole") {
		t.Error("nothing came off since the plug, and the parts were counted again")
	}
}
