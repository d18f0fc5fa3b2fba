package model

import (
	"slices"
	"strings"
	"time"
)

// Remedied closes the notes on a machine that called for care which facts of a time say is done: what
// was found is put right by it. A note that called for more stands until the last of it is done, and
// what holds the machine until it is closed by name.
func (m *Machine) Remedied(facts []Fact, at time.Time) (out []Fact) {
	if m == nil {
		return nil
	}
	var done []string
	for _, f := range facts {
		switch {
		case f.Care != nil && f.Care.Outcome == OutcomeDone:
			done = append(append(done, f.Care.Procedure), f.Care.CountsAs...)
		case f.Swap != nil:
			done = append(done, f.Swap.Resets...)
		}
	}
	for _, f := range m.Findings {
		asked, left := false, false
		for id, due := range m.Due {
			if f.Kind != FoundNote || !m.DueAt[id].Equal(f.At) || due.Because == "" ||
				!strings.Contains(f.Text, due.Because) {
				continue
			}
			if slices.Contains(done, id) {
				asked = true
			} else if _, stands := fallenDue(m, id); stands {
				left = true
			}
		}
		if asked && !left && f.At.Before(at) {
			out = append(out, Fact{Kind: KindSettled,
				Settled: &Settled{Finding: f.ID, Why: "the care it called for is done"}})
		}
	}
	return out
}
