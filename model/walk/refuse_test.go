package walk_test

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// reach answers well until the given step stands.
func reach(t testing.TB, r *walktest.Run, block, step string) {
	t.Helper()
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskStep && p.Block.ID == block && p.Step.Name == step {
			return
		}
		over, err := r.Step()
		if err != nil {
			t.Fatal(err)
		}
		if over {
			break
		}
	}
	t.Fatalf("%s/%s was never reached", block, step)
}

func say(t testing.TB, r *walktest.Run, text string) walk.Reply {
	t.Helper()
	rep, err := r.Say(text)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// TestEveryGateAnsweredWrong gives each of the seven gates an answer that must not pass it.
func TestEveryGateAnsweredWrong(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	for _, c := range []struct {
		name, ids, block, step, answer, want string
	}{
		{"confirm", "rods-wipe", "rods-wipe", "dampen", "maybe",
			"Answer ok once it is done, or fail"},
		{"state, the wrong plug", "rods-wipe", "unplug", "plug", "H7", "this machine's is another"},
		{"state, the word where a tag is", "rods-wipe", "unplug", "plug", "unplugged",
			"type its id"},
		{"state, another plug goes in", "rods-wipe", "plug-in", "plug", "H7",
			"this machine's is another"},
		{"state, in without its tag read", "rods-wipe", "plug-in", "plug", "off",
			"type its id"},
		{"state, as it must not be", "screws-oil", "screws-oil", "jog-up", "low",
			"it must be high"},
		{"measure, too hot", "rods-wipe", "cool", "hot-end", "52 °C",
			"Read 52 °C. Must be 45 °C or less"},
		{"measure, the wrong unit", "rods-wipe", "cool", "hot-end", "40 mm", "in °C, not mm"},
		{"measure, no number", "rods-wipe", "cool", "hot-end", "cold", "Type the value in °C"},
		{"measure, read two ways", "rods-wipe", "cool", "hot-end", "12,345 °C",
			`"12,345" can be 12345 or 12.345: type 12345, or 12.3450 for the smaller one`},
		{"choice, not one of them", "belts-reset", "belts-reset", "belts-look", "fine",
			"Answer sound, worn or torn"},
		{"count, one short", "belts-reset", "belts-reset", "count-snug", "3",
			"You count 3; it must be another number"},
		{"count, not a number", "belts-reset", "belts-reset", "count-snug", "all",
			"a whole number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := begin(t, lib, m, c.ids)
			reach(t, r, c.block, c.step)
			rep := say(t, r, c.answer)
			if !strings.Contains(rep.Refusal, c.want) {
				t.Fatalf("it says %q, want %q in it", rep.Refusal, c.want)
			}
			if c.name == "measure, read two ways" && len(rep.Facts) > 0 {
				t.Errorf("a number not understood is on record: %v", rep.Facts)
			}
			if p := r.W.Prompt(r.Now); p.Step == nil || p.Step.Name != c.step {
				t.Fatalf("it went on to %v", p.Step)
			}
			finish(t, r)
		})
	}
}

// TestMeasureInEveryNotation gives one temperature in the ways people write it.
func TestMeasureInEveryNotation(t *testing.T) {
	lib := library(t)
	for text, want := range map[string]float64{"31,5": 31.5, "31.5 °C": 31.5, "31,50°C": 31.5,
		"31.1250": 31.125} {
		r := begin(t, lib, machine(lib, "full"), "rods-wipe")
		reach(t, r, "cool", "hot-end")
		rep := say(t, r, text)
		if rep.Refusal != "" || len(rep.Facts) == 0 || rep.Facts[0].Walk.Number == nil ||
			*rep.Facts[0].Walk.Number != want {
			t.Errorf("%q is taken as %+v: %s", text, rep.Facts, rep.Refusal)
		}
	}
}

func TestWaitsRunByTheClockAndNoneThatKeepsSafeIsCut(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	waits := 0
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskWait && p.Left > 2*time.Minute {
			waits++
			airing := p.Wait.Clock == "airing"
			if rep := say(t, r, "ok"); rep.Refusal == "" {
				t.Errorf("%s passed at once", p.Wait.Why)
			}
			safe := r.W.Uncuttable(p) != ""
			if rep := say(t, r, "cut"); !strings.Contains(rep.Refusal, "Say why") && !safe {
				t.Errorf("cut without a reason: %q", rep.Refusal)
			}
			if rep := say(t, r, "cut it is late"); safe != strings.Contains(rep.Refusal,
				"by the clock") {
				t.Errorf("cutting %q: %q", p.Wait.Why, rep.Refusal)
			}
			if airing && r.W.Believed[model.Vapour] != "drying" {
				t.Error("vapour is believed clear before the clock ran out")
			}
		}
		over, err := r.Step()
		if err != nil {
			t.Fatal(err)
		}
		if over {
			break
		}
	}
	if waits < 2 {
		t.Errorf("%d waits stood in the way, want the cool-down and the airing", waits)
	}
	finish(t, r)
}

