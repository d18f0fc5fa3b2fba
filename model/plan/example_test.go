package plan_test

import (
	"fmt"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// Two pieces of care need a machine without power; the planner brings that about once, and undoes
// it.
func ExampleMake() {
	change := func(id string, v model.Variable, from, to string,
		require model.Condition) *model.Procedure {
		return &model.Procedure{ID: id, Kind: model.SetUp, HandsOn: 1, Require: require,
			Change: &model.Change{Variable: v, From: from, To: to}}
	}
	care := func(id string, rung model.Rung) *model.Procedure {
		return &model.Procedure{ID: id, Kind: model.Care, HandsOn: 3,
			Rung:    []model.Placed{{Is: rung}},
			Require: model.Condition{model.Power: "unplugged"}}
	}
	p, err := plan.Make(plan.Request{
		Features:   model.NewFeatureSet("open-frame"),
		Procedures: []*model.Procedure{care("rods", "oil"), care("fans", "dust")},
		Start:      model.Condition{model.Heat: "cold", model.Bed: "low"},
		SetUps: []*model.Procedure{
			change("switch-off", model.Power, "on", "off", model.Condition{model.Bed: "low"}),
			change("unplug", model.Power, "off", "unplugged", model.Condition{model.Heat: "cold"}),
			change("plug-in", model.Power, "unplugged", "off", nil),
			change("switch-on", model.Power, "off", "on", nil),
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, it := range p.Sequence {
		fmt.Println(it.Kind, it.ID)
	}
	// Output:
	// setup switch-off
	// setup unplug
	// care fans
	// care rods
	// setup plug-in
	// setup switch-on
}
