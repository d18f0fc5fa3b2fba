package model

import "testing"

func TestStockLow(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		name string
		s    Stock
		want bool
	}{
		{"not counted", Stock{Minimum: 2}, false},
		{"none left, no minimum", Stock{Count: n(0)}, true},
		{"one left, no minimum", Stock{Count: n(1)}, false},
		{"at the minimum", Stock{Count: n(2), Minimum: 2}, true},
		{"above it", Stock{Count: n(3), Minimum: 2}, false},
		{"over-drawn", Stock{Count: n(-1)}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.s.Low(); got != c.want {
				t.Errorf("low: %v, want %v", got, c.want)
			}
		})
	}
}
