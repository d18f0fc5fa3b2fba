package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// TestNothingIsPutBackByFailing: what cannot be done is not done, however often it is said.
func TestNothingIsPutBackByFailing(t *testing.T) {
	lib := library(t)
	for _, c := range []struct{ id, step, answer, item string }{
		{"screws-oil", "plate-back", "fail", "plate"}, {"blade-check", "fit-same", "fail", "blade"},
		{"filter-swap", "fit", "fail", "filter holder"},
	} {
		t.Run(c.id, func(t *testing.T) {
			r := begin(t, lib, machine(lib, "full"), c.id)
			reach(t, r, c.id, c.step)
			for range 6 {
				if p := r.W.Prompt(r.Now); p.Kind != walk.AskStep || p.Step.Name != c.step {
					break
				}
				say(t, r, c.answer)
			}
			if n := r.W.Ledger().Out[c.item]; n != 1 {
				t.Errorf("the book says %d %s out", n, c.item)
			}
			finish(t, r)
		})
	}
}

func TestOilIsNotDryByBeingCalledWet(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "screws-oil")
	reach(t, r, "screws-oil", "wipe-off")
	for r.W.Step().Name == "wipe-off" {
		say(t, r, "wet")
	}
	if r.W.Ledger().Flags["oil"] == "" {
		t.Error("said to be wet four times, it counts as dry")
	}
	finish(t, r)
}

// TestAnOwnedStepIsNeverPassedAsFound: no hand goes under a bed without a block.
func TestAnOwnedStepIsNeverPassedAsFound(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "screws-oil")
	reach(t, r, "screws-oil", "block-in")
	for range 8 {
		if s := r.W.Step(); r.W.Stopped == "" && s != nil && s.Name == "block-in" {
			say(t, r, "0")
		}
	}
	if r.W.Stopped == "" {
		t.Errorf("no block stands, and it goes on to %s", r.W.Step().Name)
	}
}

// TestARepeatedReadingIsHeldToTheOldRecord: a belt off its record does not pass by being read off
// twice, nor is one refused because it was misread before; what stood on record when the session
// began is the measure.
func TestARepeatedReadingIsHeldToTheOldRecord(t *testing.T) {
	lib := library(t)
	m := machine(lib, machineKinds[1]...)
	m.Values = map[string][]model.Recorded{"belt x": {{At: start.AddDate(0, -1, 0), Value: 100,
		Unit: "Hz"}}}
	r := begin(t, lib, m, "belts-reset")
	reach(t, r, "belts-reset", "hz-x")
	read := func(text string, v float64) {
		say(t, r, text)
		say(t, r, text) // a number out of range is taken when it is typed again
		m.Values["belt x"] = append(m.Values["belt x"],
			model.Recorded{At: r.Now, Value: v, Unit: "Hz"})
	}
	read("130", 130)
	reach(t, r, "belts-reset", "hz-x") // once more from the start
	low, high := r.W.Bounds(r.Context())
	if low == nil || *low != 90 || *high != 110 {
		t.Fatalf("after a reading of 130 it must lie between %v and %v", low, high)
	}
	say(t, r, "101")
	if s := r.W.Step(); s != nil && s.Name == "hz-x" {
		t.Error("101 of a record of 100 is refused")
	}
}

func TestAProofSkippedOrFailedIsNotPaid(t *testing.T) {
	lib := library(t)
	for _, answer := range []string{"skip the network is down", "dull as before"} {
		t.Run(answer, func(t *testing.T) {
			r := begin(t, lib, machine(lib, "full"), "camera-clean")
			reach(t, r, "owed", "camera-clean.picture")
			if rep := say(t, r, answer); rep.Refusal != "" {
				t.Fatal(rep.Refusal)
			}
			finish(t, r)
			if slices.Contains(careOf(&r.J, "proved"), "camera-clean") {
				t.Error("the proof is on record as paid")
			}
			if !slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
				return e.Finding != nil && e.Finding.Procedure == "camera-clean"
			}) {
				t.Error("and nothing stands that says so")
			}
		})
	}
}

// TestAPartIsRenewedOnceItIsIn: judged dull, and then given up before the new one is in.
func TestAPartIsRenewedOnceItIsIn(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "blade-check", "judge")
	say(t, r, "dull")
	reach(t, r, "blade-check", "fit-new")
	say(t, r, "slides home")
	if err := r.Take(r.W.GiveUp(r.Context(), "called away")); err != nil {
		t.Fatal(err)
	}
	told := false
	for _, e := range r.J.Entries {
		if e.Swap != nil {
			t.Errorf("a new %s is on record, and none went in", e.Swap.Part)
		}
		told = told || e.Finding != nil && strings.Contains(e.Finding.Text, "blade")
	}
	if !told {
		t.Error("nothing says that its renewal was begun")
	}
}

// TestASwapAndItsCareAreOneAction: how the old part was is asked at the end; then swap, care and
// stock are written together, once, so that a strike takes them together.
func TestASwapAndItsCareAreOneAction(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "blade-check", "judge")
	say(t, r, "dull")
	if p := settledAt(t, r, walk.AskEnd); p.Item != "blade" {
		t.Fatalf("it asks of the %s", p.Item)
	}
	say(t, r, "worn")
	finish(t, r)
	var action string
	kinds := map[model.EntryKind]int{}
	for _, e := range r.J.Entries {
		if e.Swap != nil {
			action = e.Action
		}
	}
	for _, e := range r.J.Entries {
		if e.Swap != nil || e.Stock != nil || e.Care != nil && e.Care.Procedure == "blade-check" &&
			e.Care.Outcome == "done" {
			kinds[e.Kind]++
			if e.Action != action {
				t.Errorf("%s stands apart from the swap", e.Kind)
			}
		}
	}
	if kinds[model.KindSwap] != 1 || kinds[model.KindStock] != 1 || kinds[model.KindCare] != 1 {
		t.Errorf("written: %v", kinds)
	}
}

func TestACountIsANumber(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "belts-reset")
	reach(t, r, "belts-reset", "loosen")
	if rep := say(t, r, "4 but one spins"); rep.Refusal == "" {
		t.Error("a count with a doubt behind it passes")
	}
}

func TestAStateReadingMustBePossible(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "belts-reset")
	say(t, r, "on")
	for _, text := range []string{"-300 °C", "3000"} {
		if rep := say(t, r, text); rep.Refusal == "" {
			t.Errorf("%s is taken for a reading", text)
		}
	}
}

// TestACountThatIsComparedLaterIsNotSkipped: what is counted again cannot be passed over now.
func TestACountThatIsComparedLaterIsNotSkipped(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "blade-check", "judge")
	say(t, r, "dull")
	reach(t, r, "blade-check", "packet")
	if rep := say(t, r, "skip no packet here"); rep.Refusal == "" {
		t.Error("the packet is not counted, and what is left of it is compared with nothing")
	}
}

// TestAWordOfCommandInANote: a note that begins like a command is a note.
func TestAWordOfCommandInANote(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "close-out", "parts")
	say(t, r, "back of the head, picture 3")
	if s := r.W.Step(); s == nil || s.Name == "parts" || s.Name == "drawer" {
		t.Error("it was taken for going back")
	}
}
