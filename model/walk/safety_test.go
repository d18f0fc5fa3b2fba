package walk_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// resume interrupts a session and answers the state questions; what is not named is as it was.
func resume(t *testing.T, r *walktest.Run, said map[model.Variable]string) {
	t.Helper()
	was := r.W.Believed.Clone()
	r.Now = r.Now.Add(time.Minute)
	rep, err := r.W.Resume(r.Context())
	if err := r.Take(rep, err); err != nil {
		t.Fatal(err)
	}
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		v := r.W.Prompt(r.Now).Variable
		text := asItWas(r, v, was[v])
		if s := said[v]; s != "" {
			text = s
		}
		say(t, r, text)
	}
}

func TestAiringStandsStillBehindAClosedDoor(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "carry-out")
	if _, err := r.Step(); err != nil {
		t.Fatal(err)
	}
	if r.W.Clocks["airing"].IsZero() {
		t.Fatal("the airing does not run")
	}
	resume(t, r, map[model.Variable]string{model.Door: "closed"})
	for r.W.Prompt(r.Now).Kind == walk.AskLedger {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if !r.W.Clocks["airing"].IsZero() {
		t.Fatal("the airing runs behind a closed door")
	}
	r.Now = r.Now.Add(time.Hour / 3)
	if r.W.Believed[model.Vapour] != "drying" {
		t.Fatal("vapour cleared behind a closed door")
	}
	finish(t, r)
	var aired time.Duration
	for _, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.What == walk.Waiting && e.Walk.ID == "air" {
			aired = e.Walk.Until.Sub(e.At)
		}
	}
	if aired < 9*time.Minute {
		t.Errorf("after the door was opened again it aired for %s only", aired)
	}
}

// What stands alone guards a hand or the machine: a probe held before a hand goes in, a look for
// tools left inside, a plug in sight. No word passes it by; what may be done instead is said.
func TestWhatStandsAloneIsNotSkipped(t *testing.T) {
	lib := library(t)
	for _, x := range []struct{ id, step string }{
		{"plate-wash", "read"}, {"chute-clear", "probe"}, {"estop-check", "told"},
		{"electrical-glance", "alarm"}, {"dry-filament", "set-45"},
		{"heater-ohms", "block"}, {"screws-oil", "low-part"},
	} {
		r := begin(t, lib, machine(lib, "full"), x.id)
		reach(t, r, x.id, x.step)
		if rep := say(t, r, "skip no time"); !strings.Contains(rep.Refusal,
			"leave the procedure out") || r.W.CanSkip() {
			t.Errorf("%s: %s is passed by: %q", x.id, x.step, rep.Refusal)
		}
	}
}

// A caution that hangs on an answer stands where that answer was given, and before it is given; not
// where another was.
func TestACautionGoesByTheAnswerItHangsOn(t *testing.T) {
	lib := library(t)
	for plate, want := range map[string]bool{"glass": true, "textured spring steel": false} {
		r := begin(t, lib, machine(lib, "full"), "plate-wash")
		reach(t, r, "plate-wash", "surface")
		say(t, r, plate)
		reach(t, r, "plate-wash", "wash")
		got := slices.ContainsFunc(r.W.ShownCautions(r.Context()), func(c walk.Shown) bool {
			return c.ID == "glass-plate"
		})
		if got != want {
			t.Errorf("%s: that glass breaks is said: %t", plate, got)
		}
	}
}

// A reading that does not pass because it is too warm is a reading all the same: the machine counts
// as hot, also where the procedure is then left out, until it was read cold.
func TestAReadingTooWarmIsBelieved(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "plate-wash")
	reach(t, r, "plate-wash", "read")
	if r.W.Believed[model.Heat] == model.Hot {
		t.Fatal("it is hot before")
	}
	if rep := say(t, r, "60"); rep.Refusal == "" {
		t.Fatal("60 °C passed")
	}
	if got := r.W.Seen[model.Heat].Note; r.W.Believed[model.Heat] != model.Hot || got != "60 °C" {
		t.Errorf("read at 60 °C it counts as %s, %q", r.W.Believed[model.Heat], got)
	}
	say(t, r, "24")
	if r.W.Believed[model.Heat] != model.Cold {
		t.Errorf("read at 24 °C it counts as %s", r.W.Believed[model.Heat])
	}
}

