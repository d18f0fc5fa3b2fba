package model

import "slices"

// landed turns misses that lead to a step the machine has no use for to the next one it has, so
// that what they were to bring back still comes back. steps are all of the file's in order, kept
// those of the machine.
func landed(steps, kept []Step) {
	next := func(name string) string {
		at := slices.IndexFunc(steps, func(s Step) bool { return s.Name == name })
		for ; at >= 0 && at < len(steps); at++ {
			if slices.ContainsFunc(kept, func(s Step) bool { return s.Name == steps[at].Name }) {
				return steps[at].Name
			}
		}
		return name
	}
	for i := range kept {
		kept[i].Miss = kept[i].Miss.landed(next)
		kept[i].Options = slices.Clone(kept[i].Options)
		for j := range kept[i].Options {
			kept[i].Options[j].Miss = kept[i].Options[j].Miss.landed(next)
		}
	}
}

// landed gives the miss with every step it leads to as next says; nil stays nil.
func (m *Miss) landed(next func(string) string) *Miss {
	if m == nil {
		return nil
	}
	to := *m
	if to.Step != "" {
		to.Step = next(to.Step)
	}
	to.Else = m.Else.landed(next)
	return &to
}
