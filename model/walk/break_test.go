package walk_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// count answers the ledger's questions as the book says.
func count(t *testing.T, r *walktest.Run) {
	t.Helper()
	for r.W.Prompt(r.Now).Kind == walk.AskLedger {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
}

// settledAt answers well until a prompt of a kind stands.
func settledAt(t *testing.T, r *walktest.Run, k walk.PromptKind) walk.Prompt {
	t.Helper()
	for range 500 {
		if p := r.W.Prompt(r.Now); p.Kind == k {
			return p
		}
		if over, err := r.Step(); err != nil {
			t.Fatal(err)
		} else if over {
			break
		}
	}
	t.Fatalf("nothing asks %s", k)
	return walk.Prompt{}
}

// TestEndedRightAfterBack: the program ends after an answer was taken back; what is written next
// must follow on the entries there are, or no terminal could ever carry the session on.
func TestEndedRightAfterBack(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "cool", "hot-end")
	say(t, r, "back")
	last := 0
	for _, e := range r.J.Entries {
		last = max(last, e.Ordinal)
	}
	again, err := walk.Load(r.J.Entries, r.J.Text)
	if err != nil {
		t.Fatal(err)
	}
	if again.Ordinal != last || r.W.Ordinal != last {
		t.Errorf("the last entry is number %d; loaded anew the walk goes on after %d, before after %d", last, again.Ordinal, r.W.Ordinal)
	}
}

// TestBackGoesOverAWait: a wait passes by itself, so taking back the wait alone would lead nowhere.
func TestBackGoesOverAWait(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	settledAt(t, r, walk.AskWait)
	say(t, r, "back")
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskStep || p.Step.Name != "zero" {
		// the targets are known from there
		t.Errorf("back from the wait leads to %s", p.Question)
	}
	reach(t, r, "cool", "hot-end")
	say(t, r, "back")
	if s := r.W.Step(); s == nil || s.Name != "zero" {
		t.Errorf("back from the reading leads to %v", s)
	}
	finish(t, r)
}

// TestBackOverACutWaitLetsItRunOn: the cut was an answer, and is taken back as one.
func TestBackOverACutWaitLetsItRunOn(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "first-layer")
	until := waitAt(t, r, "first-layer", "finish").Wait.Until
	say(t, r, "cut it is cold already")
	say(t, r, "back")
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskWait || !p.Wait.Until.Equal(until) {
		t.Errorf("after the cut was taken back it asks %s", p.Question)
	}
}

func TestANoteAfterHalfAnHourDoesNotSpareTheState(t *testing.T) {
	lib := library(t)
	for _, text := range []string{"note back from lunch", "back"} {
		r := begin(t, lib, machine(lib, "full"), "rods-wipe")
		reach(t, r, "rods-wipe", "dampen")
		r.Now = r.Now.Add(2 * time.Hour)
		say(t, r, text)
		if p := r.W.Prompt(r.Now); p.Kind != walk.AskResume {
			t.Errorf("after two hours and %q it asks %s: %s", text, p.Kind, p.Question)
		}
	}
}

// TestStateIsAskedWithoutTheStepsHint: what a count must be says nothing about the state that is
// asked before it goes on.
func TestStateIsAskedWithoutTheStepsHint(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "cool", "hot-end")
	if walk.Wants(r.W, r.Context()) == "" {
		t.Fatal("a measured step says nothing of its range")
	}
	r.Now = r.Now.Add(time.Hour)
	say(t, r, "ok")
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskState {
		t.Fatalf("after the break it asks %q", p.Question)
	}
	if hint := walk.Wants(r.W, r.Context()); hint != "" {
		t.Errorf("the state is asked with %q", hint)
	}
}

// TestASetUpInterruptedBeginsAgain: the plug was out, the work broke off, somebody put it back in.
// What was answered before says nothing about now.
func TestASetUpInterruptedBeginsAgain(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "unplug", "sight")
	resume(t, r, map[model.Variable]string{model.Power: "off"})
	count(t, r)
	if b, s := r.W.Block(), r.W.Step(); b.ID != "unplug" || s.Name != "plug" {
		t.Fatalf("the plug is in, and it goes on at %s/%s", b.ID, s.Name)
	}
	finish(t, r)
}

