package life

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Shape 2.5, scale 1000 h, costs 1 and 5. Source: the optimum replacement time example of
// ReliaWiki's System Analysis Reference, which prints 493.0470 h; the curve was calculated anew by
// numerical integration.
func TestAgeReplacementPublished(t *testing.T) {
	w := Weibull{Shape: 2.5, Scale: 1000}
	f := Fit{Weibull: w, Ends: 10, ShapeBounds: Interval{1.6, 3.4}}
	r, err := f.Replace(1, 5)
	if err != nil || !within(r.Age, 493.046958, 1e-7) || !within(r.Rate, 0.0034620427, 1e-7) ||
		!within(r.RunToEnd, 0.0056353025, 1e-8) || !within(r.Early, 0.156921, 1e-5) {
		t.Errorf("%+v %v", r, err)
	}
	if optimum := 4 * w.Hazard(r.Age); !within(r.Rate, optimum, 1e-9) {
		t.Errorf("cost %v, by the condition of the optimum %v", r.Rate, optimum)
	}
	for age, want := range map[float64]float64{100: 0.0101354403, 200: 0.0053819542,
		300: 0.0040306250, 400: 0.0035624423,
		500: 0.0034624929, 600: 0.0035502889, 800: 0.0039854185, 1000: 0.0045164055} {
		if got := costRate(w, age, 1, 5); !within(got, want, 1e-8) {
			t.Errorf("cost at %v: %v, want %v", age, got, want)
		}
	}
}

// uniformLife ends anywhere before its end alike.
type uniformLife float64

func (u uniformLife) Survives(t float64) float64   { return 1 - t/float64(u) }
func (u uniformLife) Hazard(t float64) float64     { return 1 / (float64(u) - t) }
func (u uniformLife) MeanBefore(t float64) float64 { return t - t*t/(2*float64(u)) }

// Life uniform to 40,000 km, costs 100 and 200. Source: Jardine and Tsang, Maintenance, Replacement
// and Reliability, chapter 2 problem 2: 0.0142857, 0.01, 0.0093333, 0.01 a km at 10,000 to 40,000
// km, so 30,000 on that grid; the true optimum is 40,000(√3 − 1).
func TestAgeReplacementUniform(t *testing.T) {
	const end = uniformLife(40000)
	for age, want := range map[float64]float64{10000: 0.0142857, 20000: 0.01, 30000: 0.0093333,
		40000: 0.01} {
		if got := costRate(end, age, 100, 200); !within(got, want, 1e-5) {
			t.Errorf("cost at %v: %v, want %v", age, got, want)
		}
	}
	if got := bestAge(end, 100, 200, 1, 39999); !within(got, 40000*(math.Sqrt(3)-1), 1e-9) ||
		!within(costRate(end, got, 100, 200), 0.00933013, 1e-6) {
		t.Errorf("best age %v", got)
	}
}

func TestNeverReplaced(t *testing.T) {
	wears := func(shape, low float64) Fit {
		return Fit{Ends: 10, Weibull: Weibull{Shape: shape, Scale: 1000},
			ShapeBounds: Interval{low, shape + 1}}
	}
	cases := []struct {
		name               string
		f                  Fit
		planned, unplanned float64
		why                string
	}{
		{"shape 1", wears(1, 0.8), 1, 5, "wear-out is not shown"},
		{"shape below 1", wears(0.7, 0.5), 1, 100, "wear-out is not shown"},
		{"shape above 1, its lower bound below", wears(2, 0.9), 1, 100, "wear-out is not shown"},
		{"four ends only", Fit{Ends: 4, Weibull: Weibull{9, 1000}, ShapeBounds: Interval{3, 20}}, 1,
			100, "fewer than 5 ends"},
		{"an unplanned change costs the same", wears(3, 2), 5, 5, "costs no more"},
		{"an unplanned change costs a little more", wears(1.2, 1.05), 5, 5.01, "so little more"},
	}
	for _, c := range cases {
		r, err := c.f.Replace(c.planned, c.unplanned)
		if err != nil || !math.IsInf(r.Age, 1) || !strings.Contains(r.Why, c.why) ||
			r.Rate != r.RunToEnd {
			t.Errorf("%s: %+v %v", c.name, r, err)
		}
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if f := wears(3, 2); f.ShapeBounds.Low > 1 {
			if _, err := f.Replace(bad, 5); err == nil {
				t.Errorf("cost %v taken", bad)
			}
			if _, err := f.Replace(1, bad); err == nil {
				t.Errorf("cost %v taken", bad)
			}
		}
	}
}

// The best age is no worse than any other, scales with the life, and falls as an unplanned change
// grows dearer.
func TestAgeReplacementProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Weibull{rapid.Float64Range(1.3, 8).Draw(t, "shape"),
			math.Exp(rapid.Float64Range(0, 9).Draw(t, "log scale"))}
		f := Fit{Weibull: w, Ends: 10, ShapeBounds: Interval{1.1, 9}}
		ratio := rapid.Float64Range(1.5, 50).Draw(t, "ratio")
		r, err := f.Replace(1, ratio)
		if err != nil {
			t.Fatal(err)
		}
		other := w.Scale * math.Exp(rapid.Float64Range(-4, 1.2).Draw(t, "log age"))
		if costRate(w, other, 1, ratio) < r.Rate*(1-1e-9) && !math.IsInf(r.Age, 1) {
			t.Fatalf("%v at %v is cheaper than %+v", costRate(w, other, 1, ratio), other, r)
		}
		g := Fit{Ends: 10, Weibull: Weibull{w.Shape, 3 * w.Scale}, ShapeBounds: f.ShapeBounds}
		if s, _ := g.Replace(2, 2*ratio); !math.IsInf(r.Age, 1) && !within(s.Age, 3*r.Age, 1e-9) {
			t.Fatalf("%v scaled is %v", r.Age, s.Age)
		}
		if d, _ := f.Replace(1, ratio*1.5); d.Age > r.Age {
			t.Fatalf("dearer failures and later: %v, %v", d.Age, r.Age)
		}
	})
}

// MeanBefore against a sum of thin slices.
func TestMeanBefore(t *testing.T) {
	for _, shape := range []float64{0.6, 1, 2.5, 7} {
		w := Weibull{shape, 100}
		for _, to := range []float64{1, 50, 100, 300} {
			sum, slices := 0.0, 200000
			for i := range slices {
				sum += w.Survives(to*(float64(i)+0.5)/float64(slices)) * to / float64(slices)
			}
			if got := w.MeanBefore(to); !within(got, sum, 1e-6) {
				t.Errorf("shape %v to %v: %v, summed %v", shape, to, got, sum)
			}
		}
	}
}
