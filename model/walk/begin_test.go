package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// blocksOf names the blocks of a session in order.
func blocksOf(r *walktest.Run) []string {
	var out []string
	for _, b := range r.W.Blocks {
		out = append(out, b.ID)
	}
	return out
}

// coldAndDark answers the state of a machine that was left unplugged, closed, unloaded and cold.
func coldAndDark(t *testing.T, r *walktest.Run) {
	t.Helper()
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		v := r.W.Prompt(r.Now).Variable
		text := map[model.Variable]string{model.Power: r.W.Begun.Settings["plug-tag"],
			model.Heat: "20", model.Bed: "low",
			model.Filament: "unloaded"}[v]
		if text == "" {
			text = model.Values[v][0]
		}
		say(t, r, text)
	}
}

// TestWhatSpeaksAgainstIsAskedFirst: before anything heats or moves it is asked whether anybody
// smelled or felt something, once for all that would ask it; an answer that something is open stops
// the session there.
func TestWhatSpeaksAgainstIsAskedFirst(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check")
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if p := r.W.Prompt(r.Now); p.Block.ID != "begin" || p.Step.Name != "against" ||
		p.Step.Rank() != model.Hold {
		t.Fatalf("the first step is %s/%s", p.Block.ID, p.Step.Name)
	}
	say(t, r, "no")
	reach(t, r, "as-found", "queue")
	if !passedKnown(r, "standing") {
		t.Error("as-found asked it again")
	}
	say(t, r, "back") // and over what passed by itself, to the answer it rests on
	say(t, r, "yes")
	if r.W.Stopped == "" {
		t.Error("a scorch smell is open and the session goes on")
	}
}

// TestLaidOutWhileItCools: a hot machine has a quarter of an hour of its own, and what is needed is
// laid out behind it; a cold one has none, and it is laid out first.
func TestLaidOutWhileItCools(t *testing.T) {
	lib := library(t)
	hot := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, hot, "begin", "against")
	ids := blocksOf(hot)
	if i := slices.Index(ids, "lay-out"); i < 1 || ids[i-1] != "cool" {
		t.Errorf("hot: %v", ids)
	}
	cold := begin(t, lib, machine(lib, "full"), "rods-wipe")
	coldAndDark(t, cold)
	if ids = blocksOf(cold); ids[0] != "begin" || ids[1] != "lay-out" {
		t.Errorf("cold: %v", ids)
	}
}

// TestNothingIsAskedOfALookAlone: a look that needs nothing of the machine begins with itself, and
// so does a session that only closes one.
func TestNothingIsAskedOfALookAlone(t *testing.T) {
	lib := library(t)
	look := begin(t, lib, machine(lib, "full"), "desiccant-look")
	closing := beginWith(t, lib, machine(lib, "full"), walk.Start{Ask: true, Closing: true},
		lib.Get("close-out"))
	finish(t, look)
	finish(t, closing)
	for _, r := range []*walktest.Run{look, closing} {
		if ids := blocksOf(r); slices.Contains(ids, "begin") || slices.Contains(ids, "lay-out") {
			t.Errorf("it began with %v", ids)
		}
	}
}

// atList goes to the laying out of a session on a cold, dark machine.
func atList(t *testing.T, ids ...string) *walktest.Run {
	t.Helper()
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), ids...)
	coldAndDark(t, r)
	reach(t, r, "lay-out", "laid-out")
	return r
}

func listed(r *walktest.Run) []string {
	var out []string
	for _, x := range r.W.Laying() {
		out = append(out, x.Name)
	}
	return out
}

// TestTheListIsOfAllThatComes: tools of set-up actions, supplies and protective gear are on it,
// each once, and a part with what to look at.
func TestTheListIsOfAllThatComes(t *testing.T) {
	r := atList(t, "blade-check", "rods-wipe", "layer-lens-clean")
	names := listed(r)
	for _, want := range []string{"padded mat", "tweezers", "blade", "lint-free wipe",
		"isopropyl alcohol", "glasses"} {
		if n := len(slices.DeleteFunc(slices.Clone(names), func(s string) bool {
			return s != want
		})); n != 1 {
			t.Errorf("%s is on the list %d times: %v", want, n, names)
		}
	}
	i := slices.Index(names, "blade")
	if x := r.W.Laying()[i]; x.Look != "packet of new blades laid out, shut" ||
		x.Kind != "supplies" {
		t.Errorf("the blades read %+v", x)
	}
	say(t, r, "all there")
	reach(t, r, "blade-check", "arm")
	if !passedKnown(r, "stock") {
		t.Error("the blades were asked for again")
	}
}

