package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// watched walks a session to its end, with these answers at these steps, and looks at every answer.
func watched(t *testing.T, r *walktest.Run, answers map[string]string) shop {
	t.Helper()
	now := newShop()
	n := 0
	look := func(was model.Condition, ledger model.Ledger) {
		before := now
		now = before.take(r.W, r.J.Entries[n:])
		s := seen{r: r, entries: r.J.Entries[n:], was: was, ledger: ledger, before: before,
			now: now}
		if why := s.broken(always); why != "" {
			t.Fatal(why)
		}
		n = len(r.J.Entries)
	}
	look(r.W.Believed.Clone(), r.W.Ledger())
	for range 2000 {
		p, was, ledger := r.W.Prompt(r.Now), r.W.Believed.Clone(), r.W.Ledger()
		if p.Kind == walk.AskOver {
			return now
		}
		if p.Kind == walk.AskStep && answers[p.Block.ID+"/"+p.Step.Name] != "" {
			say(t, r, answers[p.Block.ID+"/"+p.Step.Name])
		} else if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
		look(was, ledger)
	}
	t.Fatal("it does not end")
	return now
}

// heated are sessions that ask somebody to heat the machine, each by another file.
var heated = []struct {
	name    string
	kind    []string // features of the machine
	ids     []string
	answers map[string]string
}{
	{"blade", []string{"full"}, []string{"blade-check"}, nil},
	{"gears", []string{"full"}, []string{"gears-blow"}, nil},
	{"new gears", machineKinds[1], []string{"gear-swap"}, nil},
	{"hot end", machineKinds[0], []string{"hotend-swap"}, nil},
	{"sock", []string{"full"}, []string{"sock-check"}, nil},
	{"sock found loose", []string{"full"}, []string{"sock-check"},
		map[string]string{"sock-check/tug": "loose"}},
	{"fans", []string{"full"}, []string{"fans-blow"}, nil},
	{"a new fan", []string{"full"}, []string{"fan-swap"}, nil},
	{"bed cable", machineKinds[1], []string{"bed-cable"}, nil},
	{"tubes", []string{"full"}, []string{"tube-wear"}, nil},
	{"flow", []string{"full"}, []string{"flow-check"}, nil},
	{"flow, looked at", []string{"full"}, []string{"flow-check-look"}, nil},
	{"tram", machineKinds[1], []string{"bed-tram"}, nil},
	{"return to service", []string{"full"}, []string{"return-to-service"}, nil},
	{"sensor proof", []string{"full"}, []string{"heater-ohms"}, nil},
	{"nothing but a look at a hot nozzle", []string{"full"}, []string{"nozzle-swap-look"}, nil},
}

// Nobody goes away from a heater with a target: whatever heated, the last hold before the machine
// is called ready reads every target as zero, and nothing is believed cold that was not read.
func TestNoHeaterIsLeftOn(t *testing.T) {
	lib := library(t)
	for _, x := range heated {
		t.Run(x.name, func(t *testing.T) {
			r := begin(t, lib, machine(lib, x.kind...), x.ids...)
			now := watched(t, r, x.answers)
			if !now.heat.session {
				t.Fatalf("nothing heated: %v", order(r))
			}
			if why := (seen{r: r, now: now}).broken(atEnd); why != "" {
				t.Error(why)
			}
			if r.W.State() != "ready" || r.W.Believed[model.Power] != "on" {
				t.Fatalf("it is left %s with power %s", r.W.State(), r.W.Believed[model.Power])
			}
			if at := last(r, readsTargets); at < 0 || at < last(r, drives) {
				t.Errorf("the targets were not read after the last heat: %v", order(r))
			}
		})
	}
}

// lastGate is the place in the journal of the latest answer at a step of that name.
func lastGate(r *walktest.Run, step string) (at int, ok bool) {
	at = last(r, func(_, name string, _ model.Step) bool { return name == step })
	return at, at >= 0
}

// last is the place in the journal of the latest answer at such a step, -1 for none.
func last(r *walktest.Run, is func(block, name string, s model.Step) bool) int {
	at := -1
	for i, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.What == walk.Passed {
			if s, ok := stepOf(r.W, e.Walk.ID, e.Walk.Step); ok && is(e.Walk.ID, e.Walk.Step, s) {
				at = i
			}
		}
	}
	return at
}

func drives(_, _ string, s model.Step) bool { return slices.Contains(s.Drives, "heat") }

// What is owed and heats stands behind the holds of heating, what needs no heat before it, right
// after switching on.
func TestOwedProofsStandBehindTheHoldsOfHeat(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "blade-check", "fans-blow", "gears-blow",
		"wiper-check", "camera-clean", "self-check")
	watched(t, r, nil)
	at := map[string]int{}
	for i, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.What == walk.Passed {
			at[e.Walk.ID+"/"+e.Walk.Step] = i
		}
	}
	want := []string{"switch-on/idle", "owed/fans-blow.board-fans", "owed-hot/allowed",
		"owed-hot/fans-blow.hot-end-fan", "owed-hot/target",
		"owed-hot/climb", "owed-hot/blade-check.three-cuts", "owed-hot/gears-blow.feed", "self-check/start", "close-out/heat-off", "close-out/ready"}
	for i, k := range want[1:] {
		if at[k] == 0 || at[k] < at[want[i]] {
			t.Errorf("%s stands at %d, %s at %d", want[i], at[want[i]], k, at[k])
		}
	}
	if at["owed/camera-clean.picture"] > at["owed-hot/allowed"] {
		t.Error("a cold proof stands behind the heat")
	}
	if _, again := at["heat/allowed"]; again && at["heat/allowed"] > at["owed-hot/allowed"] {
		t.Error("it is heated twice")
	}
}

