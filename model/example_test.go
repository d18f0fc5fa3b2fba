package model_test

import (
	"fmt"
	"time"

	"bench/oilcan/model"
)

// One text is one number, or it is asked which of two is meant.
func ExampleReadNumber() {
	for _, text := range []string{"12,5 mm", "1 234,5", "1.234"} {
		n, err := model.ReadNumber(text)
		fmt.Println(n.Value, n.Unit, n.Two, err)
	}
	// Output:
	// 12.5 mm false <nil>
	// 1234.5  false <nil>
	// 1234  true <nil>
}

// A figure is given where the thread can bear what the screw can; elsewhere the rule of the hand.
func ExampleFastener_Ceiling() {
	for _, screw := range []model.Fastener{
		{Head: "cap", Size: "M3", Class: "8.8", Thread: "steel"},
		{Head: "cap", Size: "M3", Thread: "insert"},
	} {
		t := screw.Ceiling()
		fmt.Printf("%s: %.1f Nm, %s\n", screw.Thread, t.Ceiling, t.Rule)
	}
	// Output:
	// steel: 1.3 Nm, snug, then 1/12 to 1/8 turn
	// insert: 0.0 Nm, snug, then 1/16 turn
}

// How much of a band is used up since care was done, and the word for it.
func ExampleGauges() {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	fans := &model.Procedure{ID: "fans-blow", Kind: model.Care, Title: "Blow the fans clean",
		Intervals: []model.Interval{{Meter: model.Days, Low: 30, High: 38,
			Basis: "common practice"}}}
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron", Duty: model.Home},
		Care: map[string]*model.CareLast{"fans-blow": {At: now.AddDate(0, 0, -26), Known: true}}}
	for _, g := range model.Gauges(m, []*model.Procedure{fans}, now) {
		fmt.Println(g.Item, g.Word, g.UsedText())
	}
	// Output:
	// fans-blow wearing 26 of 30 days
}