// TestAMissingToolLeavesOut: one that is not there is named with what cannot be done without it, a
// tool of a set-up action too; what the person leaves out is left for another day, and the rest is
// done.
func TestAMissingToolLeavesOut(t *testing.T) {
	for _, c := range []struct {
		thing string
		left  []string // of blade-check, rods-wipe, belts-reset
	}{
		{"tweezers", []string{"blade-check"}},
		// covers and panels are laid on it
		{"padded mat", []string{"blade-check", "rods-wipe", "belts-reset"}},
	} {
		r := atList(t, "blade-check", "rods-wipe", "belts-reset")
		say(t, r, "something is missing")
		if rep := say(t, r, "a left-handed screwdriver"); rep.Refusal == "" {
			t.Error("what is not on the list was taken as missing")
		}
		say(t, r, c.thing)
		p := r.W.Prompt(r.Now)
		if p.Kind != walk.AskLack || !strings.Contains(p.Question, c.thing) {
			t.Fatalf("it asks %s", p.Question)
		}
		say(t, r, "leave out")
		for _, id := range c.left {
			if slices.Contains(blocksOf(r), id) {
				t.Errorf("no %s, and %s is still to be done", c.thing, id)
			}
		}
		if p = r.W.Prompt(r.Now); p.Step == nil || p.Step.Name != "laid-out" {
			t.Fatalf("then it asks %s", p.Question)
		}
		finish(t, r)
		done, later := careOf(&r.J, "done"), 0
		for _, e := range r.J.Entries {
			if e.Finding != nil && e.Finding.Kind == "later" &&
				slices.Contains(c.left, e.Finding.Procedure) {
				later++
			}
		}
		for _, id := range []string{"blade-check", "rods-wipe", "belts-reset"} {
			if slices.Contains(done, id) == slices.Contains(c.left, id) {
				t.Errorf("without %s: done %v", c.thing, done)
			}
		}
		if later != len(c.left) {
			t.Errorf("without %s: %d findings", c.thing, later)
		}
	}
}

// TestGoneOnWithoutAPart: the person goes on without new blades; then they are asked for where one
// would go in.
func TestGoneOnWithoutAPart(t *testing.T) {
	r := atList(t, "blade-check")
	say(t, r, "something is missing")
	say(t, r, "blade")
	say(t, r, "go on")
	say(t, r, "all there")
	reach(t, r, "blade-check", "stock")
}

// TestFoundAfterAll: named as missing by a slip, it is here; or the answer is taken back.
func TestFoundAfterAll(t *testing.T) {
	r := atList(t, "blade-check")
	for _, how := range []string{"here", "back"} {
		say(t, r, "something is missing")
		say(t, r, "1")
		say(t, r, how)
		if how == "back" {
			say(t, r, "back")
		}
		if p := r.W.Prompt(r.Now); p.Step == nil || p.Step.Name != "laid-out" ||
			!slices.Contains(blocksOf(r), "blade-check") {
			t.Fatalf("after %s it asks %s of %v", how, p.Question, blocksOf(r))
		}
	}
	finish(t, r)
}

// TestWhatJoinsLaterIsAskedFor: packs were not on the list of a session that only looked at them.
func TestWhatJoinsLaterIsAskedFor(t *testing.T) {
	r := desked(t, "cool", "shed")
	reach(t, r, "desk", "shelf")
	say(t, r, "damp")
	reach(t, r, "desiccant", "stock")
}

// TestNothingIsAsGoodAsASecondPerson: who is alone leaves out what takes two.
func TestNothingIsAsGoodAsASecondPerson(t *testing.T) {
	r := atList(t, "estop-check-look", "rods-wipe")
	say(t, r, "something is missing")
	say(t, r, model.SecondPerson)
	if rep := say(t, r, "go on"); rep.Refusal == "" {
		t.Error("it goes on with something as good as a second person")
	}
	say(t, r, "leave out")
	if ids := blocksOf(r); slices.Contains(ids, "estop-check-look") || !slices.Contains(ids, "rods-wipe") {
		t.Errorf("left is %v", ids)
	}
}
