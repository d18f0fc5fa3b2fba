package plan_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// heatOf gives the places in a plan of the first that heats and of the measurement, -1 where there
// is none.
func heatOf(p *plan.Plan) (heat, ohms int) {
	heat = slices.IndexFunc(p.Sequence, func(it plan.Item) bool {
		return it.ID == "heat" || it.ID == "unload" || it.ID == "cold-pull"
	})
	ohms = slices.IndexFunc(p.Sequence, func(it plan.Item) bool { return it.ID == "heater-ohms" })
	return heat, ohms
}

// Heater and sensor are measured within 2 °C of the room, so nothing heats before: not to unload
// either.
func TestMeasuredBeforeAnythingHeats(t *testing.T) {
	l := load(t)
	for _, with := range [][]string{{"blade-check"}, {"gears-blow", "fans-blow"}, {"cold-pull"},
		{"nozzle-swap-look", "wiper-check"}, {"hotend-swap"}} {
		for _, start := range []string{"", "P=on H=cold", "P=off H=cold", "P=unplugged H=cold"} {
			r := plan.Request{SetUps: l.SetUps(), Start: model.Condition{}}
			for _, w := range strings.Fields(start) {
				v, is, _ := strings.Cut(w, "=")
				r.Start[map[string]model.Variable{"P": model.Power, "H": model.Heat}[v]] = is
			}
			p, _, err := plan.Assemble(l.Get, model.NewFeatureSet(model.FullFeatures...), nil,
				append(with, "heater-ohms"), r)
			if err != nil {
				t.Fatal(err)
			}
			heat, ohms := heatOf(p)
			if ohms < 0 || heat >= 0 && heat < ohms {
				t.Errorf("with %v from %q: heat stands at %d, the measurement at %d of %v", with,
					start, heat, ohms, p.IDs())
			}
			if !p.Optimal {
				t.Errorf("with %v from %q it is not proven best", with, start)
			}
		}
	}
}

// A machine found hot cannot be measured stone cold in this session, and the plan says so.
func TestFoundHotItIsLeftForAnotherDay(t *testing.T) {
	l := load(t)
	fs := model.NewFeatureSet(model.FullFeatures...)
	for _, r := range []plan.Request{
		{SetUps: l.SetUps(), Start: model.Condition{model.Heat: "hot"}},
		{SetUps: l.SetUps(), Start: model.Condition{model.Heat: "cold"}, Heated: true},
		{SetUps: l.SetUps(), Start: model.Condition{model.Heat: "cold", model.Power: "off",
			model.Sensor: "unproved"}},
	} {
		p, ids, err := plan.Assemble(l.Get, fs, nil, []string{"fans-blow", "heater-ohms"}, r)
		if err != nil {
			t.Fatal(err)
		}
		if slices.Contains(ids, "heater-ohms") || !slices.Contains(ids, "fans-blow") {
			t.Errorf("the session is %v", ids)
		}
		if len(p.Left) != 1 || p.Left[0].ID != "heater-ohms" ||
			!strings.Contains(p.Left[0].Why, "left for another day") {
			t.Errorf("it says %v", p.Left)
		}
	}
}
