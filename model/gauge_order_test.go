package model

import "testing"

// TestWhatIsKnownDueComesFirst: the pace since the last reading is a guess beside a finding or the
// calendar.
func TestWhatIsKnownDueComesFirst(t *testing.T) {
	gs := []Gauge{
		{Item: "plate-wash", Word: WordDue, Estimated: true, Fraction: 0.9},
		{Item: "belts-reset", Word: WordDue, Fraction: 0},
		{Item: "filter-swap", Word: WordPast, Fraction: 1.2},
	}
	SortGauges(gs)
	for i, want := range []string{"filter-swap", "belts-reset", "plate-wash"} {
		if gs[i].Item != want {
			t.Errorf("place %d has %s, want %s", i, gs[i].Item, want)
		}
	}
}
