package plan

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Standing is how a machine stands in the middle of a walk. Its methods are the interlocks as they
// bear on a single step: each gives one sentence, what is in the way and what to do, or "".
type Standing struct {
	Features model.FeatureSet
	Believed model.Condition // a variable not in it is not known, and not known is refused
	Ledger   model.Ledger
	Locked   bool     // after a stop, until it is cleared by name
	Heated   bool     // it was hot at some time of this session
	Opened   []string // ledger names that opening the machine accounts for: see OpenedNames
}

// OpenedNames gives the ledger names that set-up actions take out of the machine or put into it:
// what is out because the machine is open.
func OpenedNames(setups []*model.Procedure) []string {
	seen := map[string]bool{}
	for _, p := range setups {
		for _, s := range p.Steps {
			for name := range s.Out {
				seen[name] = true
			}
			for name := range s.In {
				seen[name] = true
			}
		}
	}
	var names []string
	for name := range seen {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// PowerOn says why power must not come on now (rules a, d, e). owner is the block that asks; only
// one with an owned exception may with the machine open.
func (s Standing) PowerOn(owner string) string {
	e := model.ExceptionOf(owner)
	if s.Locked {
		return "power is locked after a stop; clear the stop by name first"
	}
	if why := s.vapour("power"); why != "" {
		return why
	}
	if why := s.flags(e); why != "" {
		return why
	}
	shut := []model.Variable{model.Cover, model.Top, model.Changer, model.Door}
	if e.Power {
		shut = nil
		if !e.Cover {
			shut = []model.Variable{model.Cover}
		}
	}
	for _, v := range shut {
		if why := s.not(v, model.Values[v][0], "before power"); why != "" {
			return why
		}
	}
	return s.counts(e, PassesBlocks(s.Features, owner))
}

// vapour is rule (a): why what it names has to wait for the air, "" where that is known to be
// clear.
func (s Standing) vapour(what string) string {
	switch s.Believed[model.Vapour] {
	case model.Clear:
		return ""
	case model.Drying:
		return fmt.Sprintf("solvent vapour is in the air; let the airing run out with door and top open before %s", what)
	}
	return "whether vapour is in the air is not known; say it first"
}

// flags is the part of rule (d) that no count shows.
func (s Standing) flags(e model.Exception) string {
	for _, f := range []struct{ name, say string }{
		{model.FlagLost, "a piece is lost; find it before power returns"},
		{"belts", "the belts are loosened; snug every clamp screw and count them first"},
		{"sensor-plug", "a sensor or heater plug is parted; join it by its mark first"},
	} {
		if s.Ledger.Flags[f.name] != "" && !slices.Contains(e.Flags, f.name) {
			if f.name == model.FlagLost && s.Ledger.OnlyLeftOver() {
				return "a piece is left over; find its place before power returns"
			}
			return f.say
		}
	}
	if s.Ledger.Flags[model.FlagOil] != "" && !e.Power {
		return "oil is still wet; wipe it off and change gloves first"
	}
	return ""
}

// counts is the part of rule (d) that a count shows: nothing out, nothing inside, save the blocks
// of a gantry where they may pass.
func (s Standing) counts(e model.Exception, passBlocks bool) string {
	for _, name := range names(s.Ledger.Out) {
		if e.Power && (slices.Contains(s.Opened, name) || slices.Contains(e.Out, name)) {
			continue
		}
		return fmt.Sprintf("out of the machine: %s, %d; put back and count before power", name,
			s.Ledger.Out[name])
	}
	for _, name := range names(s.Ledger.Inside) {
		if e.Power && slices.Contains(e.Inside, name) || passBlocks && name == model.ItemBlocks {
			continue
		}
		return fmt.Sprintf("still in the machine: %s, %d; take out and count before power", name,
			s.Ledger.Inside[name])
	}
	return ""
}

// names gives what a count holds, in order.
func names(counts map[string]int) []string {
	var out []string
	for name, n := range counts {
		if n != 0 {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// not says that a variable is not as it has to be.
func (s Standing) not(v model.Variable, want, when string) string {
	switch got := s.Believed[v]; {
	case !v.Exists(s.Features) || got != "" && model.Meets(v, got, want):
		return ""
	case got == "":
		return fmt.Sprintf("%s has to be %s %s and is not known; look, and say it", v, want, when)
	default:
		return fmt.Sprintf("%s is %s and has to be %s %s; do that first", v, got, want, when)
	}
}

// Begin says why a resolved procedure or set-up action must not begin now: its require, the
// interlocks on its first state, and wet oil (rule c), which blocks air, lenses and put-back.
func (s Standing) Begin(p *model.Procedure) string {
	if why := s.OverLedger(p); why != "" && !unsafeUnderPower(s.Believed) {
		return why
	}
	for _, v := range model.Variables {
		if unsafeUnderPower(s.Believed) || IsCut(p.ID) {
			break // breach says what alone may be done
		}
		if w := p.Require[v]; w != "" {
			if why := s.not(v, w, "before "+p.ID); why != "" {
				return why
			}
		}
	}
	if s.Ledger.Flags[model.FlagOil] != "" {
		switch {
		case blowsOrLens(p):
			return "oil is still wet and would carry dust; wipe it off and change gloves first"
		case p.Change != nil && closing(p.Change) && p.Change.Variable != model.Cover ||
			p.ID == model.PlugIn:
			return "oil is still wet; wipe it off and change gloves before anything is put back"
		}
	}
	c := believed(s.Features, s.Believed)
	c[model.Power] = Gantry(s.Features, c, s.Ledger)
	if why := breach(s.Features, p, c); why != "" {
		return why
	}
	return breachOfStone(p, s.Heated || c[model.Heat] != model.Cold)
}

// blowsOrLens tells by its tools whether a procedure moves air or touches a lens.
func blowsOrLens(p *model.Procedure) bool {
	tools := toolsOf(p)
	for _, name := range []string{"air blower", "bulb blower", "canned air", "lens fluid",
		"microfibre tip"} {
		if tools[name] {
			return true
		}
	}
	return false
}
