package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestBlocksSaidToStandAreBooked: whoever stood them there, they are in the machine and have to
// come out.
func TestBlocksSaidToStandAreBooked(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		kind            []string
		step, say, many string
		want            int
	}{
		{machineKinds[1], "stand", "on both blocks", "2", 2},
		{machineKinds[0], "rest", "stands on a block", "1", 1},
	} {
		r := begin(t, lib, machine(lib, c.kind...), "fans-blow")
		reach(t, r, "switch-off", c.step)
		say(t, r, c.say)
		say(t, r, "0")
		say(t, r, "0")
		if s := r.W.Step(); s == nil || s.Name != c.step {
			t.Fatalf("%s with no block goes on at %v", c.say, s)
		}
		say(t, r, c.say)
		say(t, r, c.many)
		if n := r.W.Ledger().Inside["blocks"]; n != c.want {
			t.Errorf("%s: %d blocks are booked", c.say, n)
		}
		finish(t, r)
		if l := r.W.End.Ledger; !l.Empty() {
			t.Errorf("it closes with %s", walk.LedgerLine(l))
		}
	}
}

// TestBlocksSaidToStandOutliveABreak: broken off between the answer and the count, the book has
// them, and a gantry said to be high is asked about; where the count ends in a stop they are on the
// book too.
func TestBlocksSaidToStandOutliveABreak(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		kind      []string
		step, say string
		want      int
	}{
		{machineKinds[1], "stand", "on both blocks", 2},
		{machineKinds[0], "rest", "stands on a block", 1},
	} {
		r := begin(t, lib, machine(lib, c.kind...), "fans-blow")
		reach(t, r, "switch-off", c.step)
		say(t, r, c.say)
		if rep, err := r.W.Resume(r.Context()); r.Take(rep, err) != nil {
			t.Fatal(err)
		}
		if n := r.W.Ledger().Inside["blocks"]; n != c.want {
			t.Errorf("after a break at %s: %d blocks on the book", c.say, n)
		}
		for p := r.W.Prompt(r.Now); p.Kind == walk.AskState; p = r.W.Prompt(r.Now) {
			say(t, r, asItWas(r, p.Variable, map[model.Variable]string{model.Power: "unplugged",
				model.Bed: "high"}[p.Variable]))
		}
		if p := r.W.Prompt(r.Now); p.Item != "in:blocks" || p.Against != model.Bed {
			t.Errorf("said to be high over %d blocks, it asks %q", c.want, p.Question)
		}

		r = begin(t, lib, machine(lib, c.kind...), "fans-blow")
		reach(t, r, "switch-off", c.step)
		for range 8 {
			if r.W.Stopped != "" {
				break
			}
			say(t, r, c.say)
			say(t, r, "0")
		}
		if n := r.W.Ledger().Inside["blocks"]; r.W.Stopped == "" || n != c.want {
			t.Errorf("stopped %q at the count: %d blocks on the book", r.W.Stopped, n)
		}
	}
}

// TestAtRestItIsLow: a bed seen to rest is low, whatever was believed.
func TestAtRestItIsLow(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "switch-off", "off")
	r.W.Believed[model.Bed] = "high"
	say(t, r, "off")
	if is := r.W.Believed[model.Bed]; is != "low" {
		t.Errorf("it rests, and the bed is believed %s", is)
	}
}

// TestNoBlocksThatNeverWere: how the bed is said to stand changes no count the book has.
func TestNoBlocksThatNeverWere(t *testing.T) {
	lib := library(t)
	for _, said := range []string{"low", "high", "on blocks"} {
		r := begin(t, lib, machine(lib, machineKinds[1]...), "fans-blow")
		reach(t, r, "unplug", "plug")
		if rep, err := r.W.Resume(r.Context()); r.Take(rep, err) != nil {
			t.Fatal(err)
		}
		book := r.W.Ledger().Inside["blocks"] // those of switch-off
		for r.W.Prompt(r.Now).Kind == walk.AskState {
			p := r.W.Prompt(r.Now)
			text := asItWas(r, p.Variable,
				map[model.Variable]string{model.Power: "unplugged"}[p.Variable])
			if p.Variable == model.Bed {
				text = said
			}
			say(t, r, text)
		}
		if p := r.W.Prompt(r.Now); p.Item != "in:blocks" || p.Want != book {
			t.Fatalf("of %d blocks it asks %q", book, p.Question)
		}
	}
}

