package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// closing begins a session that closes what another left open.
func closing(t *testing.T, r *walktest.Run, locked bool) *walktest.Run {
	t.Helper()
	lib := library(t)
	r.M.Ledger, r.M.Latched = r.W.End.Ledger, r.W.End.Latched
	return beginWith(t, lib, r.M, walk.Start{Title: "closing", Ask: true, Closing: true,
		Locked: locked}, lib.Get("close-out"))
}

// stopAt answers a step so that its session stops.
func stopAt(t *testing.T, r *walktest.Run, answer string) {
	t.Helper()
	for range 8 {
		if say(t, r, answer); r.W.Stopped != "" {
			return
		}
	}
	t.Fatalf("%q does not stop it", answer)
}

func TestGivingUpTheClosingOfAStoppedMachineKeepsItLocked(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "blade-check", "screw-in")
	stopAt(t, r, "spins")
	if err := r.Take(r.W.GiveUp(r.Context(), "no time")); err != nil {
		t.Fatal(err)
	}
	r.M.Tag = &model.Tag{Kind: "stopped"}
	r2 := closing(t, r, true)
	if rep := say(t, r2, "on"); rep.Refusal == "" {
		t.Error("power may be on in a session that closes a stopped machine")
	}
	if err := r2.Take(r2.W.GiveUp(r2.Context(), "later")); err != nil {
		t.Fatal(err)
	}
	for _, e := range r2.J.Entries {
		if e.Tag != nil {
			t.Errorf("the stop's tag gives way to %+v", *e.Tag)
		}
	}
}

func TestAfterAStopHeatIsReadAnew(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "sock-check")
	reach(t, r, "sock-check", "peel")
	say(t, r, "stuck in plastic")
	reach(t, r, "sock-check", "warm-heat")
	stopAt(t, r, "fail")
	say(t, r, "H1")
	p := r.W.Prompt(r.Now)
	if p.Kind != walk.AskState || p.Variable != model.Heat {
		t.Fatalf("the block was heated, and it asks %s %s: %s", p.Kind, p.Variable, p.Question)
	}
	say(t, r, "hot")
	for range 300 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Kind == walk.AskStep && p.Block.ID == "cover-on" &&
			r.W.Believed[model.Heat] != "cold" {
			t.Fatal("hands go into a head that was not read cold")
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if !r.W.Ended || r.W.Believed[model.Power] == "on" {
		t.Errorf("ended %v, power %s", r.W.Ended, r.W.Believed[model.Power])
	}
}

func TestAStopIsNotTakenBack(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "blade-check", "screw-in")
	stopAt(t, r, "spins")
	say(t, r, "back")
	if r.W.Stopped == "" {
		t.Error("a key takes a stop back; it is cleared by name only")
	}
}

// TestAPieceNotFoundStaysLost: the machine is closed without it, and it is still looked for the
// next day.
func TestAPieceNotFoundStaysLost(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "cover-on", "inside") // what is left in the head is asked once, before it closes
	for range 4 {                     // looked for three times, then it is lost
		say(t, r, "found something")
	}
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskFind {
		t.Fatalf("it asks %s", p.Question)
	}
	say(t, r, "not found")
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	if r.W.End.Ledger.Flags["lost-piece"] == "" {
		t.Fatal("the piece is still missing, and the book forgot it")
	}
	r.M.Tag = &model.Tag{Kind: "stopped"}
	r2 := closing(t, r, true)
	if err := r2.Finish(); err != nil {
		t.Fatal(err)
	}
	if r2.W.End.Ledger.Flags["lost-piece"] == "" {
		t.Error("a session that did not find it forgot it")
	}
	for _, e := range r2.J.Entries {
		if e.Finding != nil && e.Finding.Kind == "stop" {
			t.Error("the stop is found a second time")
		}
	}
	r.M.Tag = nil
	r3 := closing(t, r2, false)
	if p := settledAt(t, r3, walk.AskFind); p.Item == "" {
		t.Error("it does not say what is missing")
	}
	finish(t, r3)
}

