package model

import (
	"slices"
	"testing"
)

// renewals are a renewal with a look it does too, one whose look is at the same part, and one
// without a look.
func renewals() []*Procedure {
	hours := func(low, high float64) []Interval {
		return []Interval{{Meter: Hours, Low: low, High: high}}
	}
	days := []Interval{{Meter: Days, Low: 30, High: 38}}
	return []*Procedure{
		{ID: "blade-check", Kind: Swap, Part: "blade", CountsAs: []string{"blade-check-look"},
			Intervals: hours(1000, 2000)},
		{ID: "blade-check-look", Kind: Look, Part: "blade", Intervals: days},
		{ID: "belt-swap", Kind: Swap, Part: "belt", Intervals: hours(1000, 5000)},
		{ID: "belt-tone", Kind: Look, Part: "belt", Intervals: days},
		{ID: "bearing-swap", Kind: Swap, Part: "bearing", Intervals: hours(1000, 5000)},
	}
}

// A renewal nobody knows the last time of is looked at, not renewed; one without a look is proposed
// itself.
func TestUnknownRenewalIsItsLook(t *testing.T) {
	m := machine()
	m.Readings[Hours] = series(1200, 1, 0, 5)
	gs := Gauges(m, renewals(), gaugeNow)
	pre := Preselect(gs)
	slices.Sort(pre)
	if want := []string{"bearing-swap", "belt-tone", "blade-check-look"}; !slices.Equal(pre, want) {
		t.Errorf("the session starts from %q, want %q", pre, want)
	}
	for _, g := range gs {
		look := map[string]string{"blade-check": "blade-check-look",
			"belt-swap": "belt-tone"}[g.Item]
		if g.Look != look {
			t.Errorf("%s is looked at by %q, want %q", g.Item, g.Look, look)
		}
	}
	m.Care["belt-tone"], m.Care["blade-check-look"] = done(1, nil), done(1, nil)
	if pre := Preselect(Gauges(m, renewals(), gaugeNow)); !slices.Equal(pre,
		[]string{"bearing-swap"}) {
		t.Errorf("looked at yesterday, the session starts from %q", pre)
	}
	m.Care["belt-swap"] = done(400, map[Meter]float64{Hours: 50})
	if pre := Preselect(Gauges(m, renewals(), gaugeNow)); !slices.Contains(pre, "belt-swap") {
		t.Errorf("known to be due, the belt is not renewed: %q", pre)
	}
}

// What was never done since the machine was new counts from its first hour, and a later reading
// does not move that.
func TestOriginal(t *testing.T) {
	b := Fold([]Entry{
		{Seq: 1, ID: "a", At: ago(9),
			Fact: Fact{Kind: KindMachine, Machine: &MachineFact{ID: "m", Name: "Heron"}}},
		{Seq: 2, ID: "b", At: ago(9), Machine: "m", Action: "b",
			Fact: Fact{Kind: KindReading, Reading: &Reading{Meter: Hours, Value: 1100}}},
		{Seq: 3, ID: "c", At: ago(9), Machine: "m", Action: "c",
			Fact: Fact{Kind: KindCare,
				Care: &CareDone{Procedure: "belt-swap", Outcome: "original"}}},
		{Seq: 4, ID: "d", At: ago(1), Machine: "m", Action: "d",
			Fact: Fact{Kind: KindReading, Reading: &Reading{Meter: Hours, Value: 1200}}},
	})
	g := Gauges(b.Machines["m"], renewals()[2:3], gaugeNow)[0]
	if g.Word != WordDue || g.Used != 1200 || g.AtMost || !g.Known {
		t.Errorf("%s, %s", g.Word, g.UsedText())
	}
}

// A counter said to be new when it was first read tells no age.
func TestYoungCounterTellsNoAge(t *testing.T) {
	b := Fold([]Entry{
		{Seq: 1, ID: "a", At: ago(9),
			Fact: Fact{Kind: KindMachine, Machine: &MachineFact{ID: "m", Name: "Heron"}}},
		{Seq: 2, ID: "b", At: ago(9), Machine: "m", Action: "b",
			Fact: Fact{Kind: KindReading,
				Reading: &Reading{Meter: Hours, Value: 0, NewMeter: true}}},
	})
	if g := Gauges(b.Machines["m"], renewals()[2:3], gaugeNow)[0]; g.Word != WordUnknown {
		t.Errorf("%s, %s", g.Word, g.UsedText())
	}
}