// TestTubesDrawnTwiceAreCountedOnce: the changer came off in part, the work broke off, and it comes
// off again.
func TestTubesDrawnTwiceAreCountedOnce(t *testing.T) {
	lib := library(t)
	for _, c := range []struct{ name, count string }{{"put back meanwhile", "0 back"},
		{"still out", "1"}} {
		t.Run(c.name, func(t *testing.T) {
			r := begin(t, lib, machine(lib, "full", "lid-changer"), "rods-wipe")
			reach(t, r, "changer-off", "lead")
			if n := r.W.Ledger().Out["tubes"]; n != 1 {
				t.Fatalf("%d tubes out", n)
			}
			resume(t, r, map[model.Variable]string{model.Changer: "mounted"})
			say(t, r, c.count)
			if b, s := r.W.Block(), r.W.Step(); b.ID != "changer-off" || s.Name != "strand" {
				t.Fatalf("it goes on at %s/%s", b.ID, s.Name)
			}
			reach(t, r, "changer-off", "lead")
			if n := r.W.Ledger().Out["tubes"]; n != 1 {
				t.Errorf("%d tubes out", n)
			}
			finish(t, r)
		})
	}
}

func TestAnAiringThatRunsStopsBehindAClosedDoor(t *testing.T) {
	lib := library(t)
	for _, v := range []model.Variable{model.Door, model.Top} {
		t.Run(string(v), func(t *testing.T) {
			r := begin(t, lib, machine(lib, "full"), "rods-wipe")
			for settledAt(t, r, walk.AskWait).Wait.Clock != model.Airing {
				if _, err := r.Step(); err != nil {
					t.Fatal(err)
				}
			}
			r.Now = r.Now.Add(time.Hour)
			resume(t, r, map[model.Variable]string{v: model.Values[v][0]})
			said := r.Now
			for r.W.Believed[model.Vapour] == "drying" {
				if over, err := r.Step(); err != nil {
					t.Fatal(err)
				} else if over {
					t.Fatal("over, and vapour is in the air")
				}
			}
			if aired := r.Now.Sub(said); aired < 10*time.Minute {
				t.Errorf("%s shut for an hour, and vapour cleared %s after it was said", v, aired)
			}
			if r.W.Believed[v] == model.Values[v][0] {
				t.Errorf("it aired with the %s %s", v, r.W.Believed[v])
			}
			finish(t, r)
		})
	}
}

// TestALookAsksTheStateWhereVapourHangs: nothing is opened for a look, but an earlier session left
// solvent.
func TestALookAsksTheStateWhereVapourHangs(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Latched = model.Condition{model.Vapour: "drying", model.Sensor: "proved"}
	r := beginWith(t, lib, m, walk.Start{Title: "look"}, lib.Get("desiccant-look"))
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskState {
		t.Fatalf("it asks %s: %s", p.Kind, p.Question)
	}
	if !r.W.Clocks["airing"].IsZero() {
		t.Error("the airing runs, and nobody said that the door is open")
	}
	finish(t, r)
}

// beginWith begins a session of given procedures as they stand.
func beginWith(t *testing.T, lib *procedures.Library, m *model.Machine, s walk.Start,
	procs ...*model.Procedure) *walktest.Run {
	t.Helper()
	fs := model.NewFeatureSet(m.Features...)
	for _, p := range procs {
		s.Items = append(s.Items, p.For(fs, m.Settings))
	}
	for _, q := range lib.SetUps() {
		s.SetUps = append(s.SetUps, q.For(fs, m.Settings))
	}
	r := &walktest.Run{M: m, Get: lib.Get, Now: start}
	if err := r.Begin(s); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestAMachineFoundOpen begins at one that stands open: what is off counts as out, and goes back.
func TestAMachineFoundOpen(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		name     string
		features []string
		stands   string
	}{
		{"enclosed", []string{"full"}, "H1|31|unloaded|off|off|detached|low|open"},
		{"with a changer on its lid", []string{"full", "lid-changer"},
			"H1|31|unloaded|off|off|detached|low|open"},
		{"bedslinger", machineKinds[1], "H1|31|unloaded|off|low"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := begin(t, lib, machine(lib, c.features...), "rods-wipe")
			for _, a := range strings.Split(c.stands, "|") {
				say(t, r, a)
			}
			if r.W.Ledger().Empty() {
				t.Fatal("it stands open, and the book has nothing out")
			}
			count(t, r)
			closeFoundOpen(t, r)
			if l := r.W.Ledger(); !r.W.Ended || !l.Empty() {
				t.Errorf("ended %v with %s", r.W.Ended, walk.LedgerLine(l))
			}
		})
	}
}

