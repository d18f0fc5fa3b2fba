package action

import (
	"errors"
	"testing"
	"time"

	"bench/oilcan/model"
)

// The calendar date of ISO 8601 and what people write beside it: each means one day, or is asked
// about.
func TestDatesAsWritten(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for text, want := range map[string]string{
		"2026-10-20": "2026-10-20", "20.10.2026": "2026-10-20", "3.4.2026": "2026-04-03",
		"2026/10/20": "2026-10-20",
		"10/20/2026": "2026-10-20", "20/10/2026": "2026-10-20", "20-10-2026": "2026-10-20",
		"5/5/2026": "2026-05-05",
		"2026-10":  "2026-10-01", "10/2026": "2026-10-01", "10.2026": "2026-10-01",
		"Oct 2026": "2026-10-01", "20 October 2026": "2026-10-20",
		"2w": "2026-11-11", "3d": "2026-11-22", "29.2.2024": "2024-02-29",
	} {
		if at, err := Time(text, now); err != nil || at.Format(time.DateOnly) != want {
			t.Errorf("%s is read as %v, %v", text, at, err)
		}
	}
	for _, text := range []string{"03/04/2026", "3-4-2026"} {
		if _, err := Time(text, now); !errors.As(err, &TwoDays{}) {
			t.Errorf("%s is not asked about: %v", text, err)
		}
	}
	for _, text := range []string{"31.2.2026", "13/13/2026", "3.4.26", "2026-13", "13.2026", "2026",
		"2027-01"} {
		if at, err := Time(text, now); err == nil {
			t.Errorf("%s is read as %v", text, at)
		}
	}
}

func TestReadLast(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	value := func(l Last) float64 {
		if l.Value == nil {
			return -1
		}
		return *l.Value
	}
	for text, want := range map[string]Last{
		"today": {At: now}, "never": {Original: true}, "Original": {Original: true},
		"not known": {Unknown: true}, "?": {Unknown: true},
	} {
		l, err := ReadLast("p", text, now)
		if err != nil || l.Original != want.Original || l.Unknown != want.Unknown ||
			l.Dated() != !want.At.IsZero() {
			t.Errorf("%s is read as %+v, %v", text, l, err)
		}
	}
	for text, want := range map[string]float64{"900 h": 900, "900h": 900, "3000": 3000,
		"3 000 changes": 3000} {
		if l, err := ReadLast("p", text, now); err != nil || value(l) != want || l.Dated() {
			t.Errorf("%s is read as %+v, %v", text, l, err)
		}
	}
	for _, text := range []string{"1,200", "10.2026", "03/04/2026", "soon", "-5", "2027-01-01",
		"3.4.26", ""} {
		if l, err := ReadLast("p", text, now); err == nil {
			t.Errorf("%q is read as %+v", text, l)
		}
	}
}

// A counter's value never becomes a day: what counts by the calendar as well is not called done
// today.
func TestCounterIsNoDay(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	p := &model.Procedure{ID: "oil", Title: "Oil", Kind: model.Care, Intervals: []model.Interval{
		{Meter: model.Days, Low: 30, High: 40, Basis: "from memory"}, {Meter: model.Hours, Low: 500,
			High: 600, Basis: "from memory"}}}
	m := &model.Machine{MachineFact: model.MachineFact{ID: "m", Name: "Heron"},
		Readings: map[model.Meter]*model.Series{
			model.Hours: {N: 1, First: model.Point{At: now, Value: 1200},
				Last: model.Point{At: now, Value: 1200}}}}
	l, err := ReadLast("oil", "900 h", now)
	if err != nil {
		t.Fatal(err)
	}
	a, err := LastDone(m, []*model.Procedure{p}, l, now)
	if err != nil {
		t.Fatal(err)
	}
	b := model.NewBench()
	b.Machines["m"] = m
	for _, f := range a.Facts {
		if err := b.Apply(model.Entry{ID: "e", At: now, Machine: "m", Fact: f}); err != nil {
			t.Fatal(err)
		}
	}
	gs := model.Gauges(m, []*model.Procedure{p}, now)
	if len(gs) != 1 || gs[0].Meter != model.Hours || gs[0].Used != 300 || !gs[0].Last.IsZero() {
		t.Errorf("the gauge is %+v", gs)
	}
	m.Care["oil"].Base = nil // without the counter nothing is known
	if gs = model.Gauges(m, []*model.Procedure{p}, now); gs[0].Word != model.WordUnknown {
		t.Errorf("without its counter the gauge is %+v", gs[0])
	}
}
