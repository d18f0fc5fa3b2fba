package plan_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/procedures"
)

// What names a wait goes into it, behind where it begins, and its minutes count once.
func TestTheFillerGoesIntoTheWait(t *testing.T) {
	lib, _ := procedures.Load("")
	fs := model.NewFeatureSet(model.FullFeatures...)
	settings := map[string]string{}
	for _, p := range append(lib.All(), lib.SetUps()...) {
		settings = p.WithDefaults(settings)
	}
	r := plan.Request{SetUps: lib.SetUps()}
	p, ids, err := plan.Assemble(lib.Get, fs, settings, []string{"desiccant-look", "blade-check"},
		r)
	if err != nil {
		t.Fatal(err)
	}
	at := func(id string) int {
		return slices.IndexFunc(p.Sequence, func(it plan.Item) bool { return it.ID == id })
	}
	if at("desiccant-look") < at("cool") {
		t.Errorf("the look at the packs stands before the wait it could fill: %v", ids)
	}
	if p.Filled < 1 || p.Filled > p.Waiting || p.Minutes() != p.HandsOn+p.Waiting-p.Filled {
		t.Errorf("hands %v, waiting %v, filled %v: %v min", p.HandsOn, p.Waiting, p.Filled,
			p.Minutes())
	}
	alone, _, err := plan.Assemble(lib.Get, fs, settings, []string{"blade-check"}, r)
	if err != nil {
		t.Fatal(err)
	}
	if more := p.Minutes() - alone.Minutes(); more != 0 {
		t.Errorf("a look of %v min in a wait makes the session %v min longer",
			lib.Get("desiccant-look").HandsOn, more)
	}
	// in just these minutes both are in
	fit, err := plan.FitTime(lib.Get, fs, settings,
		plan.Time{Minutes: p.Minutes(), Must: []string{"blade-check"},
			May:   []string{"desiccant-look"},
			Gains: []plan.Gain{{Done: []string{"desiccant-look"}, Chance: 0.5}}}, r)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(fit.IDs(), "desiccant-look") || fit.Fit.Over ||
		fit.Minutes() > p.Minutes() {
		t.Errorf("in %v min it takes %v, %v min, over %t", p.Minutes(), fit.IDs(), fit.Minutes(),
			fit.Fit.Over)
	}
	// on a machine that is cold and dark there is no wait to fill
	r.Start = model.Condition{model.Power: model.Unplugged, model.Heat: model.Cold,
		model.Filament: model.Unloaded, model.Bed: model.Low}
	if p, _, err = plan.Assemble(lib.Get, fs, settings, []string{"desiccant-look", "camera-clean"},
		r); err != nil || p.Filled != 0 {
		t.Errorf("dark it fills %v of %v, %v", p.Filled, p.Waiting, err)
	}
}
