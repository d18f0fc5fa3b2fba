package life

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

// A part at most so old is not due when the machine's age is reckoned to have reached the band: then nobody knows.
// Its chance of being due is that of an age spread evenly from nothing to the bound.
func TestAtMost(t *testing.T) {
	now := time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron", Duty: model.Home}, Readings: map[model.Meter]*model.Series{}}
	s := &model.Series{N: 2, First: model.Point{At: now.AddDate(0, 0, -100), Value: 0}, Last: model.Point{At: now.AddDate(0, 0, -20), Value: 1600}}
	for i := range 81 {
		s.Days = append(s.Days, model.Point{At: s.First.At.AddDate(0, 0, i), Value: float64(i) * 20})
	}
	m.Readings[model.Hours] = s
	of := func(low, high float64) []*model.Procedure {
		return []*model.Procedure{{ID: "belt-swap", Kind: model.Swap, Intervals: []model.Interval{{Meter: model.Hours, Low: low, High: high}}}}
	}
	if g := Gauges(m, of(1800, 3000), now)[0]; g.Word != model.WordUnknown || g.Measured || g.Estimated {
		t.Errorf("reckoned to have reached the band: %s, estimated %t", g.Word, g.Estimated)
	}
	f := NewForecaster(m, now)
	g := f.Gauges(of(20000, 30000))[0]
	if !g.AtMost || g.Word != model.WordFresh {
		t.Fatalf("%s, at most %t", g.Word, g.AtMost)
	}
	// 1,600 h at most and 20 h a day: half of the ages from 0 to 1,600 reach 1,600 once 800 h more are on it,
	// 40 days after the last reading.
	p, ok := f.PassBefore(&g, 1600, s.Last.At.AddDate(0, 0, 40))
	if !ok || p < 0.4 || p > 0.6 {
		t.Errorf("chance %.2f, want about a half", p)
	}
}
