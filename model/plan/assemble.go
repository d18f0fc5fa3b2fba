package plan

import (
	"cmp"
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Bookends are the ids of what opens and closes a session.
var Bookends = []string{model.AsFound, model.CloseOut}

// Assemble makes the session of the chosen ids: it adds the proofs they name, leaves out what
// another of them does too, adds the bookends where the plan unplugs the machine or holds a proof,
// and orders it all. The ids are those of the session, in the plan's order. get gives a procedure
// by id, nil where there is none; Features, Settings and Procedures of r are filled in. Errors are
// those of Make, and an unknown id.
func Assemble(get func(id string) *model.Procedure, fs model.FeatureSet, settings map[string]string,
	chosen []string, r Request) (*Plan, []string, error) {
	procs, err := r.gather(get, fs, chosen)
	if err != nil {
		return nil, nil, err
	}
	r.Features, r.Settings, r.Procedures = fs, settings, procs
	p, err := Make(r)
	if err != nil {
		return nil, nil, err
	}
	if opens(p) || slices.ContainsFunc(procs, func(q *model.Procedure) bool {
		return q.Kind == model.Proof
	}) {
		ids := slices.Clone(chosen)
		for _, id := range r.bookends() {
			if q := get(id); q != nil && q.Fits(fs) {
				ids = append(ids, id)
			}
		}
		if r.Procedures, err = r.gather(get, fs, ids); err != nil {
			return nil, nil, err
		}
		if len(r.Procedures) != len(procs) {
			if p, err = Make(r); err != nil {
				return nil, nil, err
			}
		}
	}
	return p, p.IDs(), nil
}

// opens tells whether a plan pulls the plug.
func opens(p *Plan) bool {
	return slices.ContainsFunc(p.Sequence, func(it Item) bool { return pullsPlug(it.Change) })
}

// pullsPlug tells whether a change takes the plug out.
func pullsPlug(c *model.Change) bool {
	return c != nil && c.Variable == model.Power && c.To == model.Unplugged
}

// gather gives the procedures of a session by id: those chosen, the proofs they name, without what
// another one does too. Where the machine is left unplugged its proofs are owed.
func (r Request) gather(get func(id string) *model.Procedure, fs model.FeatureSet,
	chosen []string) ([]*model.Procedure, error) {
	in := map[string]*model.Procedure{}
	for _, id := range chosen {
		q := get(id)
		if q == nil {
			return nil, fmt.Errorf("%q is planned: %w", id, model.ErrUnknownProcedure)
		}
		if q.Kind == model.SetUp {
			return nil, fmt.Errorf("%s is a set-up action and joins by itself: leave it out", id)
		}
		if err := fits(q, fs); err != nil {
			return nil, err
		}
		in[id] = q
	}
	dropCounted(in)
	for queue := sorted(in); len(queue) > 0 && !r.Unplugged; queue = queue[1:] {
		for _, id := range queue[0].Proof {
			q := get(id)
			if q == nil {
				return nil,
					fmt.Errorf("%s names the proof %q, which no file describes: mend its proof list", queue[0].ID, id)
			}
			if in[id] == nil && q.Fits(fs) {
				in[id] = q
				queue = append(queue, q)
			}
		}
	}
	dropCounted(in)
	return sorted(in), nil
}

// dropCounted takes out what another procedure also does, where that one stays: what is done by one
// that is taken out itself is done by nobody.
func dropCounted(in map[string]*model.Procedure) {
	doer := func(of *model.Procedure, but string) string {
		for _, by := range sorted(in) {
			if by.ID != of.ID && by.ID != but && slices.Contains(by.CountsAs, of.ID) {
				return by.ID
			}
		}
		return ""
	}
	for again := true; again; {
		again = false
		for _, q := range sorted(in) {
			if by := in[doer(q, "")]; by != nil && doer(by, q.ID) == "" {
				delete(in, q.ID)
				again = true
			}
		}
	}
}

func sorted(in map[string]*model.Procedure) []*model.Procedure {
	var out []*model.Procedure
	for _, q := range in {
		out = append(out, q)
	}
	slices.SortFunc(out, func(a, b *model.Procedure) int { return cmp.Compare(a.ID, b.ID) })
	return out
}
