package walk_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// foundOn begins a session on a machine an earlier session left so, and says that it is on.
func foundOn(t *testing.T, kind []string, l model.Ledger, latched model.Condition,
	ids ...string) *walktest.Run {
	t.Helper()
	lib := library(t)
	m := machine(lib, kind...)
	m.Ledger, m.Latched = l, latched
	r := begin(t, lib, m, ids...)
	for r.W.Prompt(r.Now).Variable != model.Power {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if rep := say(t, r, "on"); rep.Refusal != "" {
		t.Fatal(rep.Refusal)
	}
	return r
}

// powerless answers well until power is off, and sees that nothing but cutting it is asked till
// then, and nothing but the way to the plug and what is to be said till it is unplugged.
func powerless(t *testing.T, r *walktest.Run) {
	t.Helper()
	for range 200 {
		if r.W.Believed[model.Power] == "unplugged" {
			return
		}
		p := r.W.Prompt(r.Now)
		on := r.W.Believed[model.Power] == "on"
		switch {
		case on && (p.Block == nil || !plan.IsCut(p.Block.ID)):
			t.Fatalf("under power it asks %s: %s", p.Kind, p.Question)
		case p.Kind == walk.AskZero, p.Kind == walk.AskFind:
			t.Fatalf("hands go in with power %s: %s", r.W.Believed[model.Power], p.Question)
		case p.Kind == walk.AskStep && !plan.Leaves(p.Block.ID):
			t.Fatalf("with power %s it goes on at %s/%s", r.W.Believed[model.Power], p.Block.ID,
				p.Step.Name)
		}
		if over, err := r.Step(); err != nil {
			t.Fatal(err)
		} else if over {
			break
		}
	}
	t.Fatalf("it is never unplugged: power %s", r.W.Believed[model.Power])
}

// TestPowerFoundOnOverALedger takes the ways a machine can stand unfinished under power: nothing
// moves, nothing heats and no hand goes in before it is off and unplugged.
func TestPowerFoundOnOverALedger(t *testing.T) {
	for _, c := range []struct {
		name   string
		kind   []string
		ledger model.Ledger
		ids    []string
	}{
		{"blocks under a gantry, and a sock out", machineKinds[1],
			model.Ledger{Out: map[string]int{"sock": 1}, Inside: map[string]int{"blocks": 2}},
			[]string{"self-check"}},
		{"belts loosened", machineKinds[0],
			model.Ledger{Flags: map[string]string{"belts": "loosened"}},
			[]string{"blade-check-look", "first-layer"}},
		{"a sensor plug parted", machineKinds[0],
			model.Ledger{Flags: map[string]string{"sensor-plug": "parted"}}, []string{"belt-tone"}},
		{"a cover screw out", machineKinds[0], model.Ledger{Out: map[string]int{"cover screws": 1}},
			[]string{"self-check"}},
		{"plate out and paper inside", machineKinds[0],
			model.Ledger{Out: map[string]int{"build plate": 1}, Inside: map[string]int{"paper": 1}},
			[]string{"rods-wipe"}},
		{"a piece missing", machineKinds[0],
			model.Ledger{Flags: map[string]string{"lost-piece": "cover screw"}},
			[]string{"self-check"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := foundOn(t, c.kind, c.ledger, nil, c.ids...)
			powerless(t, r)
			finish(t, r)
			if r.W.Believed[model.Power] != "on" {
				t.Errorf("it ends with power %s", r.W.Believed[model.Power])
			}
			loads(t, r)
		})
	}
}

// TestPowerFoundOnInASession breaks sessions off with things out and says that power is on.
func TestPowerFoundOnInASession(t *testing.T) {
	lib := library(t)
	for _, at := range [][3]string{{"blade-check", "blade-check", "blade-out"},
		{"belts-reset", "belts-reset", "strokes"},
		{"screws-oil", "screws-oil", "low-wipe"}, {"rods-wipe", "rods-wipe", "dampen"}} {
		t.Run(at[0], func(t *testing.T) {
			r := begin(t, lib, machine(lib, "full"), at[0])
			for range 400 {
				p := r.W.Prompt(r.Now)
				if p.Kind == walk.AskStep && p.Block.ID == at[1] && !r.W.Ledger().Empty() &&
					r.W.StepAt > 2 {
					break
				}
				if _, err := r.Step(); err != nil {
					t.Fatal(err)
				}
			}
			rep, err := r.W.Resume(r.Context())
			if err := r.Take(rep, err); err != nil {
				t.Fatal(err)
			}
			say(t, r, "on")
			powerless(t, r)
			finish(t, r)
			if done := careOf(&r.J, "done"); !slices.Contains(done, at[0]) {
				t.Errorf("it is not done: %v", done)
			}
		})
	}
}

// TestAPlateOutUnderPowerIsCut: a plate is washed away from the machine, so that is off meanwhile;
// found on, it is cut.
func TestAPlateOutUnderPowerIsCut(t *testing.T) {
	lib := library(t)
	for _, door := range []string{"open", "closed"} {
		r := begin(t, lib, machine(lib, "full"), "plate-wash")
		reach(t, r, "plate-wash", "wash")
		resume(t, r, map[model.Variable]string{model.Power: "on", model.Heat: "25",
			model.Door: door, model.Bed: "low"})
		count(t, r)
		if b := r.W.Block(); !plan.IsCut(b.ID) {
			t.Errorf("with the door %s it goes on at %s", door, b.ID)
		}
		finish(t, r)
	}
}

// TestPowerInVapour cuts it away from the vapour, then airs for ten minutes before anybody goes
// near.
func TestPowerInVapour(t *testing.T) {
	drying := model.Condition{model.Vapour: "drying", model.Sensor: "proved"}
	for _, reach := range []string{"circuit at the board", "plug or strip, away"} {
		t.Run(reach, func(t *testing.T) {
			r := foundOn(t, machineKinds[0], model.Ledger{}, drying, "rods-wipe")
			began := r.Now
			for range 20 {
				p := r.W.Prompt(r.Now)
				if p.Block == nil || p.Block.ID != plan.CutVapour {
					break
				}
				if p.Kind == walk.AskStep && p.Step.Name == "reach" {
					say(t, r, reach)
					continue
				}
				if p.Kind == walk.AskWait {
					if rep := say(t, r, "cut no time"); rep.Refusal == "" {
						t.Error("the airing is cut")
					}
				}
				if _, err := r.Step(); err != nil {
					t.Fatal(err)
				}
			}
			if r.W.Believed[model.Power] != "off" {
				t.Fatalf("power is %s", r.W.Believed[model.Power])
			}
			if r.Now.Sub(began) < 10*time.Minute {
				t.Errorf("it is gone near %s after power was found on", r.Now.Sub(began))
			}
			if top := r.W.Ledger().Out["top panel"]; top != 1 {
				t.Errorf("the panel was lifted off and %d are out", top)
			}
			finish(t, r)
		})
	}
}

// TestPowerFoundOnAtAGate: the plug is to come out, and the machine turns out to be on.
func TestPowerFoundOnAtAGate(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Ledger = model.Ledger{Flags: map[string]string{"belts": "loosened"}}
	r := begin(t, lib, m, "belts-reset")
	for _, a := range strings.Split("off|25|unloaded|on|on|mounted|low|closed|ok", "|") {
		say(t, r, a)
	}
	if b := r.W.Block(); b == nil || b.ID != "unplug" {
		t.Fatalf("with belts loose and power off it goes on at %v", b)
	}
	say(t, r, "on")
	powerless(t, r)
	finish(t, r)
}

// TestBrokenOffInTheEmergency: how it stands is asked anew, and cut again where power is still on.
func TestBrokenOffInTheEmergency(t *testing.T) {
	r := foundOn(t, machineKinds[0], model.Ledger{Out: map[string]int{"cover screws": 2}}, nil,
		"self-check")
	say(t, r, "ok")
	rep, err := r.W.Resume(r.Context())
	if err := r.Take(rep, err); err != nil {
		t.Fatal(err)
	}
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskState || p.Variable != model.Power {
		t.Fatalf("it asks %s", p.Question)
	}
	say(t, r, "on")
	if s := r.W.Step(); s == nil || s.Name != "hands" {
		t.Fatalf("it goes on at %v", s)
	}
	powerless(t, r)
	finish(t, r)
}

// TestSetUpsDoNotBeginOverALedger: what moves, heats or feeds under power is refused over what is
// out.
func TestSetUpsDoNotBeginOverALedger(t *testing.T) {
	lib := library(t)
	fs := model.NewFeatureSet("full")
	s := plan.Standing{Features: fs, Believed: model.Assumed(),
		Ledger: model.Ledger{Out: map[string]int{"cover screws": 1}}}
	for _, id := range []string{"lower-bed", "heat", "unload", "cool"} {
		p := lib.Get(id).For(fs, nil)
		for v, val := range p.Require {
			s.Believed[v] = val
		}
		if p.Change != nil {
			s.Believed[p.Change.Variable] = p.Change.From
		}
		if why := s.Begin(p); !strings.Contains(why, "cover screws") {
			t.Errorf("%s: %q", id, why)
		}
	}
}

// TestWhatPowerUndoesIsDoneAnew: power turns out to be on in the middle of work on a machine that
// was believed unplugged. Once it is cut, the bed is read anew before a hand goes in, the supply
// discharges anew, and what was out is still out.
func TestWhatPowerUndoesIsDoneAnew(t *testing.T) {
	lib := library(t)
	for _, high := range []float64{45, 35} {
		own := rogue(
			model.Step{Name: "discharge", Do: "Wait.", Gate: model.Wait, Seconds: 300,
				Clock: "unplugged", Before: "next"},
			model.Step{Name: "read", Do: "Read the bed.", Gate: model.Measure,
				Quantity: "bed temperature", Unit: "°C", Low: new(float64), High: &high},
			model.Step{Name: "take", Do: "Take the plate out.", Gate: model.Confirm,
				Out: map[string]model.Amount{"build plate": {N: 1}}},
			model.Step{Name: "plug", Do: "See that the plug is out.", Gate: model.State,
				Variable: model.Power, Value: model.Unplugged},
			model.Step{Name: "put", Do: "Put the plate back.", Gate: model.Confirm,
				Back: map[string]model.Amount{"build plate": {N: 1}}},
		)
		own.Require = model.Condition{model.Power: model.Unplugged}
		r := beginWith(t, lib, machine(lib, "full"), walk.Start{Title: "own", Ask: true}, own)
		reach(t, r, own.ID, "plug")
		say(t, r, "on")
		powerless(t, r)
		out := r.Now
		reach(t, r, own.ID, "read")
		if r.Now.Sub(out) < 5*time.Minute {
			t.Errorf("the bed is read %s after the plug was pulled", r.Now.Sub(out))
		}
		if n := r.W.Ledger().Out["build plate"]; n != 1 {
			t.Errorf("%d plates out", n)
		}
		finish(t, r)
	}
}

// TestAPieceMissingAtAHotProofCutsThePower: the proof comes last, hot. The piece is looked for
// unplugged, and what stands before heat is asked anew when it heats again.
func TestAPieceMissingAtAHotProofCutsThePower(t *testing.T) {
	lib := library(t)
	own := rogue(model.Step{Name: "look", Do: "Look.", Gate: model.Confirm})
	own.Require = model.Condition{model.Power: model.Unplugged}
	own.Later = []model.Later{{When: "proof", Heat: "hot",
		Step: model.Step{Name: "proof", Do: "See that nothing is missing.", Gate: model.Confirm,
			Miss: &model.Miss{Then: model.ThenFind, Say: "cover screw"}}}}
	r := beginWith(t, lib, machine(lib, "full"), walk.Start{Title: "own", Ask: true}, own)
	reach(t, r, "owed-hot", "rogue.proof")
	var holds []string
	for _, s := range r.W.Block().Proc.Steps {
		if !strings.Contains(s.Name, ".") {
			holds = append(holds, s.Name)
		}
	}
	if len(holds) == 0 {
		t.Fatal("nothing stands before heat")
	}
	say(t, r, "fail")
	powerless(t, r)
	for _, h := range holds {
		reach(t, r, "owed-hot", h)
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	finish(t, r)
}
