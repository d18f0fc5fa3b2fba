package life

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// poisson is the demand of many machines that each rarely want one, at a mean >= 0 over the time.
func poisson(mean float64) Demand {
	if !(mean > 0) {
		return Demand{1}
	}
	log := math.Log(mean)
	return counts(mean, func(k float64) float64 {
		f, _ := math.Lgamma(k + 1)
		return k*log - mean - f
	})
}

// missing is how many are wanted in vain on average, the expected backorders Σ (x − stock)·p(x).
func missing(d Demand, stock int) float64 {
	sum := 0.0
	for k := max(0, stock+1); k < len(d); k++ {
		sum += float64(k-stock) * d[k]
	}
	return sum
}

// 14 a year, 45 days of lead time, a mean of 1.72603. Source: Hopp and Spearman, Factory Physics,
// chapter 2, the maintenance store's spare parts: p(r), G(r) and B(r).
func TestPoissonStockTable(t *testing.T) {
	d := poisson(14. * 45 / 365)
	for r, want := range [][3]float64{{0.1780, 0.1780, 1.7260}, {0.3072, 0.4852, 0.9040},
		{0.2651, 0.7503, 0.3892},
		{0.1525, 0.9029, 0.1396}, {0.0658, 0.9687, 0.0424}, {0.0227, 0.9914, 0.0111}, {0.0065,
			0.9980, 0.0026}} {
		if math.Abs(d[r]-want[0]) > 6e-5 || math.Abs(d.AtMost(r)-want[1]) > 6e-5 ||
			math.Abs(missing(d, r)-want[2]) > 6e-5 {
			t.Errorf("%d: p %.4f, G %.4f, B %.4f, want %v", r, d[r], d.AtMost(r), missing(d, r),
				want)
		}
	}
}

// Mean 4, a mean tabulated for safety stock in Eilon 1962, p. 84, and after it in Schönsleben;
// figures calculated anew.
func TestPoissonCumulative(t *testing.T) {
	d := poisson(4)
	for k, want := range []float64{.01832, .09158, .23810, .43347, .62884, .78513, .88933, .94887,
		.97864, .99187, .99716, .99908} {
		if got := d.AtMost(k); math.Abs(got-want) > 6e-6 {
			t.Errorf("at most %d: %v, want %v", k, got, want)
		}
	}
	for share, want := range map[float64]int{0.2: 6, 0.1: 7, 0.05: 8, 0.02: 9, 0.01: 9, 0.001: 11} {
		if got := d.Stock(share); got != want {
			t.Errorf("stock for %v: %d, want %d", share, got, want)
		}
	}
	// base stock, mean 10: fill rates P(X <= S-1)
	ten := poisson(10)
	for s, want := range map[int]float64{12: .6968, 13: .7916, 14: .8645, 15: .9165, 16: .9513} {
		if got := ten.AtMost(s - 1); math.Abs(got-want) > 6e-5 {
			t.Errorf("fill rate of %d: %v, want %v", s, got, want)
		}
	}
	if got := poisson(5).Stock(0.1); got != 8 {
		t.Errorf("mean 5, 90 %%: %d", got)
	}
	if got := poisson(1.726).Stock(0.2); got != 3 {
		t.Errorf("mean 1.726, 80 %%: %d", got)
	}
}

// Birth rates, prior Gamma(2, 1). Source: Hoff 2009, A First Course in Bayesian Statistical
// Methods, section 3.2.2: 111 women with 217 children, 44 with 66; predictive probabilities of the
// next one's.
func TestGammaPoissonPublished(t *testing.T) {
	for _, c := range []struct {
		n, sum, shape, days float64
		next                []float64
	}{
		{111, 217, 219, 112, []float64{1.427473e-01, 2.766518e-01, 2.693071e-01, 1.755660e-01,
			8.622930e-02, 3.403387e-02,
			1.124423e-02, 3.198421e-03, 7.996053e-04, 1.784763e-04, 3.601115e-05}},
		{44, 66, 68, 45, []float64{2.243460e-01, 3.316420e-01, 2.487315e-01, 1.261681e-01,
			4.868444e-02, 1.524035e-02,
			4.030961e-03, 9.263700e-04, 1.887982e-04, 3.465861e-05, 5.801551e-06}},
	} {
		r := Rate{2, 1}.Seen(c.sum, c.n)
		if r.Shape != c.shape || r.Days != c.days {
			t.Errorf("belief %+v", r)
		}
		d := r.Over(1)
		for k, want := range c.next {
			if !within(d[k], want, 1e-6) {
				t.Errorf("%v of %v: %d is %e, want %e", c.sum, c.n, k, d[k], want)
			}
		}
		if !within(d.Mean(), c.shape/c.days, 1e-7) {
			t.Errorf("mean %v", d.Mean())
		}
	}
	// P(Y1 > Y2) and P(Y1 = Y2), same place
	a, b := Rate{219, 112}.Over(1), Rate{68, 45}.Over(1)
	more, same := 0.0, 0.0
	for i, p := range a {
		for k, q := range b {
			if i > k {
				more += p * q
			} else if i == k {
				same += p * q
			}
		}
	}
	if math.Abs(more-0.482089) > 1e-6 || math.Abs(same-0.217675) > 1e-6 {
		t.Errorf("more %v, same %v", more, same)
	}
}

func TestDemandProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0, 60).Draw(t, "a")
		b := rapid.Float64Range(0, 60).Draw(t, "b")
		both, sum := poisson(a).And(poisson(b)), poisson(a+b)
		for k := range sum {
			if math.Abs(both.AtMost(k)-sum.AtMost(k)) > 1e-8 {
				t.Fatalf("two Poisson of %v and %v are not one: %d", a, b, k)
			}
		}
		share := rapid.Float64Range(0.001, 0.5).Draw(t, "share")
		s := both.Stock(share)
		if both.Short(s) > share || s > 0 && both.Short(s-1) <= share {
			t.Fatalf("stock %d for %v: %v, one less %v", s, share, both.Short(s), both.Short(s-1))
		}
		if more := poisson(a + b + 1).Stock(share); more < s {
			t.Fatalf("more is wanted and less kept: %d, %d", more, s)
		}
		// not being sure of the rate leaves the mean and widens the rest
		r := Rate{max(a, 0.1), rapid.Float64Range(10, 1000).Draw(t, "days")}
		sure, unsure := poisson(r.Shape/r.Days*30), r.Over(30)
		if math.Abs(sure.Mean()-unsure.Mean()) > 1e-6*(1+sure.Mean()) ||
			spread(unsure) < spread(sure)-1e-6*(1+spread(sure)) {
			t.Fatalf("mean %v of %v, spread %v of %v", unsure.Mean(), sure.Mean(), spread(unsure),
				spread(sure))
		}
		n := rapid.IntRange(1, 5).Draw(t, "n")
		if got := poisson(a).times(n).Mean(); math.Abs(got-float64(n)*poisson(a).Mean()) > 1e-9*(1+got) {
			t.Fatalf("%d times the mean is %v", n, got)
		}
	})
	if d := (Demand{1}); d.Stock(0) != 0 || d.Short(0) != 0 || d.Mean() != 0 ||
		poisson(0).Stock(0.05) != 0 {
		t.Error("nothing wanted is something")
	}
}

// spread is the mean square of a demand.
func spread(d Demand) float64 {
	sum := 0.0
	for k, p := range d {
		sum += float64(k*k) * p
	}
	return sum
}
