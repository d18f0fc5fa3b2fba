package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// lookAt begins a session that looks for the cause of a stop, by all that may be done.
func lookAt(t *testing.T, kind []string) *walktest.Run {
	t.Helper()
	lib := library(t)
	m := machine(lib, kind...)
	m.Tag = &model.Tag{Kind: model.TagStopped, Why: "scorch smell"}
	m.Findings = []model.Finding{{ID: "F1",
		Found: model.Found{Kind: model.FoundStop, Text: "scorch smell"}}}
	fs := model.NewFeatureSet(m.Features...)
	var ids []string
	for _, p := range lib.All() {
		if p.Fits(fs) && plan.Inspects(p.For(fs, m.Settings)) {
			ids = append(ids, p.ID)
		}
	}
	start := model.Condition{model.Power: model.Off, model.Bed: model.Low,
		model.Filament: model.Unloaded}
	_, all, err := plan.Assemble(lib.Get, fs, m.Settings, ids,
		plan.Request{SetUps: lib.SetUps(), Start: start, Locked: true, Loose: true})
	if err != nil {
		t.Fatal(err)
	}
	var items []*model.Procedure
	for _, id := range all {
		items = append(items, lib.Get(id))
	}
	return beginWith(t, lib, m, walk.Start{Title: "looking", Ask: true, Locked: true}, items...)
}

// TestLookingAtAStoppedMachine: however it is said to stand, nothing is looked at before the plug
// is out and the machine was read cold, nothing comes to power, heat or motors, and tag and finding
// stand at the end.
func TestLookingAtAStoppedMachine(t *testing.T) {
	for _, kind := range machineKinds {
		for _, as := range []map[model.Variable]string{
			{model.Power: "off", model.Heat: "20", model.Filament: "unloaded", model.Bed: "low"},
			{model.Power: "off", model.Heat: "hot", model.Filament: "loaded", model.Bed: "low"},
			{model.Power: "H1", model.Heat: "20", model.Filament: "loaded", model.Bed: "low"},
			{model.Power: "H1", model.Heat: "80", model.Filament: "unloaded", model.Bed: "low"},
			{model.Power: "H1", model.Heat: "20", model.Filament: "loaded", model.Bed: "high"},
		} {
			r := lookAt(t, kind)
			done := walkDark(t, r, as, nil)
			if as[model.Bed] == "low" && !slices.Contains(done, "electrical-look") {
				t.Errorf("%v, %v: only %v was looked at", kind, as, done)
			}
			if as[model.Bed] == "low" && done[0] != "cold-look" {
				t.Errorf("%v, %v: %s comes before what a stop left to be seen", kind, as, done[0])
			}
			for _, e := range r.J.Entries {
				if e.Tag != nil || e.Settled != nil {
					t.Errorf("%v: the session moves a tag or closes a finding", kind)
				}
			}
			if r.W.State() != "out of use" {
				t.Errorf("it is handed back as %s", r.W.State())
			}
		}
	}
}

// walkDark walks to the end with a state as said, and looks at each step of care; it gives what was
// looked at. bad gives an answer to a step of care, "" for the good one; it may be nil.
func walkDark(t *testing.T, r *walktest.Run, as map[model.Variable]string,
	bad func(*model.Step) string) []string {
	t.Helper()
	var done []string
	for range 2000 {
		p := r.W.Prompt(r.Now)
		switch {
		case p.Kind == walk.AskOver:
			return done
		case p.Kind == walk.AskState && as[p.Variable] != "" &&
			slices.Contains(append(p.Options, "20", "80", "H1"), as[p.Variable]):
			say(t, r, as[p.Variable])
			continue
		case p.Kind == walk.AskStep && p.Block.ID == "close-out" && p.Step.Name == "ready":
			if rep := say(t, r, "ready"); !strings.Contains(rep.Refusal, "stopped") {
				t.Errorf("a stopped machine is handed back ready: %q", rep.Refusal)
			}
			say(t, r, "out of use")
			continue
		case p.Kind == walk.AskStep && p.Block.Kind == model.BlockCare && p.Block.ID != "close-out":
			done = append(done, p.Block.ID)
			if dark(r) != "" {
				t.Fatalf("%s/%s stands and %s", p.Block.ID, p.Step.Name, dark(r))
			}
			if bad != nil && bad(p.Step) != "" {
				say(t, r, bad(p.Step))
				continue
			}
		case p.Kind == walk.AskStep && (len(p.Step.Drives) > 0 || p.Step.Gate == model.State &&
			p.Step.Value == "on" || p.Block.ID == "unload"):
			t.Fatalf("%s/%s is asked of a stopped machine", p.Block.ID, p.Step.Name)
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatal("it does not end")
	return nil
}

// dark says by the journal alone what is not known of a machine that hands go into: its plug said
// or seen out, and a reading of 45 °C or less behind the latest word that it is hot. "" where both
// are.
func dark(r *walktest.Run) string {
	out, cold := false, false
	for _, e := range r.J.Entries {
		x := e.Walk
		if x == nil || x.What != walk.Said && x.What != walk.Passed {
			continue
		}
		step, _ := stepOf(r.W, x.ID, x.Step)
		out = out || x.Answer == "unplugged" || step.Gate == model.State &&
			step.Value == "unplugged"
		if x.Unit == "°C" && x.Number != nil {
			cold = *x.Number <= 45
		} else if x.Variable == model.Heat {
			cold = false
		}
	}
	switch {
	case !out:
		return "nobody pulled the plug"
	case !cold:
		return "nobody read it cold"
	}
	return ""
}

// TestNothingJoinsThatIsMoreThanALook: what an inspection calls for is on record as due, and waits
// for the stop's end.
func TestNothingJoinsThatIsMoreThanALook(t *testing.T) {
	r := lookAt(t, machineKinds[0])
	called := map[string]bool{}
	walkDark(t, r, map[model.Variable]string{model.Filament: "unloaded", model.Bed: "low"},
		func(s *model.Step) string {
			for _, o := range s.Options {
				if o.Miss != nil && o.Miss.Then == model.ThenAdd {
					for _, id := range o.Miss.Procedures {
						called[id] = true
					}
					return o.Is
				}
			}
			return ""
		})
	for id := range called {
		if !slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
			return e.Due != nil && e.Due.Procedure == id
		}) {
			t.Errorf("%s was called for, and is not on record as due", id)
		}
	}
	if len(called) < 2 {
		t.Errorf("only %v was called for", called)
	}
	for _, b := range r.W.Blocks {
		if b.Kind == model.BlockCare && b.ID != "close-out" && !plan.Inspects(b.Proc) {
			t.Errorf("%s joined", b.ID)
		}
	}
}

// TestWhatAStoppedMachineMayHave: it is looked at for the cause, and unpacked where its packing
// stopped it; what heats, drives or renews waits.
func TestWhatAStoppedMachineMayHave(t *testing.T) {
	lib := library(t)
	m := machine(lib, machineKinds[2]...)
	for id, may := range map[string]bool{"cold-look": true, "unpack": true, "battery-check": true,
		"crash-look": false, "leak-clear": false, "heater-swap": false, "first-day": false} {
		p := lib.Get(id).For(model.NewFeatureSet(m.Features...), m.Settings)
		if plan.Inspects(p) != may {
			t.Errorf("%s on a stopped machine: %t, want %t", id, !may, may)
		}
	}
}
