package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// TestEveryStateCanBeClosed: however a machine is said to stand, with power locked after a stop or
// not, there is a plan that closes it. A walk without one could not go on. One state in seven is
// tried, another one in seven for each kind of machine; without OILCAN_LONG a third of them.
func TestEveryStateCanBeClosed(t *testing.T) {
	lib := library(t)
	for k, kind := range machineKinds {
		m := machine(lib, kind...)
		fs := model.NewFeatureSet(m.Features...)
		r := plan.Request{Features: fs, Settings: m.Settings,
			Procedures: []*model.Procedure{lib.Get("close-out")}}
		for _, q := range lib.SetUps() {
			r.SetUps = append(r.SetUps, q.For(fs, m.Settings))
		}
		for i, start := range states(model.Variables, fs) {
			if i%(7*each(3)) != k%7 {
				continue
			}
			r.Start = start
			r.Locked = false
			for _, r.Unplugged = range []bool{true, false} {
				if _, err := plan.Make(r); err != nil {
					t.Fatalf("%v, left unplugged %v: %v", start, r.Unplugged, err)
				}
			}
			for _, r.Locked = range []bool{false, true} {
				if r.Locked && start[model.Power] == "on" {
					continue // said to be off first
				}
				r.Start = start
				if _, err := plan.Make(r); err != nil {
					t.Fatalf("%v, locked %v: %v", start, r.Locked, err)
				}
			}
		}
	}
}

// states gives every way a machine can stand.
func states(vs []model.Variable, fs model.FeatureSet) []model.Condition {
	if len(vs) == 0 {
		return []model.Condition{{}}
	}
	rest := states(vs[1:], fs)
	if !vs[0].Exists(fs) {
		return rest
	}
	var out []model.Condition
	for _, val := range model.Values[vs[0]] {
		for _, c := range rest {
			d := c.Clone()
			d[vs[0]] = val
			out = append(out, d)
		}
	}
	return out
}
