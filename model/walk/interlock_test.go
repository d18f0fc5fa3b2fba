package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// rogue is a procedure whose file would break an interlock; the loader would refuse it, and so does
// the walk by itself.
func rogue(steps ...model.Step) *model.Procedure {
	return &model.Procedure{ID: "rogue", Title: "Break a rule", Kind: model.Care,
		Rung: []model.Placed{{Is: model.OffMachine}}, Steps: steps}
}

var (
	powerOn = model.Step{Name: "power", Do: "Switch on.", Gate: model.State, Variable: model.Power,
		Value: "on"}
	solvent = model.Step{Name: "solvent", Do: "Wipe with alcohol.", Gate: model.Confirm,
		Starts: []string{"airing"}, Set: map[string]string{"vapour": "drying"}}
	screwOut = model.Step{Name: "screw", Do: "Undo a screw.", Gate: model.Confirm,
		Out: map[string]model.Amount{"odd screws": {N: 1}}}
	toolIn = model.Step{Name: "tool", Do: "Leave a tool inside.", Gate: model.Confirm,
		In: map[string]model.Amount{"tools": {N: 1}}}
	loosen = model.Step{Name: "loosen", Do: "Loosen the belts.", Gate: model.Confirm,
		Set: map[string]string{"belts": "loosened"}}
	part = model.Step{Name: "part", Do: "Part the sensor plug.", Gate: model.Confirm,
		Set: map[string]string{"sensor-plug": "parted", "sensor": "unproved"}}
	oil = model.Step{Name: "oil", Do: "Oil something.", Gate: model.Confirm,
		Set: map[string]string{"oil": "wet"}}
)

// how machines stand at the beginning, in asking order.
var (
	closedOn  = "on|31 °C|unloaded|on|on|mounted|low|closed"
	closedOff = "H1|31 °C|unloaded|on|on|mounted|low|closed"
	openCold  = "H1|31 °C|unloaded|on|off|detached|low|open"
	openHot   = "H1|80 °C|unloaded|on|off|detached|low|open"
	headOpen  = "H1|31 °C|unloaded|off|off|detached|low|open"
)

// TestTheWalkRefusesWhatBreaksAnInterlock takes each rule that the ledger and the state decide,
// with a file that would break it: the step does not pass, whatever is answered.
func TestTheWalkRefusesWhatBreaksAnInterlock(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		name, stands string
		steps        []model.Step
		want         string // in the refusal, or in the question that stands in the way
	}{
		{"a: solvent under power", closedOn, []model.Step{solvent}, "plug out"},
		{"a: solvent behind a closed door", closedOff, []model.Step{solvent}, "door"},
		{"a: solvent on a warm machine", openHot, []model.Step{solvent}, "cold machine"},
		{"a: power with vapour in the air", openCold, []model.Step{solvent, powerOn}, "vapour"},
		{"d: power with a screw out", closedOff, []model.Step{screwOut, powerOn},
			"odd screws: 1 still out"},
		{"d: power with a tool inside", closedOff, []model.Step{toolIn, powerOn},
			"tools: 1 still inside"},
		{"d: power with loose belts", closedOff, []model.Step{loosen, powerOn}, "Belts are loose"},
		{"d: power with a plug parted", closedOff, []model.Step{part, powerOn},
			"sensor plug is parted"},
		{"d, e: power with the head open", headOpen, []model.Step{powerOn}, "Cover is off"},
		{"e: power on an open machine", openCold, []model.Step{powerOn}, "Top is off"},
		{"c: put back with wet oil", openCold, []model.Step{oil}, "Oil is wet"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := rogueRun(t, lib, c.stands, c.steps)
			for range len(c.steps) + 12 {
				p := r.W.Prompt(r.Now)
				if strings.Contains(p.Question, c.want) {
					return
				}
				if p.Kind != walk.AskStep {
					if _, err := r.Step(); err != nil {
						t.Fatal(err)
					}
					continue
				}
				rep := say(t, r, walktest.Good(r.W, r.Context(), p))
				if strings.Contains(rep.Refusal, c.want) {
					return
				}
				if rep.Refusal != "" {
					t.Fatalf("refused, but for another reason: %s", rep.Refusal)
				}
			}
			t.Fatalf("it passes; power is %s", r.W.Believed[model.Power])
		})
	}
}

func rogueRun(t *testing.T, lib *procedures.Library, stands string,
	steps []model.Step) *walktest.Run {
	t.Helper()
	m := machine(lib, "full")
	fs := model.NewFeatureSet(m.Features...)
	s := walk.Start{Title: "rogue", Ask: true, Items: []*model.Procedure{rogue(steps...)}}
	for _, q := range lib.SetUps() {
		s.SetUps = append(s.SetUps, q.For(fs, m.Settings))
	}
	r := &walktest.Run{M: m, Get: lib.Get, Now: start}
	if err := r.Begin(s); err != nil {
		t.Fatal(err)
	}
	for _, a := range strings.Split(stands, "|") {
		if rep := say(t, r, a); rep.Refusal != "" {
			t.Fatal(rep.Refusal)
		}
	}
	return r
}