// TestStopFindingOnAnOpenMachine takes a stop miss with the machine open: nothing more is done, it
// is closed without power and tagged.
func TestStopFindingOnAnOpenMachine(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check", "fans-blow")
	reach(t, r, "blade-check", "screw-in")
	for range 8 { // screw-in is tried twice, then it stops
		say(t, r, "spins")
		if r.W.Stopped != "" {
			break
		}
	}
	if r.W.Stopped == "" {
		t.Fatal("a screw that does not hold did not stop the session")
	}
	for _, b := range r.W.Blocks[:r.W.Cur] {
		if b.ID == "switch-on" && b.Status == walk.Done {
			t.Error("power was switched on after a stop")
		}
	}
	finishStopped(t, r)
	if r.W.State() != "out of use" || r.W.Believed[model.Power] == "on" {
		t.Errorf("left as %s, power %s", r.W.State(), r.W.Believed[model.Power])
	}
	if !tagged(r, "stopped") {
		t.Error("no tag says it is stopped")
	}
}

func finishStopped(t *testing.T, r *walktest.Run) {
	t.Helper()
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			return
		}
		if p.Kind == walk.AskStep && p.Step.Gate == model.State && p.Step.Variable == model.Power &&
			p.Step.Value == "on" {
			t.Fatal("the closing of a stopped machine asks for power")
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatal("the stopped session does not end")
}

func tagged(r *walktest.Run, kind model.TagKind) bool {
	for _, e := range r.J.Entries {
		if e.Tag != nil && e.Tag.Kind == kind && !e.Tag.Clear {
			return true
		}
	}
	return false
}

func TestGivenUpLeavesLedgerAndTag(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := begin(t, lib, m, "belts-reset")
	reach(t, r, "belts-reset", "snug")
	rep, err := r.W.GiveUp(r.Context(), "called away")
	if err := r.Take(rep, err); err != nil {
		t.Fatal(err)
	}
	if !r.W.Ended || !tagged(r, "given-up") {
		t.Fatal("not ended with a tag")
	}
	if r.W.End.Ledger.Flags["belts"] == "" {
		t.Fatalf("the belts are loose and the ledger says %s", walk.LedgerLine(r.W.End.Ledger))
	}
	// a session that closes
	m.Ledger, m.Latched = r.W.End.Ledger, r.W.End.Latched
	fs := model.NewFeatureSet(m.Features...)
	s := walk.Start{Title: "closing", Ask: true, Closing: true}
	s.Items = append(s.Items, lib.Get("close-out").For(fs, m.Settings))
	for _, q := range lib.SetUps() {
		s.SetUps = append(s.SetUps, q.For(fs, m.Settings))
	}
	r2 := &walktest.Run{M: m, Get: lib.Get, Now: start.AddDate(0, 0, 1)}
	if err := r2.Begin(s); err != nil {
		t.Fatal(err)
	}
	was := model.Condition{"power": "unplugged", "heat": "cold", "filament": "unloaded",
		"cover": "on", "top": "off", "changer": "detached", "bed": "low", "door": "open"}
	for r2.W.Prompt(r2.Now).Kind == walk.AskState {
		v := r2.W.Prompt(r2.Now).Variable
		say(t, r2, asItWas(r2, v, was[v]))
	}
	finish(t, r2)
}

func TestSkipAndLeaveNeedAReason(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "desiccant-look")
	if rep := say(t, r, "skip"); !strings.Contains(rep.Refusal, "Say why") {
		t.Errorf("skip without a reason: %q", rep.Refusal)
	}
	if rep := say(t, r, "leave"); !strings.Contains(rep.Refusal, "Say why") {
		t.Errorf("leave without a reason: %q", rep.Refusal)
	}
	say(t, r, "leave the lid is stuck")
	if !r.W.Ended {
		t.Fatal("nothing is left and it goes on")
	}
	sum := walk.Summarise(r.W)
	if len(sum.Left) != 1 || !strings.Contains(sum.Left[0], "the lid is stuck") ||
		len(sum.Findings) != 1 {
		t.Errorf("the summary says %+v", sum)
	}
}

