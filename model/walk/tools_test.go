package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// TestToolsThatNobodyCountedAreComparedWithNothing: a machine found unplugged was not opened in
// this session, and its closing count has none to go by. It says so before it is answered and
// after; what was counted then is what the next count goes by.
func TestToolsThatNobodyCountedAreComparedWithNothing(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		v := r.W.Prompt(r.Now).Variable
		text := asItWas(r, v, model.Values[v][0])
		switch v {
		case model.Power:
			text = "H1"
		case model.Filament:
			text = "unloaded"
		case model.Bed:
			text = "low"
		}
		say(t, r, text)
	}
	reach(t, r, "close-door", "inside")
	if r.W.Prompt(r.Now).Step.Equal == nil {
		t.Fatal("the count goes by no other")
	}
	if is := walk.Wants(r.W, r.Context()); is != "nothing to compare with" {
		t.Errorf("it is asked with %q", is)
	}
	if rep := say(t, r, "7"); rep.Refusal != "" ||
		!strings.Contains(rep.Note, "no earlier count") {
		t.Errorf("it says %q %q", rep.Refusal, rep.Note)
	}
	resume(t, r, nil)
	count(t, r)
	reach(t, r, "close-door", "inside")
	if is := walk.Wants(r.W, r.Context()); is == "nothing to compare with" {
		t.Error("they were counted before the break, and it has nothing to compare with")
	}
	say(t, r, "3")
	if b, s := r.W.Block(), r.W.Step(); b == nil || b.ID != "close-door" || s.Name != "inside" {
		t.Error("7 tools lay there before the break, and 3 pass for them")
	}
	if rep := say(t, r, "7"); rep.Note != "" {
		t.Errorf("compared, it says %q", rep.Note)
	}
	finish(t, r)
}

// TestToolsCountedAtTheOpeningAreCompared: the ordinary session, as it was.
func TestToolsCountedAtTheOpeningAreCompared(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "unplug", "roll")
	say(t, r, "7")
	reach(t, r, "close-door", "inside")
	if is := walk.Wants(r.W, r.Context()); is != "counted anew" {
		t.Errorf("it is asked with %q", is)
	}
	if rep := say(t, r, "7"); rep.Note != "" {
		t.Errorf("it says %q", rep.Note)
	}
}

// TestToolsCountedBeforeABreakAreCompared: counted while it was unplugged, broken off and said to
// be unplugged, it is not opened by the same action again, and what was counted holds.
func TestToolsCountedBeforeABreakAreCompared(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "unplug", "roll")
	say(t, r, "7")
	resume(t, r, nil)
	count(t, r)
	reach(t, r, "close-door", "inside")
	if n, has := r.W.Wanted(); !has || n != 7 {
		t.Errorf("it goes by %d, %v", n, has)
	}
}
