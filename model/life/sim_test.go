package life

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"bench/oilcan/model"
)

// simStart is a Monday midnight.
var simStart = time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)

const simDays = 1050

// regimes are the ways a bench may be used; each draws the hours of every day. The figures are
// invented; a day has 24 hours in all of them.
var regimes = []struct {
	name string
	use  func(r *rand.Rand) func(day int) float64
}{
	{"steady", func(r *rand.Rand) func(int) float64 {
		mean, cv := usually(r), uniform(r, 0.3, 0.9)
		return func(int) float64 { return gamma(r, mean, cv) }
	}},
	{"weekend-only", func(r *rand.Rand) func(int) float64 {
		mean, cv := usually(r), uniform(r, 0.2, 0.6)
		return func(d int) float64 {
			if d%7 < 5 {
				return 0
			}
			return gamma(r, mean, cv)
		}
	}},
	{"bursts", func(r *rand.Rand) func(int) float64 {
		mean, on, off := 4+usually(r), uniform(r, 3, 8), uniform(r, 3, 12)
		busy, left := false, 0.0
		return func(int) float64 {
			for left <= 0 {
				busy = !busy
				left += r.ExpFloat64() * map[bool]float64{true: on, false: off}[busy]
			}
			left--
			if !busy {
				return 0
			}
			return gamma(r, mean, 0.4)
		}
	}},
	{"holidays", func(r *rand.Rand) func(int) float64 {
		mean, cv, weekend := usually(r), uniform(r, 0.3, 0.9), uniform(r, 0.2, 1)
		closed := map[int]bool{}
		for year := 0; year < simDays; year += 365 {
			for range 3 {
				from := year + r.IntN(350)
				for d := range 10 + r.IntN(12) {
					closed[from+d] = true
				}
			}
		}
		return func(d int) float64 {
			switch {
			case closed[d]:
				return 0
			case d%7 >= 5:
				return gamma(r, mean*weekend, cv)
			}
			return gamma(r, mean, cv)
		}
	}},
	{"ramp-up", func(r *rand.Rand) func(int) float64 { return ramp(r, uniform(r, 2, 4)) }},
	{"ramp-down", func(r *rand.Rand) func(int) float64 { return ramp(r, 1/uniform(r, 2, 4)) }},
	{"idle and back", func(r *rand.Rand) func(int) float64 {
		mean, cv := usually(r), uniform(r, 0.3, 0.9)
		idle, left := false, uniform(r, 30, 150)
		return func(int) float64 {
			if left--; left < 0 {
				idle = !idle
				left = map[bool]float64{true: uniform(r, 30, 120), false: uniform(r, 50, 150)}[idle]
			}
			if idle {
				return 0
			}
			return gamma(r, mean, cv)
		}
	}},
	{"seasonal", func(r *rand.Rand) func(int) float64 {
		mean, cv := usually(r), uniform(r, 0.3, 0.9)
		swing, begin := uniform(r, 0.5, 1.1), uniform(r, 0, 365)
		return func(d int) float64 {
			return gamma(r, mean*math.Exp(swing*math.Sin(2*math.Pi*(float64(d)+begin)/365)), cv)
		}
	}},
	{"a switch of pace", func(r *rand.Rand) func(int) float64 {
		mean, cv := usually(r), uniform(r, 0.3, 0.9)
		left := uniform(r, 30, 240)
		return func(int) float64 {
			if left--; left < 0 {
				left = uniform(r, 60, 240)
				by := uniform(r, 2, 4)
				if mean*by > 18 || mean/by > 0.7 && r.Float64() < 0.5 {
					by = 1 / by
				}
				mean *= by
			}
			return gamma(r, mean, cv)
		}
	}},
}

// ramp is a mean that changes by a factor over some weeks.
func ramp(r *rand.Rand, to float64) func(int) float64 {
	mean, cv := usually(r), uniform(r, 0.3, 0.9)
	from, over := uniform(r, 30, 300), uniform(r, 60, 300)
	return func(d int) float64 {
		return gamma(r, mean*(1+(to-1)*min(1, max(0, (float64(d)-from)/over))), cv)
	}
}

