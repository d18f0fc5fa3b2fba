package life

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

// 2,000 of 3,000 changes used; prints of 600 changes in 10 h and 800 in 20 h are booked. The second
// reaches 3,000 when half of it is done: 10 h + 20 h · 400/800 = 20 h from now.
func TestBookedPrintsBringTheDateForward(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	m := &model.Machine{MachineFact: model.MachineFact{ID: "m", Name: "Heron", Duty: model.Home},
		Added: now.AddDate(0, -3, 0),
		Readings: map[model.Meter]*model.Series{model.Changes: {First: model.Point{At: now.AddDate(
			0, -2, 0)}, Last: model.Point{At: now, Value: 2000}, N: 2}},
		Care: map[string]*model.CareLast{"blade": {At: now.AddDate(0, -2, 0), Known: true,
			Base: map[model.Meter]float64{model.Changes: 0}}}}
	procs := []*model.Procedure{{ID: "blade", Part: "blade", Title: "Blade",
		Intervals: []model.Interval{{Meter: model.Changes, Low: 3000, High: 5000}}}}
	before := Gauges(m, procs, now)[0]
	for _, b := range []struct{ changes, hours float64 }{{600, 10}, {800, 20}} {
		m.Booked = append(m.Booked,
			model.Booking{PrintJob: model.PrintJob{File: "a",
				Need: map[model.Meter]float64{model.Changes: b.changes, model.Hours: b.hours}}})
	}
	g := Gauges(m, procs, now)[0]
	want := now.Add(20 * time.Hour)
	if g.DueLow == nil || !g.DueLow.Equal(want) || !g.DueLow.Before(*before.DueLow) ||
		!g.Forecast.Mid.Equal(want) {
		t.Errorf("low is reached %v, forecast %+v; want %v", g.DueLow, g.Forecast, want)
	}
	if !g.DueHigh.Equal(*before.DueHigh) {
		t.Errorf("the high end moved to %v, and no print booked reaches it", g.DueHigh)
	}
	if use := m.BookedUse(); use[model.Changes] != 1400 ||
		use[model.Hours] != 30 {
		t.Errorf("booked are %v", use)
	}
}

// The drawer counts the prints booked: more changes than the pace would bring want more blades.
func TestDrawerCountsBookedPrints(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	m := &model.Machine{MachineFact: model.MachineFact{ID: "m", Name: "Heron", Duty: model.Home},
		Added: now.AddDate(0, -3, 0),
		Readings: map[model.Meter]*model.Series{model.Changes: {First: model.Point{At: now.AddDate(
			0, -2, 0)}, Last: model.Point{At: now, Value: 1000}, N: 2}},
		Care: map[string]*model.CareLast{"blade": {At: now.AddDate(0, -2, 0), Known: true,
			Base: map[model.Meter]float64{model.Changes: 0}}}}
	procs := []*model.Procedure{{ID: "blade", Part: "blade", Kind: model.Swap,
		Supplies:  []model.Supply{{Part: "blade", Quantity: 1}},
		Intervals: []model.Interval{{Meter: model.Changes, Low: 3000, High: 5000}}}}
	before := NewSpares([]*model.Machine{m}, procs, now).Need("blade", 14).Mean()
	m.Booked = []model.Booking{{PrintJob: model.PrintJob{File: "a",
		Need: map[model.Meter]float64{model.Changes: 9000}}}}
	after := NewSpares([]*model.Machine{m}, procs, now).Need("blade", 14).Mean()
	if before > 0.1 || after < 1.5 {
		t.Errorf("%v blades are wanted, and with 9,000 changes booked %v", before, after)
	}
}
