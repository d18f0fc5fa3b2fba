package model

import (
	"slices"
	"time"
)

// Remedied closes the notes on a machine that called for care which facts of a time say is done, and
// proved where it has to be: what was found is put right by it. A note that called for more stands
// until the last of it is done. What the facts close themselves is left to them.
func (m *Machine) Remedied(facts []Fact, at time.Time) (out []Fact) {
	if m == nil {
		return nil
	}
	var done, closed []string
	for _, f := range facts {
		switch {
		case f.Settled != nil:
			closed = append(closed, f.Settled.Finding)
		case f.Swap != nil:
			done = append(done, f.Swap.Resets...)
		case f.Care == nil || f.Care.ProofOwed:
		case f.Care.Outcome == OutcomeDone:
			done = append(append(done, f.Care.Procedure), f.Care.CountsAs...)
		case f.Care.Outcome == OutcomeProved:
			done = append(done, f.Care.Procedure)
		}
	}
	for _, f := range m.Findings {
		since := func(id string) bool {
			last := m.Care[id]
			return slices.Contains(done, id) || last != nil && last.Known && !last.ProofOwed &&
				last.At.After(f.At)
		}
		if f.Kind != FoundNote || !f.At.Before(at) || slices.Contains(closed, f.ID) ||
			!slices.ContainsFunc(f.Calls, func(id string) bool { return slices.Contains(done, id) }) ||
			slices.ContainsFunc(f.Calls, func(id string) bool { return !since(id) }) {
			continue
		}
		out = append(out, Fact{Kind: KindSettled,
			Settled: &Settled{Finding: f.ID, Why: "the care it called for is done"}})
	}
	return out
}
