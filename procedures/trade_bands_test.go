package procedures

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

// The trade's bands, common practice with no source: a lens every 30 days, but every 3 to 5 where
// mostly ABS is printed; a filter every 90 days at home and 30 in production; a blade every 3,000
// to 5,000 changes.
func TestTradeBands(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)
	procs := Open("").Heads()
	for _, c := range []struct {
		name, item string
		duty       model.Duty
		styrenic   float64 // share of the hours of the last 30 days
		days, cuts float64 // since it was done
		word       model.GaugeWord
		low, high  float64
	}{
		{"a lens", "layer-lens-clean", model.Home, 0, 29, 0, model.WordWearing, 30, 38},
		{"a lens, due", "layer-lens-clean", model.Home, 0, 31, 0, model.WordDue, 30, 38},
		{"a lens in constant ABS", "layer-lens-clean", model.Home, 0.9, 4, 0, model.WordDue, 3, 5},
		{"a lens in constant ABS, past", "layer-lens-clean", model.Home, 0.9, 6, 0, model.WordPast,
			3, 5},
		{"a lens, some ABS", "layer-lens-clean", model.Home, 0.3, 4, 0, model.WordFresh, 30, 38},
		{"a filter at home", "filter-swap", model.Home, 0, 91, 0, model.WordDue, 90, 113},
		{"a filter in production", "filter-swap", model.Production, 0, 31, 0, model.WordDue, 30,
			38},
		{"a blade", "blade-check", model.Home, 0, 10, 2900, model.WordWearing, 3000, 5000},
		{"a blade, due", "blade-check", model.Home, 0, 10, 3000, model.WordDue, 3000, 5000},
		{"a blade, past", "blade-check", model.Home, 0, 10, 5001, model.WordPast, 3000, 5000},
	} {
		t.Run(c.name, func(t *testing.T) {
			at := func(days float64) time.Time {
				return now.Add(-time.Duration(days * 24 * float64(time.Hour)))
			}
			grown := func(by float64) *model.Series {
				from, to := model.Point{At: at(40), Value: 1000}, model.Point{At: now, Value: 1000 +
					by}
				return &model.Series{First: from, Last: to, Days: []model.Point{from, to}, N: 2}
			}
			m := &model.Machine{MachineFact: model.MachineFact{Features: model.FullFeatures,
				Duty: c.duty},
				Readings: map[model.Meter]*model.Series{model.Hours: grown(20),
					model.StyrenicHours: grown(20 * c.styrenic), model.Changes: grown(c.cuts)},
				Care: map[string]*model.CareLast{c.item: {Known: true, At: at(c.days),
					Base: map[model.Meter]float64{
						model.Changes: 1000, model.StyrenicHours: 1000 + 20*c.styrenic}}}}
			for _, g := range model.Gauges(m, procs, now) {
				if g.Item == c.item {
					if g.Word != c.word || g.Low != c.low || g.High != c.high ||
						g.Basis != "common practice" {
						t.Errorf("%s, %v of %v–%v (%s)", g.Word, g.Used, g.Low, g.High, g.Basis)
					}
					return
				}
			}
			t.Errorf("%s has no gauge", c.item)
		})
	}
}
