package procedures

import (
	"slices"
	"strings"

	"bench/oilcan/model"
)

// handsIn are the rungs where hands are in the machine, so that it is never powered.
var handsIn = []model.Rung{"before-opening", "first-values", "dust", "inspect", "renew", "solvent",
	"airing", "oil", "belts", "filter"}

// locks checks the interlocks that can be seen without running the file.
func (c *checker) locks() {
	p := c.p
	req := p.Require
	exception := model.ExceptionOf(p.ID)
	for _, o := range p.Owns {
		switch {
		case !slices.Contains(model.Owns, o):
			c.bad(at("owns"), "%s",
				notOnList("owned exception", string(o), model.Words(model.Owns)))
		case !exception.May(o):
			c.bad(at("owns"), "%q may not own %s: only %s may, and files that replace one of them",
				p.ID, o, listed(model.OwnersOf(o)))
		}
	}
	if c.isSetUp() {
		return
	}
	if (c.owns(model.OwnPower) || p.ID == model.FilterSwap) && req[model.Vapour] != model.Clear {
		c.bad(at("require"),
			"vapour must have cleared before power or a fresh filter: write vapour = \"clear\" in [require]")
	}
	heats := c.owns(model.OwnHot) && p.ID != model.PlateWash
	for _, l := range p.Leave {
		heats = heats || l.Variable == model.Heat && l.Is == model.Hot
	}
	if heats && req[model.Sensor] != model.Proved {
		c.bad(at("require"),
			"a file that heats needs a sensor known to read true: write sensor = \"proved\" in [require]")
	}
	for _, v := range []model.Variable{model.Cover, model.Top} {
		if req[v] == model.Off && (req[model.Power] != model.Unplugged ||
			req[model.Heat] != model.Cold) {
			c.bad(at("require", string(v)),
				"with the %s off the machine is unplugged and cold: write power = \"unplugged\", heat = \"cold\" in [require]", coverName(v))
		}
	}
	c.rungLocks()
}

// coverName is what a person calls it.
func coverName(v model.Variable) string {
	if v == model.Top {
		return "top panel"
	}
	return "toolhead cover"
}

// rungLocks checks what a place in the ladder asks for.
func (c *checker) rungLocks() {
	req := c.p.Require
	lens := c.lensFile() ||
		slices.ContainsFunc(c.steps, func(s place) bool { return wipesLens().MatchString(s.s.Do) })
	for _, r := range c.p.Rung {
		switch {
		case slices.Contains(handsIn, r.Is) && req[model.Power] != model.Unplugged &&
			req[model.Power] != model.Off:
			c.bad(at("rung"),
				"on the rung %s hands are in the machine: write power = \"unplugged\" (or \"off\") in [require]", r.Is)
		case r.Is == model.RungProof && (req[model.Power] != model.On || req[model.Cover] != model.On):
			c.bad(at("rung"),
				"a proof runs under power on a closed head: write power = \"on\", cover = \"on\" in [require]")
		}
		if o := r.Is.Order(); lens && o >= 0 && c.p.Kind != model.Look &&
			(o <= model.RungDust.Order() || o >= model.RungOil.Order()) {
			c.bad(at("rung"),
				"a lens is cleaned after the dust and before the oil: write rung = \"airing\"")
		}
	}
	if c.p.Kind == model.Proof && !slices.ContainsFunc(c.p.Rung, func(r model.Placed) bool {
		return r.Is == model.RungProof
	}) {
		c.bad(at("rung"), "a proof stands on the rung proof: write rung = \"proof\"")
	}
}

// lensFile tells a file about a lens, by its id and title.
func (c *checker) lensFile() bool {
	return strings.Contains(c.p.ID, "lens") || strings.Contains(strings.ToLower(c.p.Title), "lens")
}

// wipesLens finds a step that cleans a lens; raisesDust one that throws dust about.
var (
	wipesLens = lazy(
		`(?i)\b(wipe|clean|dab|polish|wash)\b[^.;]*\b(lens|lenses|(camera|sensor) window)\b`)
	wipesAny   = lazy(`(?i)\b(wipe|polish)\b`)
	raisesDust = lazy(`(?i)\b(blow|vacuum|brush|sweep)\b`)
)

// lens checks that a lens is cleaned when no dust is still to be thrown about, and nothing oily
// near it.
func (r *runner) lens(s *state, step *model.Step, where []any) {
	if forbids().MatchString(step.Do) {
		return
	}
	if s.lens != "" && raisesDust().MatchString(step.Do) {
		r.bad(in(where, "do"),
			"dust is thrown about after the lens was cleaned in %q: put this step before that one", s.lens)
	}
	if !wipesLens().MatchString(step.Do) && !(r.c.lensFile() && wipesAny().MatchString(step.Do)) {
		return
	}
	if _, wet := s.flags[model.FlagOil]; wet {
		r.bad(in(where, "do"),
			"a lens is cleaned before the oil comes out, or with the oil wiped off and fresh gloves on: clear the flag oil first")
		return
	}
	s.lens = step.Name
}

// homes finds words for an axis driven to its end under power.
var homes = lazy(`(?i)\b(home (the|all|each|every|it|x|y|z)|homing)\b`)

// forbids finds sentences that forbid what they name.
var forbids = lazy(`(?i)\b(never|not|no|without|before)\b`)

// homing checks that no axis is homed with the cover off: fan wires and sensor gap are bare then.
func (r *runner) homing(s *state, step *model.Step, where []any) {
	if s.vars[model.Power] == model.On && s.vars[model.Cover] == model.Off &&
		homes().MatchString(step.Do) && !forbids().MatchString(step.Do) {
		r.bad(in(where, "do"),
			"homing with the toolhead cover off: put the cover on first, extruder moves only")
	}
}

