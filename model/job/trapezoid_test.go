package job

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Values worked out by hand from the equations of uniform acceleration, to the digits written.
func TestTrapezoid(t *testing.T) {
	for _, c := range []struct {
		name                   string
		d, vi, v, ve, a, t, to float64
	}{
		// da = dd = 100²/2000 = 5; 0.1 + 0.1 + 90/100
		{"reaches its speed", 100, 0, 100, 0, 1000, 1.100000, 1e-9},
		// da + dd = 10 = d
		{"just reaches it", 10, 0, 100, 0, 1000, 0.200000, 1e-9},
		// peak = sqrt(2·1000·5/2) = 70.710678; 2·70.710678/1000
		{"does not reach it", 5, 0, 100, 0, 1000, 0.141421, 5e-7},
		// da = (14400-400)/3000 = 4.666667, dd = (14400-100)/3000 = 4.766667;
		// 100/1500 + 110/1500 + 10.566667/120
		{"between two speeds", 20, 20, 120, 10, 1500, 0.228056, 5e-7},
	} {
		t.Run(c.name, func(t *testing.T) {
			near(t, "time", trapezoid(c.d, c.vi, c.v, c.ve, c.a), c.t, c.to)
		})
	}
}

// The distance under the speed is the distance asked for: a law, not an example.
func TestTrapezoidGoesTheWholeWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1, 500).Draw(t, "v")
		a := rapid.Float64Range(10, 20000).Draw(t, "a")
		vi := rapid.Float64Range(0, v).Draw(t, "vi")
		ve := rapid.Float64Range(0, v).Draw(t, "ve")
		d := math.Abs(vi*vi-ve*ve)/(2*a) + rapid.Float64Range(1e-3, 500).Draw(t, "more")
		got := trapezoid(d, vi, v, ve, a)
		if least := d / v; got < least*(1-1e-12) {
			t.Fatalf("%g s for %g mm at most %g mm/s", got, d, v)
		}
		peak := math.Min(v, math.Sqrt((2*a*d+vi*vi+ve*ve)/2))
		ramps := (peak-vi)/a + (peak-ve)/a
		way := (peak*peak-vi*vi)/(2*a) + (peak*peak-ve*ve)/(2*a) + peak*(got-ramps)
		if math.Abs(way-d) > 1e-9*d+1e-9 {
			t.Fatalf("goes %g mm of %g", way, d)
		}
	})
}