func TestTheStepThatStartsTheAiringCannotBeSkipped(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "carry-out")
	if rep := say(t, r, "skip no time"); rep.Refusal == "" {
		t.Fatal("it was skipped")
	}
	began := r.W.Clocks["airing"]
	r.Now = r.Now.Add(5 * time.Minute)
	if rep := say(t, r, "leave called away"); rep.Refusal == "" {
		t.Error("it was left out with its wipes inside")
	}
	if _, err := r.Step(); err != nil {
		t.Fatal(err)
	}
	if !r.W.Clocks["airing"].After(began.Add(4 * time.Minute)) {
		t.Error("the last wipe is out and the airing counts from the first")
	}
	finish(t, r)
}

// TestAfterAStopBeltsAreSnugBeforeTheTopGoesOn: what care left loose is put right while it can be
// reached.
func TestAfterAStopBeltsAreSnugBeforeTheTopGoesOn(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "belts-reset")
	reach(t, r, "belts-reset", "snug")
	rep := walk.Reply{Facts: []model.Fact{{Kind: model.KindWalk,
		Walk: &model.Walked{What: walk.Missed, Then: "stop", Why: "smoke", Block: r.W.Cur}}}}
	if err := r.Take(rep, nil); err != nil {
		t.Fatal(err)
	}
	var order []string
	for range 200 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Kind == walk.AskZero {
			order = append(order, p.Item)
		}
		if p.Kind == walk.AskStep {
			order = append(order, p.Block.ID)
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	belts, top := slices.Index(order, "flag:belts"), slices.Index(order, "top-on")
	if belts < 0 || top < 0 || belts > top {
		t.Errorf("the belts are asked for at %d, the top goes on at %d: %v", belts, top,
			slices.Compact(order))
	}
	if slices.Contains(order, "switch-on") || slices.Contains(order, "plug-in") {
		t.Errorf("power returns after a stop: %v", slices.Compact(order))
	}
	var due []string
	for _, e := range r.J.Entries {
		if e.Due != nil {
			due = append(due, e.Due.Procedure)
		}
	}
	for _, id := range []string{"belt-tone", "belts-reset", "self-check"} {
		if !slices.Contains(due, id) {
			t.Errorf("snugged without their tone, and %s is not due: %v", id, due)
		}
	}
}

func TestAPartRenewedIsToldOfOnce(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	reach(t, r, "blade-check", "judge")
	say(t, r, "dull")
	renewedAt(t, r)
	if rep := say(t, r, "worn"); rep.Refusal != "" {
		t.Fatal(rep.Refusal)
	}
	say(t, r, "back")
	say(t, r, "worn")
	finish(t, r)
	swaps := 0
	for _, e := range r.J.Entries {
		if e.Swap != nil {
			swaps++
		}
	}
	strikes := 0
	for _, e := range r.J.Entries {
		if e.Strike != nil {
			strikes++
		}
	}
	if swaps-strikes != 1 {
		t.Errorf("%d swaps, %d struck: one blade was renewed", swaps, strikes)
	}
}

