package walk_test

import (
	"slices"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// workInWaits holds what is done while a wait runs to the test's own account of the machine: it
// names a wait that runs and is not watched, it does nothing to the machine, nothing that guards it
// is still to be asked, vapour and heat allow it.
func workInWaits(s seen) string {
	for _, e := range s.entries {
		if e.Walk == nil || e.Walk.What != walk.Early {
			continue
		}
		step, ok := stepOf(s.r.W, e.Walk.ID, e.Walk.Step)
		if !ok {
			continue // its block was left out by the same answer
		}
		here := e.Walk.ID + "/" + e.Walk.Step
		named := func(name string) bool { return slices.Contains(step.Meanwhile, name) }
		switch {
		case len(step.Out)+len(step.In)+len(step.Back)+len(step.Taken)+len(step.Set)+
			len(step.Starts)+len(step.Drives) > 0,
			step.Own, step.Fastener != nil, step.Gate == model.State, step.Gate == model.Wait, step.Gate == model.Measure, step.Gate == model.Count:
			return here + " does something to the machine"
		case s.before.vapour && !named("air"):
			return here + " in vapour"
		case (s.before.heat.hot || s.before.power == "on") && !named("cool") && !named("map"):
			return here + " at a hot or live machine"
		case !slices.ContainsFunc(waitsAt(s, e.At), func(name string) bool {
			return name != "" && named(name)
		}):
			return here + " and no wait runs that it names"
		}
		if hold := openHold(s, e); hold != "" {
			return here + " before " + hold
		}
	}
	return ""
}

// waitsAt names the waits that run at an instant, by the journal.
func waitsAt(s seen, at time.Time) []string {
	var out []string
	for _, e := range s.r.J.Entries {
		if e.Walk == nil || e.Walk.What != walk.Waiting || !e.Walk.Until.After(at) {
			continue
		}
		step, _ := stepOf(s.r.W, e.Walk.ID, e.Walk.Step)
		switch {
		case step.Attended:
		case step.Clock == "cooling":
			out = append(out, "cool")
		case step.Clock == "airing":
			out = append(out, "air")
		default:
			out = append(out, step.Name)
		}
	}
	return out
}

// openHold is a hold of a block before a step of it that nobody passed, "" for none.
func openHold(s seen, early model.Entry) string {
	for _, b := range s.r.W.Blocks {
		if b.ID != early.Walk.ID {
			continue
		}
		for _, x := range b.Proc.Steps {
			if x.Name == early.Walk.Step {
				return ""
			}
			passed := slices.ContainsFunc(s.r.J.Entries, func(e model.Entry) bool {
				return e.Walk != nil && e.Walk.ID == b.ID && e.Walk.Step == x.Name &&
					e.Walk.What == walk.Passed
			})
			if x.Rank() == model.Hold && x.Only.Step == "" && !passed {
				return x.Name
			}
		}
	}
	return ""
}
