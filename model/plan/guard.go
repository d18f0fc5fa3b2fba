package plan

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// allowed says why a resolved procedure cannot own what it says it owns.
func allowed(p *model.Procedure) error {
	e := model.ExceptionOf(p.ID)
	for _, o := range p.Owns {
		if !e.May(o) {
			return fmt.Errorf("%s owns %s, and only %s may: take owns out of its file", p.ID, o,
				strings.Join(model.OwnersOf(o), ", "))
		}
	}
	return nil
}

// guard is what the interlocks demand before a procedure, whatever its file requires; the planner
// adds it to the file's require. Verify says the same in its own words.
func guard(p *model.Procedure, fs model.FeatureSet) model.Condition {
	g := model.Condition{}
	e := model.ExceptionOf(p.ID)
	if slices.Contains(p.Owns, model.OwnPower) {
		g[model.Power], g[model.Vapour] = model.Unplugged, model.Clear
		if !e.Cover {
			g[model.Cover] = model.On
		}
		if e.Heats {
			g[model.Sensor] = model.Proved
		}
	}
	if p.ID == model.FilterSwap {
		g[model.Vapour] = model.Clear
	}
	if leaves(p, model.Vapour) == model.Drying {
		g[model.Power], g[model.Heat], g[model.Door], g[model.Top] = model.Unplugged, model.Cold, model.Open, model.Off
	}
	if leaves(p, model.Heat) == model.Hot {
		g[model.Power], g[model.Cover], g[model.Vapour], g[model.Sensor] = model.On, model.On, model.Clear, model.Proved
	}
	if handsIn(p) && !slices.Contains(p.Owns, model.OwnHot) {
		g[model.Heat] = model.Cold
	}
	if rungOf(p) == model.RungProof {
		g[model.Cover] = model.On
	}
	for v := range g {
		if !v.Exists(fs) {
			delete(g, v)
		}
	}
	return g
}

// leaves is the value a resolved procedure leaves of a variable, "" where it leaves it alone.
func leaves(p *model.Procedure, v model.Variable) string {
	value := ""
	for _, l := range p.Leave {
		if l.Variable == v && l.Only.Step == "" {
			value = l.Is
		}
	}
	return value
}

// handsIn tells whether a procedure's hands are inside the machine, as far as its require shows.
func handsIn(p *model.Procedure) bool {
	return p.Require[model.Door] == model.Open || p.Require[model.Cover] == model.Off ||
		p.Require[model.Top] == model.Off
}