// closeFoundOpen answers what is put back as a person would who counts it.
func closeFoundOpen(t *testing.T, r *walktest.Run) {
	t.Helper()
	put := map[string]string{"seat": "1", "set-down": "1", "tubes": "3", "screws-2": "2"}
	closes, seen := map[string]bool{"cover-on": true, "top-on": true, "changer-on": true,
		"plug-in": true}, map[string]bool{}
	for range 300 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			return
		}
		if p.Kind == walk.AskStep && p.Step.Gate == model.Count && put[p.Step.Name] != "" &&
			!seen[p.Block.ID+p.Step.Name] && closes[p.Block.ID] {
			seen[p.Block.ID+p.Step.Name] = true // the first time it is as it was found
			if rep := say(t, r, put[p.Step.Name]); rep.Refusal != "" {
				t.Fatalf("%s/%s: %s put back is refused: %s", p.Block.ID, p.Step.Name,
					put[p.Step.Name], rep.Refusal)
			}
			continue
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
}

// TestParkedIsParkedAfterABreak: what waits for a part is not done because the program was ended
// meanwhile.
func TestParkedIsParkedAfterABreak(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "fans-blow", "vanes")
	say(t, r, "cracked vane")
	if s := r.W.Step(); s == nil || s.Name != "inside" {
		t.Fatalf("it goes on at %v", s)
	}
	resume(t, r, nil)
	count(t, r)
	if b, s := r.W.Block(), r.W.Step(); b.ID != "fans-blow" || s.Name != "inside" {
		t.Fatalf("after the break it goes on at %s/%s", b.ID, s.Name)
	}
	finish(t, r)
	if done := careOf(&r.J, "done"); slices.Contains(done, "fans-blow") {
		t.Error("it is recorded as done")
	}
	if part := careOf(&r.J, "part"); !slices.Contains(part, "fans-blow") {
		t.Errorf("it is not recorded as begun: %v", part)
	}
}

// TestTheRestIsPlannedAgainWithoutWhatWasDoneElsewhere: the person is told and decides; then it is
// left out, and what it alone had asked for with it.
func TestTheRestIsPlannedAgainWithoutWhatWasDoneElsewhere(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := begin(t, lib, m, "blade-check", "rods-wipe")
	reach(t, r, "open-door", "open")
	if rep := say(t, r, "plan"); !strings.Contains(rep.Refusal, "the order stands") {
		t.Fatalf("nothing was logged: %q", rep.Refusal)
	}
	m.Parts = map[string]*model.PartNow{"blade": {Since: r.Now}}
	if late := r.W.Late(m); !slices.Equal(late, []string{"blade-check"}) {
		t.Fatalf("done elsewhere: %v", late)
	}
	if rep := say(t, r, "plan"); rep.Refusal != "" {
		t.Fatal(rep.Refusal)
	}
	for _, b := range r.W.Blocks[r.W.Cur:] {
		if b.ID == "blade-check" || b.ID == "cover-off" {
			t.Errorf("%s still lies ahead", b.ID)
		}
	}
	if b, s := r.W.Block(), r.W.Step(); b.ID != "open-door" || s.Name != "open" {
		t.Errorf("it goes on at %s/%s", b.ID, s.Name)
	}
	finish(t, r)
	if done := careOf(&r.J, "done"); slices.Contains(done, "blade-check") ||
		!slices.Contains(done, "rods-wipe") {
		t.Errorf("done: %v", done)
	}
	loads(t, r)
}

// TestHowItIsLeftIsNamedAgainAfterABreak: named ready, and broken off before the signature; what is
// found then may have made it anything else.
func TestHowItIsLeftIsNamedAgainAfterABreak(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "close-out", "sign")
	resume(t, r, nil)
	count(t, r)
	reach(t, r, "close-out", "ready")
	finish(t, r)
}

// loads sees that what is in the journal stands as the walk does.
func loads(t *testing.T, r *walktest.Run) {
	t.Helper()
	again, err := walk.Load(r.J.Entries, r.J.Text)
	if err != nil {
		t.Fatal(err)
	}
	if again.Position() != r.W.Position() || walk.StateLine(again) != walk.StateLine(r.W) {
		t.Errorf("loaded anew it stands at %s, not at %s", again.Position(), r.W.Position())
	}
}