// renewedAt answers until the walk asks how the old part was, choosing the answers that renew it.
func renewedAt(t *testing.T, r *walktest.Run) {
	t.Helper()
	for range 40 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskEnd {
			return
		}
		if p.Kind == walk.AskStep && len(p.Step.Renewed) > 0 {
			say(t, r, p.Step.Renewed[0])
			continue
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatal("nothing is renewed")
}

// TestOwnedStretchBegunAgain interrupts the powered part of the screws with the block under the
// bed, says it was taken out since, and never counts less than nothing.
func TestOwnedStretchBegunAgain(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Settings["stop-holds"] = "yes"
	r := begin(t, lib, m, "screws-oil")
	reach(t, r, "screws-oil", "low-wipe")
	resume(t, r, map[model.Variable]string{model.Power: "H1", model.Bed: "low"})
	for range 30 {
		p := r.W.Prompt(r.Now)
		if p.Kind != walk.AskLedger {
			break
		}
		if strings.TrimPrefix(p.Item, "in:") == "block" {
			say(t, r, "0 back")
			continue
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if s := r.W.Step(); s == nil || r.W.Block().ID != "screws-oil" || !s.Own {
		t.Fatalf("it goes on at %v", s)
	}
	for range 300 {
		for item, n := range r.W.Ledger().Inside {
			if n < 0 {
				t.Fatalf("%d %s inside", n, item)
			}
		}
		if over, err := r.Step(); err != nil {
			t.Fatal(err)
		} else if over {
			break
		}
	}
	finish(t, r)
}

// TestASwapLoggedElsewhereIsSaid: a log from a second terminal never changes the sequence; it is
// told at the first step of the procedure it concerns.
func TestASwapLoggedElsewhereIsSaid(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := begin(t, lib, m, "blade-check")
	reach(t, r, "blade-check", "arm") // the head was unloaded, and the blades are laid out
	if e := r.W.Elsewhere(m); e != "" {
		t.Fatalf("nothing was logged and it says %q", e)
	}
	m.Parts = map[string]*model.PartNow{"blade": {Since: r.Now}}
	if e := r.W.Elsewhere(m); !strings.Contains(e, "A new blade was logged") {
		t.Errorf("it says %q", e)
	}
	say(t, r, "springs back")
	if e := r.W.Elsewhere(m); e != "" {
		t.Errorf("at the second step it says %q again", e)
	}
}

func TestLeftWithLimitsCanBeCleared(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "close-out", "ready")
	say(t, r, "limited")
	finish(t, r)
	if !tagged(r, "limits") {
		t.Fatal("no tag says it has limits")
	}
	for _, e := range r.J.Entries {
		if e.Finding != nil && e.Finding.Kind == "limits" {
			return
		}
	}
	t.Error("no finding stands whose closing clears the tag")
}

// TestWhatJoinsALookOpensTheMachineProperly: a look that finds wet packs adds their change; the
// state is asked then, and the session gets its bookends.
func TestWhatJoinsALookOpensTheMachineProperly(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "desiccant-look")
	say(t, r, "wet")
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskState {
		t.Fatalf("it asks for %s: %s", p.Kind, p.Question)
	}
	finish(t, r)
	var ids []string
	for _, b := range r.W.Blocks {
		if b.Kind == "care" {
			ids = append(ids, b.ID)
		}
	}
	for _, id := range []string{"as-found", "desiccant", "close-out"} {
		if !slices.Contains(ids, id) {
			t.Errorf("%s did not join: %v", id, ids)
		}
	}
}

// TestAfterAStopPowerMustNotStayOn opens with a fault that stops the session while power is on.
func TestAfterAStopPowerMustNotStayOn(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	say(t, r, "yes") // a scorch smell, tingle, breaker trip or temperature fault is open
	if r.W.Stopped == "" {
		t.Fatal("an open fault does not stop the session")
	}
	if rep := say(t, r, "on"); !strings.Contains(rep.Refusal, "must not stay on") {
		t.Errorf("power on after a stop: %q", rep.Refusal)
	}
	say(t, r, "H1")
	finishStopped(t, r)
	if r.W.Believed[model.Power] != "unplugged" {
		t.Errorf("power is %s", r.W.Believed[model.Power])
	}
}

// TestAColdReadingIsTakenAnewAfterABreak: the bed was cold when it was read, and may not be now.
func TestAColdReadingIsTakenAnewAfterABreak(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "plate-wash")
	reach(t, r, "plate-wash", "lift")
	resume(t, r, nil)
	for r.W.Prompt(r.Now).Kind == walk.AskLedger {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	for range 40 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskStep && p.Block.ID == "plate-wash" {
			if p.Step.Name != "read" {
				t.Fatalf("it goes on at %s without a reading", p.Step.Name)
			}
			break
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	finish(t, r)
}

// A heater or sensor found loose and refixed may read wrong: nothing heats before it has been
// proved again.
func TestARefixedSensorIsProvedBeforeHeat(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "sock-check")
	reach(t, r, "sock-check", "tug")
	say(t, r, "loose")
	reach(t, r, "sock-check", "refix")
	say(t, r, "held")
	if is := r.W.Believed[model.Sensor]; is != "unproved" {
		t.Fatalf("sensor %s after it was loose", is)
	}
	reach(t, r, "sensor-proof", "sensor-rise")
	finish(t, r)
}

// A torn belt lets the head go under power, wherever in the procedure it is found.
func TestATornBeltEndsWithoutPower(t *testing.T) {
	lib := library(t)
	for _, loosened := range []bool{false, true} {
		r := begin(t, lib, machine(lib, "full"), "belts-reset")
		if loosened {
			reach(t, r, "belts-reset", "strokes")
			say(t, r, "fail")
		}
		reach(t, r, "belts-reset", "belts-look")
		say(t, r, "torn")
		finish(t, r)
		if is := r.W.Believed[model.Power]; is != "unplugged" {
			t.Errorf("belts loosened %v: the session ends with power %s", loosened, is)
		}
	}
}

// TestAPartLoggedInAPauseIsAskedAbout: a part swapped by the short way while the session waits was
// fitted, and its lot and date are asked like any other's.
func TestAPartLoggedInAPauseIsAskedAbout(t *testing.T) {
	lib := library(t)
	for _, swapped := range []bool{false, true} {
		m := machine(lib, "full")
		r := begin(t, lib, m, "rods-wipe")
		reach(t, r, "close-out", "drawer")
		if swapped {
			m.Parts = map[string]*model.PartNow{"blade": {Since: r.Now}}
		}
		asked := false
		for over := false; !over; {
			s := r.W.Step()
			asked = asked || s != nil && s.Name == "parts"
			var err error
			if over, err = r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		if asked != swapped {
			t.Errorf("swapped %v: the parts are asked about: %v", swapped, asked)
		}
	}
}

// TestCodesOfTheErrorListAreAskedFor: what the error list shows before the work is typed and filed,
// nothing heats over a code that names heat or that nobody knows, and it is asked for at the end:
// with one that stands the machine is not handed back ready.
func TestCodesOfTheErrorListAreAskedFor(t *testing.T) {
	lib := library(t)
	at := func(errors string) *walktest.Run {
		r := begin(t, lib, machine(lib, "full"), "rods-wipe")
		reach(t, r, model.AsFound, "errors")
		say(t, r, errors)
		return r
	}
	reach(t, at("no errors"), model.CloseOut, "ready")
	for answer, ready := range map[string]bool{"put right": true, "one stands": false} {
		r := at("codes shown")
		if rep := say(t, r, "-"); rep.Refusal == "" || r.W.Step().Name != "code" {
			t.Errorf("codes that nobody typed pass: %s", r.W.Position())
		}
		say(t, r, "E 12 feed motor")
		if f := reminders(r, "code"); len(f) != 1 || f[0].Text != "error list: E 12 feed motor" {
			t.Errorf("filed is %+v", f)
		}
		say(t, r, "unknown yet")
		if r.W.Step().Name != "code-means" {
			t.Errorf("over a code that nobody knows it goes on to %s", r.W.Position())
		}
		say(t, r, "none of those")
		reach(t, r, model.CloseOut, "codes")
		say(t, r, answer)
		reach(t, r, model.CloseOut, "ready")
		if rep := say(t, r, "ready"); (rep.Refusal == "") != ready {
			t.Errorf("with codes %s the machine is ready: %q", answer, rep.Refusal)
		}
		if !ready {
			say(t, r, "limited")
		}
		finish(t, r)
	}
	r := at("codes shown")
	say(t, r, "E 3 hot end")
	say(t, r, "one of those")
	say(t, r, "yes")
	if r.W.Stopped == "" {
		t.Errorf("a code of the hot end, and it goes on: %s", r.W.Position())
	}
}

// TestACheckPassedOverUnderPowerIsOwed: skipped with a reason it is still not had, and the machine
// is not ready.
func TestACheckPassedOverUnderPowerIsOwed(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	skipped := false
	for range 2000 {
		if b, s := r.W.Block(), r.W.Step(); b != nil && b.Kind == model.BlockOwed && !skipped &&
			s != nil && s.Rank() != model.Hold {
			if rep := say(t, r, "skip ."); rep.Refusal == "" {
				t.Error("a dot is a reason")
			}
			skipped = say(t, r, "skip the lamp is broken").Refusal == ""
			continue
		}
		if s := r.W.Step(); s != nil && s.Name == "ready" {
			break
		}
		if over, err := r.Step(); err != nil || over {
			t.Fatal(over, err)
		}
	}
	if !skipped {
		t.Fatal("no check under power was passed over")
	}
	if rep := say(t, r, "ready"); rep.Refusal == "" {
		t.Error("it is ready with a check that was passed over")
	}
	if rep := say(t, r, "checks owed"); rep.Refusal != "" {
		t.Error(rep.Refusal)
	}
	finish(t, r)
}

// TestALimitIsTyped: a machine that is not simply ready says on its tag and on the bench what it may
// not do.
func TestALimitIsTyped(t *testing.T) {
	lib := library(t)
	for typed, want := range map[string]string{"no ABS before the fan is in": "no ABS before the fan is in",
		"ready": "ready"} {
		r := begin(t, lib, machine(lib, "full"), "rods-wipe")
		reach(t, r, model.CloseOut, "ready")
		say(t, r, "limited")
		if r.W.Step().Name != "limit" {
			t.Fatalf("after limited it goes on at %s", r.W.Position())
		}
		if rep := say(t, r, "-"); rep.Refusal == "" {
			t.Error("a limit that nobody typed passes")
		}
		say(t, r, typed)
		finish(t, r)
		var tag *model.TagMove
		for _, e := range r.J.Entries {
			if e.Tag != nil {
				tag = e.Tag
			}
		}
		if tag == nil || tag.Why != want || tag.Kind != model.TagLimits {
			t.Errorf("with %q it is tagged %+v", typed, tag)
		}
	}
}
