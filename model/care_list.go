package model

import "slices"

// safetyCare guards a person: it is let go by word only, and the machine's page goes on saying so.
var safetyCare = []string{
	"bed-cable", "electrical-glance", "electrical-look", "estop-check", "estop-check-look",
}

// GuardsPerson tells whether a procedure guards a person rather than the machine or the print.
func GuardsPerson(id string) bool { return slices.Contains(safetyCare, id) }

// stopCauses is where most stops come from beside what guards a person: cables and heat (common
// practice).
var stopCauses = []string{"cold-look", "cable-check", "heater-ohms"}

// FindsStops tells whether a procedure looks where most stops come from: mains, cables and heat.
func FindsStops(id string) bool { return GuardsPerson(id) || slices.Contains(stopCauses, id) }

// Keeps tells whether a machine is kept by a procedure. Without a care list it is kept by all that
// fits it.
func (f MachineFact) Keeps(id string) bool {
	return f.CareList == nil || slices.Contains(f.CareList, id)
}

// KeptByAll is the machine with the gauges of all that fits it. What it holds is shared with m.
func (m *Machine) KeptByAll() *Machine {
	all := *m
	all.every = true
	return &all
}

// canKeep tells whether a procedure can be on a care list: what opens or closes a session, or
// belongs to it, cannot.
func canKeep(p *Procedure, fs FeatureSet) bool {
	return p.Kind != SetUp && p.Kind != Bookend && p.Fits(fs)
}

// FullList is every procedure a machine with these features can be kept by, sorted; never nil.
func FullList(procs []*Procedure, fs FeatureSet) []string {
	out := []string{}
	for _, p := range procs {
		if canKeep(p, fs) {
			out = append(out, p.ID)
		}
	}
	slices.Sort(out)
	return out
}

// StarterList is what a new machine with these features is kept by, sorted; never nil. A look that
// one of them also does is among them, so that a look comes before the whole.
func StarterList(procs []*Procedure, fs FeatureSet) []string {
	fits := map[string]bool{}
	for _, p := range procs {
		fits[p.ID] = canKeep(p, fs)
	}
	out := []string{}
	for _, p := range procs {
		if !p.Starter || !fits[p.ID] {
			continue
		}
		out = append(out, p.ID)
		for _, id := range p.CountsAs {
			if fits[id] {
				out = append(out, id)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// WithCare gives the description with a procedure kept, or let go. Its record stays. A machine kept
// by all that fits it has its list written out of procs first.
func (f MachineFact) WithCare(procs []*Procedure, id string, keep bool) MachineFact {
	if f.CareList == nil {
		f.CareList = FullList(procs, NewFeatureSet(f.Features...))
	}
	list := []string{}
	for _, x := range f.CareList {
		if x != id {
			list = append(list, x)
		}
	}
	if keep {
		list = append(list, id)
	}
	slices.Sort(list)
	f.CareList = list
	return f
}

// LetGo gives the procedures that guard a person and fit the machine, and that it is not kept by.
func (f MachineFact) LetGo(procs []*Procedure) []*Procedure {
	fs := NewFeatureSet(f.Features...)
	var out []*Procedure
	for _, p := range procs {
		if GuardsPerson(p.ID) && p.Fits(fs) && !f.Keeps(p.ID) && !f.watched(procs, p.ID) {
			out = append(out, p)
		}
	}
	return out
}

// watched tells whether what a procedure looks at is looked at by another that is kept: one that
// also does it, or the look of it.
func (f MachineFact) watched(procs []*Procedure, id string) bool {
	fs := NewFeatureSet(f.Features...)
	for _, p := range procs {
		if !p.Fits(fs) {
			continue
		}
		if f.Keeps(p.ID) && slices.Contains(p.CountsAs, id) {
			return true
		}
		if p.ID == id && slices.ContainsFunc(p.CountsAs, func(l string) bool {
			return GuardsPerson(l) && f.Keeps(l)
		}) {
			return true
		}
	}
	return false
}

// Refit gives the description after its features changed: what of the starter list fits now and did
// not before is kept from now on.
func (f MachineFact) Refit(procs []*Procedure, was []Feature) MachineFact {
	if f.CareList == nil {
		return f
	}
	had := StarterList(procs, NewFeatureSet(was...))
	for _, id := range StarterList(procs, NewFeatureSet(f.Features...)) {
		if !slices.Contains(had, id) {
			f = f.WithCare(procs, id, true)
		}
	}
	return f
}
