package plan

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// rule says why a piece of care must not be done in a state, "" where it may. after is what would
// be believed after it. The letters are those of the engine rules the project is built on; (c), (f)
// and (h) concern the ledger, breaks and symptoms and are not seen here.
type rule func(fs model.FeatureSet, p *model.Procedure, c, after model.Condition) string

var rules = []rule{ruleA, ruleB, ruleD, ruleE, ruleSensor, ruleJ, ruleK}

// ruleA: vapour in the air blocks power, heat and a new filter; only time clears it. Solvent is
// used in a cold, unplugged, open machine.
func ruleA(fs model.FeatureSet, p *model.Procedure, c, after model.Condition) string {
	drying := c[model.Vapour] == model.Drying
	switch {
	case drying && p.ID == model.FilterSwap:
		return "vapour is in the air and would load the new filter; let it out first"
	case drying && slices.Contains(p.Owns, model.OwnPower):
		return "vapour is in the air, and this block brings power; let it out first"
	case drying && after[model.Vapour] == model.Clear:
		return "only the airing clears vapour; take the leave out of its file"
	case leaves(p, model.Vapour) != model.Drying:
		return ""
	case c[model.Power] != model.Unplugged || c[model.Heat] != model.Cold:
		return "solvent is used cold and unplugged only; cool it and pull the plug first"
	case model.Door.Exists(fs) && c[model.Door] != model.Open, model.Top.Exists(fs) &&
		c[model.Top] != model.Off:
		return "solvent is used with door and top open only; open both first"
	}
	return ""
}

// ruleB: no hands in a machine that is not cold, save an owned exception.
func ruleB(fs model.FeatureSet, p *model.Procedure, c, _ model.Condition) string {
	open := c[model.Cover] == model.Off || model.Door.Exists(fs) && c[model.Door] == model.Open ||
		model.Top.Exists(fs) && c[model.Top] == model.Off
	if c[model.Heat] != model.Cold && open && handsIn(p) && !slices.Contains(p.Owns, model.OwnHot) {
		return "hands go in only below 45 °C; let it cool first"
	}
	return ""
}

// ruleD: an open head blocks power, save where the block owns just that.
func ruleD(_ model.FeatureSet, p *model.Procedure, c, _ model.Condition) string {
	e := model.ExceptionOf(p.ID)
	if slices.Contains(p.Owns, model.OwnPower) && c[model.Cover] == model.Off && !e.Cover {
		return "it brings power and the head cover is off; put the cover on first"
	}
	return ""
}

// ruleE: power comes on only by the set-up actions, or inside a block that owns it and ends
// unplugged.
func ruleE(_ model.FeatureSet, p *model.Procedure, c, after model.Condition) string {
	if c[model.Power] != model.On && after[model.Power] == model.On {
		return "it leaves power on where it was not; only switching on brings power"
	}
	if slices.Contains(p.Owns, model.OwnPower) && (c[model.Power] != model.Unplugged ||
		after[model.Power] != model.Unplugged) {
		return "a block that owns power begins and ends unplugged"
	}
	return ""
}

// ruleSensor is the second half of (d): an unproved sensor blocks heat, and only switching on
// proves it.
func ruleSensor(_ model.FeatureSet, p *model.Procedure, c, after model.Condition) string {
	e := model.ExceptionOf(p.ID)
	switch {
	case c[model.Sensor] == model.Unproved && after[model.Sensor] == model.Proved:
		return "only switching on proves the sensor; take the leave out of its file"
	case leaves(p, model.Heat) == model.Hot:
		return breachOfHeat(c)
	case slices.Contains(p.Owns, model.OwnPower) && e.Heats && c[model.Sensor] != model.Proved:
		return "it heats, and the temperature sensor is unproved; switch on and prove it first"
	}
	return ""
}

// ruleJ: proofs run on a whole machine.
func ruleJ(_ model.FeatureSet, p *model.Procedure, c, _ model.Condition) string {
	if rungOf(p) == model.RungProof && c[model.Cover] != model.On {
		return "a proof says something only of a whole machine; put the cover on first"
	}
	return ""
}

// wetOn says which group must be known before a procedure may use these supplies.
var wetOn = []struct {
	block    string
	groups   [][]model.Feature
	supplies []string
}{
	{"rods-wipe", [][]model.Feature{{"bush-ball", "bush-polymer", "bush-sintered"},
		{"rods-carbon"}}, []string{"isopropyl alcohol", "thin oil", "light oil", "light grease"}},
	{"screws-oil", [][]model.Feature{{"nut-metal", "nut-polymer"}},
		[]string{"thin oil", "light oil", "light grease"}},
	{"layer-lens-clean", [][]model.Feature{{"lens-glass", "lens-polymer"}},
		[]string{"isopropyl alcohol"}},
}

// ruleK: an unknown bushing, nut or window takes the dry, alcohol-free, oil-free branch.
func ruleK(fs model.FeatureSet, p *model.Procedure, _, _ model.Condition) string {
	for _, w := range wetOn {
		if w.block != p.ID || slices.ContainsFunc(w.groups, func(g []model.Feature) bool {
			return slices.ContainsFunc(g, func(f model.Feature) bool { return fs[f] })
		}) {
			continue
		}
		if leaves(p, model.Vapour) == model.Drying {
			return fmt.Sprintf(
				"whether it bears solvent is unknown: say which of %v the machine has", w.groups[0])
		}
		for _, x := range p.Supplies {
			if slices.Contains(w.supplies, x.Part) {
				return fmt.Sprintf("whether it bears %s is unknown: say which of %v the machine has", x.Part, w.groups[0])
			}
		}
	}
	return ""
}