// askedOfTheFan goes to the proof of the hot end's fan: nobody saw it run when the heat was first
// asked for.
func askedOfTheFan(t *testing.T, r *walktest.Run) {
	t.Helper()
	reach(t, r, "owed-hot", "fan")
	say(t, r, "has no such fan")
	reach(t, r, "owed-hot", "fans-blow.hot-end-fan")
}

// TestAFanSeenToRunIsNotAskedTwice: what heating itself asks of the fan on the fins is the proof
// that cleaning it owes.
func TestAFanSeenToRunIsNotAskedTwice(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow", "gears-blow")
	reach(t, r, "owed-hot", "fan")
	say(t, r, "runs")
	if s := r.W.Step(); s.Name != "target" {
		t.Errorf("behind the fan stands %s", s.Name)
	}
	finish(t, r)
	if !slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Kind == model.KindCare && e.Care.Procedure == "fans-blow" &&
			e.Care.Outcome == model.OutcomeProved
	}) {
		t.Error("the proof is owed still")
	}
}

// A proof that heats shows its hazard, and the machine as it is: hot from then on.
func TestAProofThatHeatsShowsIt(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow", "gears-blow")
	askedOfTheFan(t, r)
	if c := r.W.Cautions(); !slices.ContainsFunc(c, func(c model.Caution) bool {
		return c.ID == "hot"
	}) {
		t.Errorf("its cautions are %v", c)
	}
	reach(t, r, "owed-hot", "gears-blow.feed")
	if is := r.W.Believed[model.Heat]; is != "hot" {
		t.Errorf("at print temperature it is shown %s", is)
	}
	say(t, r, "quiet")
	if is := r.W.Believed[model.Filament]; is != "loaded" {
		t.Errorf("with the strand fed it is shown %s", is)
	}
}

// Taken back, left out, skipped or broken off: what was heated is hot.
func TestWhatWasHeatedStaysHot(t *testing.T) {
	lib := library(t)
	for _, verb := range []string{"back", "leave no time", "skip no time"} {
		r := begin(t, lib, machine(lib, "full"), "fans-blow")
		askedOfTheFan(t, r)
		if verb == "back" {
			say(t, r, "runs")
		} else {
			say(t, r, "late, perhaps")
		}
		say(t, r, verb)
		if r.W.Believed[model.Heat] != "hot" {
			t.Errorf("after %s the machine is believed %s", verb, r.W.Believed[model.Heat])
		}
	}
}

// Where there is no power there is no target, and none is asked for.
func TestNoTargetIsReadOnADarkMachine(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "switch-on", "idle")
	say(t, r, "smell or smoke")
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	if _, ok := lastGate(r, "heat-off"); ok {
		t.Error("targets were read on a machine that was stopped and unplugged")
	}
}

// The number of heaters is on record and can be put right where it is wrong; a heater too few does
// not pass.
func TestTheNumberOfHeatersCanBePutRight(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "close-out", "heat-off")
	if rep := say(t, r, "3"); !strings.Contains(rep.Refusal,
		"by the record of this machine it must be another number") {
		t.Errorf("three of five heaters pass: %q", rep.Refusal)
	}
	say(t, r, "set 3")
	say(t, r, "3")
	if s := r.W.Step(); s == nil || s.Name != "ready" {
		t.Errorf("with the number put right it stands at %v", s)
	}
}

// A break in the paper leaves nothing known of the targets: they are read again.
func TestTargetsAreReadAgainAfterABreak(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "close-out", "ready")
	if err := r.Take(r.W.Resume(r.Context())); err != nil {
		t.Fatal(err)
	}
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	was, _ := lastGate(r, "heat-off")
	for !r.W.Ended {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if at, _ := lastGate(r, "heat-off"); at == was && r.W.Believed[model.Power] == "on" {
		t.Error("the targets were not read again")
	}
}

// The proof of a sensor asks for heat: on a gantry that stands on its blocks it waits until they
// are out.
func TestTheSensorIsProvedOnceTheBlocksAreOut(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, append(slices.Clone(machineKinds[1]), "sensor-ntc")...),
		"heater-ohms")
	watched(t, r, nil)
	ids := order(r)
	on, free, proof := slices.Index(ids, "switch-on"), slices.Index(ids,
		"gantry-free"), slices.Index(ids, "sensor-proof")
	if on < 0 || free < on || proof < free {
		t.Errorf("switched on at %d, freed at %d, proved at %d: %v", on, free, proof, ids)
	}
}

func readsTargets(_, _ string, s model.Step) bool { return s.Known == "targets-zero" }

// A target seen to stand is not one read as zero.
func TestATargetThatStandsIsNotReadAsZero(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "nozzle-swap-look", "fans-blow")
	for p := r.W.Prompt(r.Now); p.Kind == walk.AskState; p = r.W.Prompt(r.Now) {
		text := walktest.Good(r.W, r.Context(), p)
		if p.Variable == model.Filament { // nobody unloads, so nobody has read the targets
			text = "unloaded"
		}
		say(t, r, text)
	}
	reach(t, r, "cool", "targets")
	say(t, r, "one is set")
	if s := r.W.Step(); s == nil || s.Name != "set-zero" {
		t.Fatalf("it goes on at %v", s)
	}
	finish(t, r)
}
