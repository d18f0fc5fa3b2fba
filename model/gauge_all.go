package model

import "time"

// GaugesOfLimits gives, for each gauge of Gauges, one gauge for every limit of its procedure that
// can be measured, so that it can be told which will govern later; the gauge itself where none can.
// The order is that of Gauges, and of a procedure's limits that of its file.
func GaugesOfLimits(m *Machine, procs []*Procedure, now time.Time) [][]Gauge {
	byID := make(map[string]*Procedure, len(procs))
	for _, p := range procs {
		byID[p.ID] = p
	}
	var out [][]Gauge
	for _, g := range Gauges(m, procs, now) {
		all := LimitsOf(m, byID[g.Item], g, now)
		if len(all) == 0 {
			all = []Gauge{g}
		}
		out = append(out, all)
	}
	return out
}

// LimitsOf gives one gauge for every limit of a gauge's procedure that can be measured, in the
// order of its file.
func LimitsOf(m *Machine, p *Procedure, g Gauge, now time.Time) (out []Gauge) {
	fs := NewFeatureSet(m.Features...)
	limits, _ := limitsOf(m, p, fs, pending(m, p, fs), now)
	for i := range limits {
		if limits[i].word == WordUnknown {
			continue
		}
		one := g
		one.fill(&limits[i])
		if raised(&g) {
			one.raise(g.Why)
		}
		out = append(out, one)
	}
	return out
}

// raised tells that a gauge is due by a finding or after other care, which its own limit does not
// tell.
func raised(g *Gauge) bool { return g.Word == WordDue && g.Measured && g.Used < g.Low }
