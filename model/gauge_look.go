package model

import (
	"slices"
	"time"
)

// LookOf gives the procedure that tells how the part of a renewal is, without renewing it: a look
// the renewal does too, or a look at the same part. nil where there is none that fits, and for what
// renews nothing.
func LookOf(p *Procedure, procs []*Procedure, fs FeatureSet) *Procedure {
	if p.Kind != Swap {
		return nil
	}
	var found *Procedure
	for _, q := range procs {
		if q.ID == p.ID || q.Kind != Look || !q.Fits(fs) {
			continue
		}
		if slices.Contains(p.CountsAs, q.ID) {
			return q
		}
		if found == nil && p.Part != "" && q.Part == p.Part {
			found = q
		}
	}
	return found
}

// lookFirst names the look of each renewal nobody knows the last time of, and adds the look's own
// gauge where it is not among them: what is not known is looked at, not renewed.
func lookFirst(m *Machine, procs []*Procedure, fs FeatureSet, gs []Gauge, now time.Time) []Gauge {
	for i := range gs {
		if gs[i].Kind != Swap || gs[i].Word != WordUnknown && !gs[i].AtMost {
			continue
		}
		p := procs[slices.IndexFunc(procs, func(q *Procedure) bool { return q.ID == gs[i].Item })]
		look := LookOf(p, procs, fs)
		if look == nil {
			continue
		}
		gs[i].Look = look.ID
		if slices.ContainsFunc(gs, func(g Gauge) bool { return g.Item == look.ID }) {
			continue
		}
		if g, ok := gaugeOf(m, look, fs, now); ok {
			gs = append(gs, g)
		}
	}
	return gs
}
