package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestWhatIsSaidAgainstTheBookIsAskedAtOnce: a panel in its place is not out, and a bed that is
// high stands on no block. Which of the two is true is asked before anything else, and both
// together never pass.
func TestWhatIsSaidAgainstTheBookIsAskedAtOnce(t *testing.T) {
	lib := library(t)
	for _, of := range []struct {
		kind  []string
		care  string
		at    [2]string
		v     model.Variable
		said  string
		item  string
		truth string // what was said wrong, said right
	}{
		{[]string{"full"}, "rods-wipe", [2]string{"rods-wipe", "dampen"}, model.Top, "on",
			"top panel", "off"},
		{[]string{"full"}, "blade-check", [2]string{"blade-check", "screw-in"}, model.Cover, "on",
			"cover", "off"},
		{machineKinds[1], "fans-blow", [2]string{"unplug", "plug"}, model.Bed, "high", "in:blocks",
			"on blocks"},
	} {
		r := begin(t, lib, machine(lib, of.kind...), of.care)
		reach(t, r, of.at[0], of.at[1])
		had := bookOf(r, of.item)
		if had == 0 {
			t.Fatalf("%s: nothing is booked", of.item)
		}
		if rep, err := r.W.Resume(r.Context()); r.Take(rep, err) != nil {
			t.Fatal(err)
		}
		for p := r.W.Prompt(r.Now); p.Kind == walk.AskState; p = r.W.Prompt(r.Now) {
			text := asItWas(r, p.Variable,
				map[model.Variable]string{model.Power: "unplugged"}[p.Variable])
			if p.Variable == of.v {
				text = of.said
			}
			if say(t, r, text); p.Variable == of.v {
				break
			}
		}
		p := r.W.Prompt(r.Now)
		if p.Kind != walk.AskLedger || p.Item != of.item ||
			!strings.Contains(p.Question, "said to be "+of.said) {
			t.Errorf("%s said %s over %s, and it asks %s: %s", of.v, of.said, of.item, p.Kind,
				p.Question)
			continue
		}
		for range 3 {
			if rep := say(t, r, "1"); rep.Refusal == "" {
				t.Errorf("%s is %s and %s is out", of.v, of.said, of.item)
			}
		}
		say(t, r, "back")
		if p := r.W.Prompt(r.Now); p.Variable != of.v {
			t.Errorf("taken back, it asks %s", p.Question)
		}
		say(t, r, of.truth)
		if n := bookOf(r, of.item); n != had {
			t.Errorf("%s: %d of %d left on the book", of.item, n, had)
		}
		finish(t, r)
	}
}

// bookOf is how many of an item the book holds.
func bookOf(r *walktest.Run, item string) int {
	if name, in := cut(item, "in:"); in {
		return r.W.Ledger().Inside[name]
	}
	return r.W.Ledger().Out[item]
}

// TestPutBackInABreak: the panel was put on in a break, so it is in its place and counts as back.
func TestPutBackInABreak(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "dampen")
	resume(t, r, map[model.Variable]string{model.Top: "on"})
	if say(t, r, "0 back"); r.W.Ledger().Out["top panel"] != 0 {
		t.Errorf("the panel is on, and the book has %s", walk.LedgerLine(r.W.Ledger()))
	}
	finish(t, r)
}

// TestRowsOfTheStateContradictToo: answered on one screen, what is said and counted must agree as
// well.
func TestRowsOfTheStateContradictToo(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "dampen")
	if rep, err := r.W.Resume(r.Context()); r.Take(rep, err) != nil {
		t.Fatal(err)
	}
	n := len(r.J.Entries)
	rep, err := r.W.AnswerStates(r.Context(), []walk.StateAnswer{{Variable: model.Top, Text: "on"},
		{Item: "top panel", Text: "1"}})
	if err != nil || !strings.Contains(rep.Refusal, "cannot be out with top on") {
		t.Errorf("refused as %q, %v", rep.Refusal, err)
	}
	if len(r.J.Entries) != n {
		t.Error("half of it is written")
	}
}

// TestThePowerRowNamesTheTag: the plug's, where one is wanted, and the stop's, where that keeps
// power away.
func TestThePowerRowNamesTheTag(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := begin(t, lib, m, "rods-wipe")
	for _, text := range []string{"unplugged", "u", "H7"} {
		if rep := say(t, r, text); !strings.Contains(rep.Refusal, "tag") ||
			strings.Contains(rep.Refusal, "H1") {
			t.Errorf("%q: %q", text, rep.Refusal)
		}
	}
	m.Tag = &model.Tag{Kind: "stopped", Why: "scorch smell at the bed"}
	r = beginWith(t, lib, m, walk.Start{Title: "closing", Ask: true, Closing: true, Locked: true},
		lib.Get("close-out"))
	if rep := say(t, r, "on"); !strings.Contains(rep.Refusal,
		"Tagged stopped: scorch smell at the bed.") {
		t.Errorf("on, stopped: %q", rep.Refusal)
	}
}

// TestWhatJoinsOverTheBlocksOfAGantry: without power a gantry may stay on its blocks, so what was
// found goes on there.
func TestWhatJoinsOverTheBlocksOfAGantry(t *testing.T) {
	lib := library(t)
	look := rogue(model.Step{Name: "look", Do: "Look.", Gate: model.Choice,
		Options: []model.Option{{Is: "good"},
			{Is: "bad", Miss: &model.Miss{Then: "add", Procedures: []string{"camera-clean"},
				Say: "Clean it."}}}})
	look.Require = model.Condition{model.Power: "unplugged"}
	m := slinger(lib, "open-frame", "camera")
	m.Ledger = model.Ledger{Inside: map[string]int{"blocks": 2}}
	r := beginWith(t, lib, m, walk.Start{Title: "look", Ask: true}, look)
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		p := r.W.Prompt(r.Now)
		say(t, r, asItWas(r, p.Variable, map[model.Variable]string{model.Power: "unplugged",
			model.Bed: "low"}[p.Variable]))
	}
	reach(t, r, "rogue", "look")
	say(t, r, "bad")
	finish(t, r)
	if done := careOf(&r.J, "done"); !strings.Contains(strings.Join(done, " "), "camera-clean") {
		t.Errorf("done: %v", done)
	}
}
