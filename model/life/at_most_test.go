package life

import (
	"math"
	"testing"
	"time"

	"bench/oilcan/model"
)

// A part at most so old is not due when the machine's age is reckoned to have reached the band:
// then nobody knows. Its chance of being due is that of an age spread evenly from nothing to the
// bound.
func TestAtMost(t *testing.T) {
	now := time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron", Duty: model.Home},
		Readings: map[model.Meter]*model.Series{}}
	s := &model.Series{N: 2, First: model.Point{At: now.AddDate(0, 0, -100), Value: 0},
		Last: model.Point{At: now.AddDate(0, 0, -20), Value: 1600}}
	for i := range 81 {
		s.Days = append(s.Days,
			model.Point{At: s.First.At.AddDate(0, 0, i), Value: float64(i) * 20})
	}
	m.Readings[model.Hours] = s
	of := func(low, high float64) []*model.Procedure {
		return []*model.Procedure{{ID: "belt-swap", Kind: model.Swap,
			Intervals: []model.Interval{{Meter: model.Hours, Low: low, High: high}}}}
	}
	if g := Gauges(m, of(1800, 3000), now)[0]; g.Word != model.WordUnknown || g.Measured ||
		g.Estimated {
		t.Errorf("reckoned to have reached the band: %s, estimated %t", g.Word, g.Estimated)
	}
	f := NewForecaster(m, now)
	g := f.Gauges(of(20000, 30000))[0]
	if !g.AtMost || g.Word != model.WordFresh {
		t.Fatalf("%s, at most %t", g.Word, g.AtMost)
	}
	// 1 600 h at most and 20 h a day: half of the ages from 0 to 1 600 reach 1 600 once 800 h more
	// are on it, 40 days after the last reading.
	p, ok := f.PassBefore(&g, 1600, s.Last.At.AddDate(0, 0, 40))
	if !ok || p < 0.4 || p > 0.6 {
		t.Errorf("chance %.2f, want about a half", p)
	}
}

// The chance that a part is past its band by the next care, and how much of it its care takes away,
// against what can be worked out by hand: the calendar is exact, and an age spread evenly over 0 to
// N is past a level with (N - level)/N.
func TestRiskAndDrop(t *testing.T) {
	now := time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)
	f := NewForecaster(&model.Machine{MachineFact: model.MachineFact{Duty: model.Home}}, now)
	days := func(word model.GaugeWord, used, low, high float64) model.Gauge {
		return model.Gauge{Meter: model.Days, Word: word, Used: used, Low: low, High: high,
			Measured: word != model.WordUnknown}
	}
	bounded := days(model.WordFresh, 400, 500, 510)
	bounded.AtMost = true
	older := days(model.WordUnknown, 0, 300, 330)
	older.Most = 400
	found := days(model.WordDue, 5, 300, 330)
	called := model.Gauge{Word: model.WordDue}
	for name, c := range map[string]struct {
		g          model.Gauge
		risk, drop float64
	}{
		"past":                                  {days(model.WordPast, 340, 300, 330), 1, 1},
		"past, and past again by the next care": {days(model.WordPast, 40, 10, 20), 1, 0},
		"due, past by the next care":            {days(model.WordDue, 310, 300, 330), 1, 1},
		"due, in its band still at the next":    {days(model.WordDue, 310, 300, 400), 0, 0},
		"fresh":                                 {days(model.WordFresh, 10, 300, 330), 0, 0},
		"at most 400 days, good to 510":         {bounded, 0, 0},
		// ages above 300 are above 330 in 30 days
		"not known, 400 days at most": {older, 0.25, 0.25},
		"not known, nothing tells": {days(model.WordUnknown, 0, 300, 330), unsaid,
			unsaid},
		"called for by a finding":                {found, 1, 1},
		"called for, and nothing else counts it": {called, 1, 1},
	} {
		c.g.Forecast = f.forecast(&c.g, f.pace(&model.Gauge{Meter: model.Days}),
			c.g.Used >= c.g.Low)
		if !c.g.Measured {
			c.g.Forecast = nil
		}
		if risk, drop := f.Risk(&c.g), f.Drop(&c.g); math.Abs(risk-c.risk) > 0.02 ||
			math.Abs(drop-c.drop) > 0.02 {
			t.Errorf("%s: risk %.3f, drop %.3f, want %.3f and %.3f", name, risk, drop, c.risk,
				c.drop)
		}
	}
}