// TestAPieceLostAndFoundIsStillOut: found in the hand, it still has to go back.
func TestAPieceLostAndFoundIsStillOut(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "cover-off", "lift")
	say(t, r, "on the mat")
	resume(t, r, map[model.Variable]string{model.Cover: "off"})
	for r.W.Prompt(r.Now).Item != "cover screws" {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	say(t, r, "0 lost")
	say(t, r, "found")
	if n := r.W.Ledger().Out["cover screws"]; n != 1 {
		t.Errorf("%d cover screws out", n)
	}
	finish(t, r)
}

// TestALookDoesNotClearATag: nobody said that the limits no longer hold.
func TestALookDoesNotClearATag(t *testing.T) {
	lib := library(t)
	for _, kind := range []model.TagKind{"limits", "waiting", "out-of-use", "stopped"} {
		m := machine(lib, "full")
		m.Tag = &model.Tag{Kind: kind}
		r := begin(t, lib, m, "desiccant-look")
		finish(t, r)
		for _, e := range r.J.Entries {
			if e.Tag != nil {
				t.Errorf("%s: %+v", kind, *e.Tag)
			}
		}
	}
}

// TestSaidReadyTheLimitsAreGone: the tag and the finding that goes with it.
func TestSaidReadyTheLimitsAreGone(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Tag = &model.Tag{Kind: "limits"}
	m.Findings = []model.Finding{{ID: "F1",
		Found: model.Found{Kind: "limits", Text: "Left with limits"}}}
	r := begin(t, lib, m, "fans-blow")
	reach(t, r, "close-out", "ready")
	say(t, r, "ready")
	finish(t, r)
	cleared, settled := false, false
	for _, e := range r.J.Entries {
		cleared = cleared || e.Tag != nil && e.Tag.Clear
		settled = settled || e.Settled != nil && e.Settled.Finding == "F1"
	}
	if !cleared || !settled {
		t.Errorf("tag cleared %v, finding settled %v", cleared, settled)
	}
}

// TestAStopFoundElsewhereHoldsPower: another person stops the machine while a session is begun.
func TestAStopFoundElsewhereHoldsPower(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "switch-on", "on")
	r.M.Tag = &model.Tag{Kind: "stopped", Why: "scorch smell"}
	if rep := say(t, r, "on"); !strings.Contains(rep.Refusal, "locked") {
		t.Errorf("power comes on: %q", rep.Refusal)
	}
}

// TestWhatCannotJoinIsLeftDue: a look in a locked session adds care that needs power.
func TestWhatCannotJoinIsLeftDue(t *testing.T) {
	lib := library(t)
	look := rogue(model.Step{Name: "look", Do: "Look.", Gate: model.Choice,
		Options: []model.Option{{Is: "good"},
			{Is: "bad", Miss: &model.Miss{Then: "add", Procedures: []string{"self-check"},
				Say: "Check it."}}}})
	r := beginWith(t, lib, machine(lib, "full"), walk.Start{Title: "look", Locked: true}, look)
	reach(t, r, "rogue", "look")
	say(t, r, "bad")
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	if slices.Contains(blocksOf(r), "self-check") {
		t.Errorf("it joined: %v", blocksOf(r))
	}
	if !slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Due != nil && e.Due.Procedure == "self-check"
	}) {
		t.Error("it is not on record as due")
	}
}

// TestAfterAStopThePlugIsAskedFor: off by its switch, its mains side is still live.
func TestAfterAStopThePlugIsAskedFor(t *testing.T) {
	lib := library(t)
	for _, read := range []string{"30", "hot"} {
		r := begin(t, lib, machine(lib, "full"), "blade-check", "self-check")
		reach(t, r, "self-check", "start")
		stopAt(t, r, "fail")
		say(t, r, "off")
		if p := r.W.Prompt(r.Now); p.Variable == model.Heat {
			say(t, r, read)
		}
		finish(t, r)
		if is := r.W.Believed[model.Power]; is != "unplugged" {
			t.Errorf("stopped, off, read %s: it is left %s", read, is)
		}
	}
}
