package plan

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"bench/oilcan/model"
)

// Cuts are the set-up actions that take power off a machine that stands under power as it never
// should: CutVapour where solvent vapour is in the air, CutPower else. They move nothing and ask
// for no state.
const (
	CutPower  = "cut-power"
	CutVapour = "cut-vapour"
)

// IsCut tells whether a set-up action is one that only an emergency takes.
func IsCut(id string) bool { return id == CutPower || id == CutVapour }

// Leaves tells whether a set-up action is on the way out of power: cut it, read cold, unplug.
// Nothing else is done while something is out of the machine, in it or loose and it is not
// unplugged.
func Leaves(id string) bool { return IsCut(id) || id == model.CoolOff || id == model.Unplug }

// Emergency says why a machine must not stand under power, "" where it may or has none: vapour in
// the air, or anything out of it, in it or loose. owner is the block under way; its owned exception
// keeps just what it names.
func (s Standing) Emergency(owner string) string {
	if s.Believed[model.Power] != model.On {
		return ""
	}
	if s.Believed[model.Vapour] == model.Drying {
		return "solvent vapour is in the air"
	}
	return s.Over(owner)
}

// Over names what is out of the machine, in it or loose that the owner's exception does not name,
// "" for nothing. A strand left in the toolhead counts for nothing.
func (s Standing) Over(owner string) string {
	e := model.ExceptionOf(owner)
	for _, name := range names(s.Ledger.Out) {
		if !slices.Contains(e.Out, name) && !(e.Power && slices.Contains(s.Opened, name)) {
			return fmt.Sprintf("%s: %d out of the machine", name, s.Ledger.Out[name])
		}
	}
	for _, name := range names(s.Ledger.Inside) {
		if !slices.Contains(e.Inside, name) &&
			!(name == model.ItemBlocks && PassesBlocks(s.Features, owner)) {
			return fmt.Sprintf("%s: %d inside the machine", name, s.Ledger.Inside[name])
		}
	}
	for _, f := range []struct{ name, say string }{
		{model.FlagLost, "a piece is missing"}, {"belts", "the belts are loosened"},
		{"sensor-plug", "a sensor plug is parted"}, {model.FlagOil, "oil is wet"},
	} {
		if s.Ledger.Flags[f.name] != "" && !slices.Contains(e.Flags, f.name) &&
			!(e.Power && f.name == model.FlagOil) {
			if f.name == model.FlagLost && s.Ledger.OnlyLeftOver() {
				return "a piece is left over"
			}
			return f.say
		}
	}
	return ""
}

// Loose tells whether something stands so that the machine is unplugged before anything else is
// done, power on or off: see Over. Without power a gantry rests on its blocks, and locks hold.
func (s Standing) Loose(owner string) bool {
	if s.Believed[model.Power] != model.On {
		s.Ledger.Inside = maps.Clone(s.Ledger.Inside)
		maps.DeleteFunc(s.Ledger.Inside, func(name string, _ int) bool {
			return StaysDark(s.Features, name)
		})
	}
	return s.Over(owner) != ""
}

// OverLedger says why a set-up action or procedure must not begin under power over what is out, in
// or loose; "" where it may. Taking the power away may always.
func (s Standing) OverLedger(p *model.Procedure) string {
	if p.Change != nil && p.Change.Variable == model.Power && p.Change.From == model.On {
		return ""
	}
	if why := s.Emergency(p.ID); why != "" {
		return "power is on and " + why + "; hands out, then cut the power before anything else"
	}
	return ""
}

// wayOut leads a machine out of an emergency, or to the plug where something is out, in or loose:
// the set-up actions to take first, as indices, and the state after them.
func (m *session) wayOut() ([]int, int, error) {
	var way []int
	s := m.state
	take := func(i, to int) { way, s = append(way, i), to }
	if m.emergency(s) {
		i := m.cut(s)
		if i < 0 {
			return nil, s, errors.New(
				"nothing takes the power away: switch the machine off by hand, then say so")
		}
		take(i, put(put(s, model.Power, "off"), model.Bed, "low"))
	}
	for _, id := range []string{model.CoolOff, model.Unplug} {
		i := slices.IndexFunc(m.setups, func(q *model.Procedure) bool { return q.ID == id })
		if !m.loose || i < 0 || s&3 == 3 && !m.locked {
			// after a stop it is read cold though the plug is out
			continue
		}
		if mask, from, _ := bitsOf(m.setups[i].Change.Variable,
			m.setups[i].Change.From); s&mask == from {
			take(i, put(s, m.setups[i].Change.Variable, m.setups[i].Change.To))
		}
	}
	return way, s, nil
}

// emergency tells whether a state is one: see Standing.Emergency.
func (m *session) emergency(s int) bool { return emergency(s) || m.loose && s&3 == 0 }

// cut finds the set-up action that takes the power away in a state, -1 for none. A session begun
// before there were any switches off.
func (m *session) cut(s int) int {
	id := CutPower
	if mask, drying, _ := bitsOf(model.Vapour, "drying"); s&mask == drying {
		id = CutVapour
	}
	for _, id := range []string{id, model.SwitchOff} {
		if i := slices.IndexFunc(m.setups, func(q *model.Procedure) bool {
			return q.ID == id
		}); i >= 0 {
			return i
		}
	}
	return -1
}

// VerifyWayOut tells whether a sequence leads a machine over which something is out, in or loose to
// the plug before anything else is done: under power nothing but cutting it, then nothing but
// reading it cold.
func VerifyWayOut(sequence []*model.Procedure, start model.Condition) error {
	power := model.Assumed()[model.Power]
	if start[model.Power] != "" {
		power = start[model.Power]
	}
	for i, p := range sequence {
		switch {
		case power == model.Unplugged:
			return nil
		case p.Change == nil, power == model.On && p.Change.From != model.On,
			power == model.Off && p.ID != model.CoolOff && p.Change.To != model.Unplugged:
			return fmt.Errorf("step %d, %s: something is out of the machine, in it or loose; unplug before anything else", i+1, p.ID)
		}
		if p.Change.Variable == model.Power {
			power = p.Change.To
		}
	}
	return nil
}