// TestSaidToStandOnBlocks asks how many there are where the book has none, and takes none for no
// answer.
func TestSaidToStandOnBlocks(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		kind          []string
		bed, bad, say string
		want          int
	}{
		{machineKinds[1], "on blocks", "1", "2", 2},
		{machineKinds[0], "on blocks", "0", "1", 1},
		{machineKinds[1], "low", "", "", 0},
		{machineKinds[0], "low", "", "", 0},
	} {
		r := begin(t, lib, machine(lib, c.kind...), "fans-blow")
		for r.W.Prompt(r.Now).Kind == walk.AskState {
			switch p := r.W.Prompt(r.Now); p.Variable {
			case model.Power:
				say(t, r, "off")
			case model.Bed:
				say(t, r, c.bed)
			default:
				if _, err := r.Step(); err != nil {
					t.Fatal(err)
				}
			}
		}
		p := r.W.Prompt(r.Now)
		if c.say == "" {
			if p.Kind == walk.AskLedger || r.W.Ledger().Inside["blocks"] != 0 {
				t.Errorf("%s: %q, %s", c.bed, p.Question, walk.LedgerLine(r.W.Ledger()))
			}
			continue
		}
		if p.Kind != walk.AskLedger || !strings.Contains(p.Question, "blocks") ||
			strings.Contains(p.Question, "book") {
			t.Fatalf("on blocks, and it asks %s", p.Question)
		}
		if rep := say(t, r, c.bad); rep.Refusal == "" {
			t.Errorf("on %s blocks passes", c.bad)
		}
		say(t, r, c.say)
		if n := r.W.Ledger().Inside["blocks"]; n != c.want {
			t.Errorf("%d blocks are booked", n)
		}
		finish(t, r)
	}
}

// TestAGantryAtTheBottomNeedsNoBlocks: it can sink no further; nothing is booked and no hand goes
// in under power.
func TestAGantryAtTheBottomNeedsNoBlocks(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, machineKinds[1]...), "fans-blow")
	reach(t, r, "switch-off", "stand")
	say(t, r, "lies at the bottom")
	if s := r.W.Step(); s == nil || s.Name != "off" {
		t.Fatalf("it goes on at %v", s)
	}
	finish(t, r)
	if n := r.W.End.Ledger.Inside["blocks"]; n != 0 {
		t.Errorf("%d blocks are booked", n)
	}
}

// TestHandsUnderPowerAreWarned: wherever blocks go under or a print comes off while the machine is
// switched on, what may move by itself is said.
func TestHandsUnderPowerAreWarned(t *testing.T) {
	lib := library(t)
	for id, names := range map[string][]string{
		"switch-off":  {"quiet", "blocks", "jog-up", "block-bed"},
		"first-layer": {"clear", "lift"},
		"flow-check":  {"clear-1", "lift-1", "clear-2", "lift-2"},
	} {
		p := lib.Get(id)
		for _, name := range names {
			s := p.Step(name)
			if !slices.ContainsFunc(walk.CautionsFor(p, s, false), func(c model.Caution) bool {
				return c.ID == "live"
			}) {
				t.Errorf("%s: nobody is warned before %s", id, name)
			}
		}
	}
}

// TestThePrintComesOffByItself: the wait for a print shows its own text; the figure is judged
// before a hand is sent in; what holds the machine still is asked before the hand and again after a
// no, and the door after it where there is one.
func TestThePrintComesOffByItself(t *testing.T) {
	lib := library(t)
	for _, of := range []struct {
		care, wait, read, clear, lift, shut, next string
	}{
		{"first-layer", "finish", "cool", "clear", "lift", "shut", "thinnest"},
		{"flow-check", "run-1", "off-1", "clear-1", "lift-1", "shut-1", "wall-1"},
	} {
		for _, features := range [][]string{machineKinds[0], machineKinds[1]} {
			r := begin(t, lib, machine(lib, features...), of.care)
			if p := waitAt(t, r, of.care, of.wait); p.Step == nil || p.Step.Name != of.wait {
				t.Fatalf("%s %v: while it prints the screen shows %+v", of.care, features, p.Step)
			}
			reach(t, r, of.care, of.read)
			say(t, r, "80")
			if s := r.W.Step(); s.Name != of.read {
				t.Errorf("%s %v: at 80 °C it goes on at %s", of.care, features, s.Name)
			}
			reach(t, r, of.care, of.clear)
			say(t, r, "no")
			if s := r.W.Step(); s.Name != of.clear {
				t.Errorf("%s %v: a no to what holds it still goes on at %s", of.care, features,
					s.Name)
			}
			reach(t, r, of.care, of.lift)
			reach(t, r, of.care, of.next)
			if asked := wasPassed(r, of.care, of.shut); asked != (features[0] == "full") {
				t.Errorf("%s %v: the door is asked of: %v", of.care, features, asked)
			}
			finish(t, r)
		}
	}
}

// wasPassed tells whether a step of a block was passed.
func wasPassed(r *walktest.Run, block, step string) bool {
	return slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Walk != nil && e.Walk.What == walk.Passed && e.Walk.ID == block &&
			e.Walk.Step == step
	})
}
