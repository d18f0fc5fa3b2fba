package plan

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// A machine may be left unplugged: its plug stays out, and what can only be seen under power is
// owed until it is switched on. No set-up action brings power back in such a session, so that
// nobody is led to plug in a machine that was to stay dark; a block that owns power takes the plug
// out again itself.

// makeUnplugged plans a session that leaves the machine unplugged. What needs power and cannot have
// it any more is left for another day; the reading of the machine as it was found is left out
// without a word of its own.
func makeUnplugged(r Request) (*Plan, error) {
	dark, left := r.withoutPower(false)
	if power := r.Start[model.Power]; power == "" || power == model.On {
		if p, err := order(r); err == nil {
			p.Leave = model.Unplugged
			return p, nil
		}
		read, later := r.withoutPower(true)
		if p, err := order(read); err == nil {
			p.Left, p.Leave = append(p.Left, later...), model.Unplugged
			return p, nil
		}
	}
	p, err := order(dark)
	if err != nil {
		return nil, err
	}
	p.Left, p.Leave = append(p.Left, left...), model.Unplugged
	return p, nil
}

// withoutPower leaves out what needs power, and says what of it is left for another day; read keeps
// the reading of the machine as it was found.
func (r Request) withoutPower(read bool) (Request, []Left) {
	var keep []*model.Procedure
	var left []Left
	for _, p := range r.Procedures {
		switch needs := p.RequireOn(r.Features, r.Settings)[model.Power] == model.On; {
		case !needs, read && p.Kind == model.Bookend:
			keep = append(keep, p)
		case p.Kind == model.Bookend:
		default:
			left = append(left, Left{p.ID,
				fmt.Sprintf("%s is left for another day: it needs power, and the machine is left unplugged.", p.Title)})
		}
	}
	r.Procedures = keep
	return r, left
}

// ProofsOf gives the ids of the proofs that the procedures of a session name and that are not in
// it: they are owed where the machine is left unplugged.
func ProofsOf(procs []*model.Procedure) []string {
	var out []string
	for _, p := range procs {
		for _, id := range p.Proof {
			if !slices.Contains(out, id) && model.ByID(procs, id) == nil {
				out = append(out, id)
			}
		}
	}
	return out
}
