package plan

import (
	"testing"

	"bench/oilcan/model"
)

// TestInspectsOnlyWhatLooks: each reason alone keeps care from a machine that is stopped.
func TestInspectsOnlyWhatLooks(t *testing.T) {
	look := func() *model.Procedure {
		return &model.Procedure{ID: "look", Kind: model.Care, Rung: []model.Placed{{Is: "inspect"}},
			Require: model.Condition{model.Power: model.Unplugged},
			Steps:   []model.Step{{Name: "look", Gate: model.Choice}}}
	}
	if !Inspects(look()) {
		t.Fatal("a look is none")
	}
	for name, change := range map[string]func(p *model.Procedure){
		"it renews": func(p *model.Procedure) { p.Kind = model.Swap },
		"it cleans": func(p *model.Procedure) {
			p.Rung = []model.Placed{{Is: "proof"}}
		},
		"it has an exception": func(p *model.Procedure) { p.Owns = []model.Own{"power"} },
		"it has a proof":      func(p *model.Procedure) { p.Proof = []string{"self-check"} },
		"it needs power":      func(p *model.Procedure) { p.Require[model.Power] = model.On },
		"it needs to be unloaded": func(p *model.Procedure) {
			p.Require[model.Filament] = model.Unloaded
		},
		"it needs heat": func(p *model.Procedure) { p.Require[model.Heat] = model.Hot },
		"a step moves it": func(p *model.Procedure) {
			p.Steps[0].Drives = []string{"motion"}
		},
		"a step heats it": func(p *model.Procedure) {
			p.Steps[0].Drives = []string{"heat"}
		},
		"a step renews a part": func(p *model.Procedure) {
			p.Steps[0].Renewed = []string{"blade"}
		},
		"a step brings vapour": func(p *model.Procedure) {
			p.Steps[0].Set = map[string]string{"vapour": "drying"}
		},
		"a step leaves oil": func(p *model.Procedure) {
			p.Steps[0].Set = map[string]string{"oil": "wet"}
		},
		"it leaves vapour behind": func(p *model.Procedure) {
			p.Leave = []model.Left{{Variable: model.Vapour, Is: model.Drying}}
		},
	} {
		p := look()
		if change(p); Inspects(p) {
			t.Errorf("%s, and it is a look", name)
		}
	}
}