// TestRandomAnswers walks with answers of every kind, good and bad, and interruptions: it never
// panics, power never comes on with something out or in, and what is written always loads to the
// same stand.
func TestRandomAnswers(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	words := []string{"ok", "fail", "back", "0", "1", "2", "4", "9", "50", "-3", "on", "off",
		"unplugged", "H1", "cold", "25 °C", "", "pause",
		"skip no time", "leave no time", "cut no time", "note hm", "found", "not found", "worn", "lost", "3 lost", "3 back", "5 more", "0 lost"}
	rapid.Check(t, func(rt *rapid.T) {
		r := begin(t, lib, m, "belts-reset", "blade-check", "rods-wipe", "screws-oil")
		for range rapid.IntRange(1, 200).Draw(rt, "answers") {
			p := r.W.Prompt(r.Now)
			switch rapid.IntRange(0, 9).Draw(rt, "kind") {
			case 0:
				if _, err := r.Say(rapid.SampledFrom(words).Draw(rt, "word")); err != nil {
					rt.Fatal(err)
				}
			case 1:
				text := "x"
				if len(p.Options) > 0 {
					text = rapid.SampledFrom(p.Options).Draw(rt, "option")
				}
				if _, err := r.Say(text); err != nil {
					rt.Fatal(err)
				}
			case 2:
				if rapid.IntRange(0, 9).Draw(rt, "break") == 0 {
					r.Now = r.Now.Add(time.Hour)
				}
			default:
				if over, err := r.Step(); err != nil &&
					!strings.Contains(err.Error(), "was to pass") {
					rt.Fatal(err)
				} else if over {
					return
				}
			}
			invariants(rt, r)
		}
		loadsTheSame(rt, r)
	})
}

func invariants(rt *rapid.T, r *walktest.Run) {
	b := r.W.Block()
	l := r.W.Ledger()
	asked := r.W.Prompt(r.Now).Kind == walk.AskStep
	powered := r.W.Believed[model.Power] == "on" && asked
	if powered && r.W.Believed[model.Vapour] == "drying" && b != nil && b.Kind == "care" {
		rt.Fatalf("care under power with vapour in the air at %s", r.W.Position())
	}
	if s := r.W.Step(); powered && s != nil && b.Kind == "care" && !s.Own &&
		len(l.Flags["belts"]) > 0 && b.Proc.Require[model.Power] == "on" {
		rt.Fatalf("powered care with loose belts at %s/%s", b.ID, s.Name)
	}
}

func loadsTheSame(rt *rapid.T, r *walktest.Run) {
	l := r.W.Ledger()
	again, err := walk.Load(r.J.Entries, r.J.Text)
	if err != nil {
		rt.Fatal(err)
	}
	if again.Position() != r.W.Position() || walk.LedgerLine(again.Ledger()) != walk.LedgerLine(
		l) || walk.StateLine(again) != walk.StateLine(r.W) {
		rt.Fatalf("loaded anew it stands at %s with %q, not at %s with %q", again.Position(),
			walk.LedgerLine(again.Ledger()), r.W.Position(), walk.LedgerLine(l))
	}
}

// TestTheSameNumberIsTheSameAnswer: a reading that is right is typed once more, with its unit or
// without.
func TestTheSameNumberIsTheSameAnswer(t *testing.T) {
	lib := library(t)
	for _, again := range []string{"31 %RH", "31", "31.0"} {
		m := machine(lib, "full")
		m.Settings["changer-load"] = "nylon or PVA"
		r := begin(t, lib, m, "desiccant-look", "rods-wipe")
		reach(t, r, model.AsFound, "humidity-15")
		if rep := say(t, r, "31 %RH"); rep.Refusal == "" {
			t.Fatal("31 %RH passes at once")
		}
		if rep := say(t, r, again); rep.Refusal != "" {
			t.Errorf("31 %%RH and then %s: %s", again, rep.Refusal)
		}
	}
}

// TestTooManyAreNotMissing: who counts more than there can be is not sent to look for what is off.
func TestTooManyAreNotMissing(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "plug-in", "whole")
	if rep := say(t, r, "9"); !strings.Contains(rep.Refusal, "Count again") ||
		strings.Contains(rep.Refusal, "still off") {
		t.Errorf("nine parts: %s", rep.Refusal)
	}
	if rep := say(t, r, "1"); !strings.Contains(rep.Refusal, "still off") {
		t.Errorf("one part: %s", rep.Refusal)
	}
}