// usually is a mean of hours a day, 2 to 14.
func usually(r *rand.Rand) float64 { return math.Exp(uniform(r, math.Log(2), math.Log(14))) }

func uniform(r *rand.Rand, a, b float64) float64 { return a + (b-a)*r.Float64() }

// gamma draws from a gamma law by mean and coefficient of variation (Marsaglia and Tsang 2000).
func gamma(r *rand.Rand, mean, cv float64) float64 {
	shape, boost := 1/(cv*cv), 1.0
	k := shape
	if k < 1 {
		boost = math.Pow(r.Float64(), 1/k)
		k++
	}
	d := k - 1./3
	for {
		x := r.NormFloat64()
		v := math.Pow(1+x/math.Sqrt(9*d), 3)
		if v > 0 && math.Log(r.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return mean / shape * boost * d * v
		}
	}
}

// counter is a meter's true value at the start of each day.
type counter []float64

func newCounter(use func(int) float64) counter {
	c := make(counter, simDays+1)
	for d := range simDays {
		c[d+1] = c[d] + min(24, use(d))
	}
	return c
}

func (c counter) at(day float64) float64 {
	d := min(len(c)-2, int(day))
	return c[d] + (day-float64(d))*(c[d+1]-c[d])
}

// reaches is the day a value is reached, infinite where it never is.
func (c counter) reaches(v float64) float64 {
	for d := 1; d < len(c); d++ {
		if c[d] >= v {
			return float64(d-1) + (v-c[d-1])/(c[d]-c[d-1])
		}
	}
	return math.Inf(1)
}

// habits are how a person types the counter: each day (or a print job does), on a weekday with
// weeks forgotten and slips of a day, once a month, or whenever it comes to mind.
var habits = []struct {
	name string
	next func(r *rand.Rand, day float64) float64
}{
	{"daily", func(r *rand.Rand, d float64) float64 {
		return math.Floor(d) + 1 + uniform(r, 0.3, 0.8)
	}},
	{"weekly", func(r *rand.Rand, d float64) float64 {
		d = math.Floor(d) + 7 + uniform(r, 0.3, 0.6)
		for r.Float64() < 0.2 {
			d += 7
		}
		if r.Float64() < 0.2 {
			d++
		}
		return d
	}},
	{"monthly", func(r *rand.Rand, d float64) float64 {
		return math.Floor(d) + uniform(r, 27, 35)
	}},
	{"irregular", func(r *rand.Rand, d float64) float64 { return d + 1 + r.ExpFloat64()*6 }},
}

func dayAt(day float64) time.Time {
	return simStart.Add(time.Duration(day * 24 * float64(time.Hour)))
}

// typed folds readings of whole units into a machine, as a journal would.
type typed struct {
	bench *model.Bench
	n     uint64
}

func newTyped(tb testing.TB, duty model.Duty) *typed {
	ty := &typed{bench: model.NewBench()}
	ty.fold(tb, model.Entry{At: simStart.Add(-time.Hour), Fact: model.Fact{Kind: model.KindMachine,
		Machine: &model.MachineFact{ID: "m", Name: "Anvil", Duty: duty}}})
	return ty
}

func (ty *typed) fold(tb testing.TB, e model.Entry) {
	tb.Helper()
	ty.n++
	e.V, e.Seq, e.Machine = 1, ty.n, "m"
	if err := ty.bench.Apply(e); err != nil {
		tb.Fatal(err)
	}
}

func (ty *typed) read(tb testing.TB, m model.Meter, day, value float64) {
	tb.Helper()
	ty.fold(tb, model.Entry{At: dayAt(day), Fact: model.Fact{Kind: model.KindReading,
		Reading: &model.Reading{Meter: m, Value: math.Floor(value), How: "typed"}}})
}

func (ty *typed) machine() *model.Machine { return ty.bench.Machines["m"] }

// history is a steady machine read each day: hours a day, for so many days.
func history(tb testing.TB, perDay float64, days int) *typed {
	ty := newTyped(tb, model.Home)
	for d := range days + 1 {
		ty.read(tb, model.Hours, float64(d), perDay*float64(d))
	}
	return ty
}