// stateGate applies a state gate, and checks that the file may bring the state about.
func (r *runner) stateGate(s *state, step *model.Step, where []any) {
	v, val := step.Variable, step.Value
	if v == "" || val == "" {
		return
	}
	old, c := s.vars[v], r.c
	if ch := c.change(); old == val || model.Meets(v, old, val) && (ch == nil || ch.Variable != v) {
		return
	}
	if v == model.Power && val == model.On {
		if !r.powerOn(s, step, where) {
			return
		}
	} else if old != "" && !c.mayChange(v) {
		r.bad(where,
			"%s is %s here by [require], and the gate asks for %s: the planner brings states about, so leave the gate out or require %s", v, old, val, val)
		return
	}
	if old == "" && !c.isSetUp() && len(c.p.Owns) == 0 && !c.leaves(v) {
		s.vars[v] = val // only said, not brought about
		return
	}
	r.put(s, v, val, where)
}

// leaves tells whether [leave] speaks of a variable.
func (c *checker) leaves(v model.Variable) bool {
	return slices.ContainsFunc(c.p.Leave, func(l model.Left) bool { return l.Variable == v })
}

// mayChange tells whether the file may change a variable by a gate of its own.
func (c *checker) mayChange(v model.Variable) bool {
	if ch := c.change(); ch != nil && ch.Variable == v {
		return true
	}
	return len(c.p.Owns) > 0 || c.leaves(v)
}

// powerOn checks a gate that lets power in; false where this file may not.
func (r *runner) powerOn(s *state, step *model.Step, where []any) bool {
	c := r.c
	if !c.owns(model.OwnPower) && c.p.ID != model.AsFound && c.p.ID != model.SwitchOn {
		r.bad(where,
			"only as-found, switch-on and the owners of power (%s) let power in: write power = \"on\" in [require]", listed(model.OwnersOf(model.OwnPower)))
		return false
	}
	if s.vars[model.Vapour] == model.Drying {
		r.bad(where, "power is let in while vapour is drying: air first")
	}
	if step.Own {
		return true
	}
	if !r.empty(s) {
		r.bad(where,
			"power is let in while something is out, inside or loose: close the ledger first, or write own = true where the owned exception covers it")
	}
	if s.vars[model.Cover] == model.Off {
		r.bad(where,
			"power is let in with the toolhead cover off: put it on first, or write own = true where the owned exception covers it")
	}
	return true
}

// airing checks a step that starts the airing clock: solvent or a gas that burns is in the machine.
func (r *runner) airing(s *state, step *model.Step, where []any) {
	s.cause[model.Vapour], s.aired = step, false
	r.put(s, model.Vapour, "drying", where)
	for _, want := range []struct {
		v   model.Variable
		val string
	}{{model.Power, "unplugged"}, {model.Heat, "cold"}, {model.Door, "open"}, {model.Top, "off"}} {
		if want.v == model.Top && step.Only.Step != "" {
			continue // what only an answer brings is offered with the top off; the walk holds it
		}
		if r.w.exists(want.v) && s.vars[want.v] != want.val {
			r.bad(where,
				"solvent or a gas that burns with %s not %s: write %s = %q in [require], or a state gate before this step", want.v, want.val, want.v, want.val)
		}
	}
	if _, wet := s.flags[model.FlagOil]; wet {
		r.bad(where, "air and solvent wait until the oil is wiped off: clear the flag oil first")
	}
	r.cautious(step, where, "alcohol or gas")
}

// unknowns are the kinds of part of which an unknown one takes the dry branch.
var unknowns = [][]model.Feature{
	{"bush-ball", "bush-polymer", "bush-sintered"},
	{"nut-metal", "nut-polymer"},
	{"lens-glass", "lens-polymer"},
}

// cautious checks that wet work is not done on a part of unknown kind.
func (r *runner) cautious(step *model.Step, where []any, what string) {
	if r.w.fs["rods-carbon"] || step.Only.Step != "" {
		return
	}
	for _, g := range unknowns {
		asked := slices.ContainsFunc(g, func(f model.Feature) bool { return r.w.known[f] })
		if asked && !slices.ContainsFunc(g, func(f model.Feature) bool { return r.w.fs[f] }) {
			r.bad(where,
				"%s where the kind is unknown (none of %s): give the step an \"only\" that names the kinds it suits", what, listed(model.Words(g)))
		}
	}
}

// warmth follows what a reading in °C says of the heat.
func (r *runner) warmth(s *state, step *model.Step, where []any) {
	q := strings.ToLower(step.Quantity)
	for _, off := range []string{"dryer", "room", "oven", "roll", "filament", "water", "changer",
		"off target"} {
		if strings.Contains(q, off) {
			return
		}
	}
	if ch := r.c.change(); step.Unit != "°C" || ch != nil && ch.Variable == model.Heat {
		return
	}
	if step.High != nil && *step.High <= 45 {
		s.vars[model.Heat] = model.Cold
		return
	}
	if step.Low == nil || *step.Low <= 45 || s.vars[model.Heat] == model.Hot {
		return
	}
	if !r.c.owns(model.OwnHot) && !r.c.leaves(model.Heat) {
		r.bad(where,
			"this heats a machine that is not hot by [require]: write heat = \"hot\" there, or say in [leave] that it ends hot")
		return
	}
	r.put(s, model.Heat, "hot", where)
}
