package life

import "bench/oilcan/model"

// unsaid is the chance that care is past its band where nothing at all tells its age (from memory).
const unsaid = 0.5

// Risk is the chance, 0 … 1, that a gauge is past the high end of its band by the next care if
// nothing is done. The age of a part that is at most so old is spread evenly from nothing to that.
// What a finding or other care calls for counts as past.
func (f *Forecaster) Risk(g *model.Gauge) float64 {
	switch {
	case g.Word == model.WordPast, g.Word == model.WordDue && !g.Estimated &&
		(g.Low <= 0 || g.Used < g.Low):
		return 1
	case g.Word == model.WordUnknown && g.Most > 0:
		aged := *g
		aged.Used, aged.AtMost = g.Most, true
		return f.fails(&aged)
	case g.Word == model.WordUnknown:
		return unsaid
	case g.Forecast != nil:
		return g.Forecast.Fails
	}
	return 0
}

// Drop is by how much doing the care now lowers that chance, 0 … 1: what is worn out again by the
// next care is not helped for long.
func (f *Forecaster) Drop(g *model.Gauge) float64 {
	if g.Low <= 0 { // only a finding or other care counts
		return f.Risk(g)
	}
	again := f.fails(f.anew(*g))
	for _, o := range f.others[g.Item] {
		again = max(again, f.fails(f.anew(o)))
	}
	return max(0, f.Risk(g)-again)
}

// anew is a limit as it is when its care has just been done.
func (f *Forecaster) anew(g model.Gauge) *model.Gauge {
	g.Used, g.AtMost, g.Last = 0, false, f.now
	return &g
}

// fails is the chance that a limit reaches the high end of its band before the next care.
func (f *Forecaster) fails(g *model.Gauge) float64 {
	p := f.Pace(g)
	if p == nil {
		return 0
	}
	return passBefore(p, g, g.High, f.now, NextCare(f.m.Duty, f.now))
}
