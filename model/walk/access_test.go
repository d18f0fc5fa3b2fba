package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// begunAt begins a session without bookends on a machine that stands so; what is not named is as
// assumed.
func begunAt(t *testing.T, lib *procedures.Library, m *model.Machine,
	stands map[model.Variable]string, id string) *walktest.Run {
	t.Helper()
	r := beginWith(t, lib, m, walk.Start{Ask: true}, lib.Get(id))
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		if text := stands[r.W.Prompt(r.Now).Variable]; text != "" {
			say(t, r, text)
		} else if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

// TestTheGlassIsReadFromTheRoomOn: 30 °C at the glass is harmless in a warm room and 48 °C inside
// in a room of 12 °C, where glass stands half way (common practice).
func TestTheGlassIsReadFromTheRoomOn(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		room, glass string
		passes      bool
	}{{"12", "30", false}, {"12", "18", true}, {"28", "34", true}, {"28", "38", false}} {
		r := begunAt(t, lib, machine(lib, "full"), map[model.Variable]string{model.Power: "off",
			model.Heat: "hot", model.Bed: "low"}, "camera-clean")
		reach(t, r, "cool-off", "room")
		if rep := say(t, r, "35"); rep.Refusal == "" {
			t.Error("a room of 35 °C passes, and glass says nothing in it")
		}
		say(t, r, c.room)
		if rep := say(t, r, c.glass); (rep.Refusal == "") != c.passes {
			t.Errorf("room %s, glass %s: %q", c.room, c.glass, rep.Refusal)
		}
	}
}

// TestABedThatHangsIsBlockedByItsMotors: nobody lifts it by hand. It is cold, the queue held,
// jogged up, the block stood, the hand out again, and jogged down onto it.
func TestABedThatHangsIsBlockedByItsMotors(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "switch-off", "rest")
	say(t, r, "hangs")
	if s := r.W.Step(); s.Name != "bed-cold" {
		t.Fatalf("a bed that hangs goes on at %s", s.Name)
	}
	if rep := say(t, r, "60"); rep.Refusal == "" {
		t.Error("a hand goes in at 60 °C")
	}
	reach(t, r, "switch-off", "bed-sits")
	say(t, r, "tilts or slides")
	if s := r.W.Step(); s.Name != "block-bed" {
		t.Errorf("a bed that tilts on its block goes on at %s", s.Name)
	}
	reach(t, r, "close-door", "blocks-bed")
	if rep := say(t, r, "0"); rep.Refusal == "" {
		t.Error("the door shuts with the block under the bed")
	}
	finish(t, r)
}

// TestAPlateIsWashedSwitchedOff: whoever carries the plate to the sink leaves no machine under
// power behind, on an open frame too, where no door is opened for it.
func TestAPlateIsWashedSwitchedOff(t *testing.T) {
	lib := library(t)
	for _, kind := range machineKinds[:2] {
		r := begin(t, lib, machine(lib, kind...), "plate-wash")
		reach(t, r, "plate-wash", "lift")
		if p := r.W.Believed[model.Power]; p == "on" || p == "" {
			t.Errorf("%v: the plate is carried away with power %q", kind[:1], p)
		}
		finish(t, r)
	}
}

// TestAHeadIsLeftUnpushedOnlyUnderPower: that a powered head is not pushed is no answer on a dark
// machine, nor that its locks are in on one that is not packed, where pushing it is the last look for what stands in its way.
func TestAHeadIsLeftUnpushedOnlyUnderPower(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, machineKinds[3]...), "rods-wipe")
	reach(t, r, "close-door", "corners")
	if r.W.Believed[model.Power] == model.On {
		t.Fatal("the door shuts under power here: choose other care")
	}
	for _, unpushed := range []string{"not pushed, power on", "not pushed, its locks are in"} {
		if p := r.W.Prompt(r.Now); slices.Contains(p.Options, unpushed) {
			t.Errorf("without power, not packed, %q is offered", unpushed)
		}
		if rep := say(t, r, unpushed); rep.Refusal == "" {
			t.Errorf("without power, not packed, the head passes as %s", unpushed)
		}
	}
	finish(t, r)
}
