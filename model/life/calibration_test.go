package life

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/mathext"

	"bench/oilcan/model"
)

// farthest is how many days ahead a date is scored; what lies beyond counts as that.
const farthest = 365

// tally sums up how well dates held, all in days.
type tally struct {
	name                     string
	n, before, within, after int
	crps, err                float64 // of the forecast
	mean, month              float64 // error of the plain mean pace and of that of the last 30 days
}

// scored is one date forecast and what came.
type scored struct {
	early, mid, late, truth, crps float64
	// dates by the plain mean pace and by that of the last 30 days
	mean, month float64
}

func (t *tally) add(s scored) {
	t.n++
	switch {
	case s.truth < s.early-1e-6:
		t.before++
	case s.truth > s.late+1e-6:
		t.after++
	default:
		t.within++
	}
	t.crps += s.crps
	t.err += math.Abs(s.mid - s.truth)
	t.mean += math.Abs(s.mean - s.truth)
	t.month += math.Abs(s.month - s.truth)
}

func (t *tally) share(n int) float64 { return 100 * float64(n) / float64(max(1, t.n)) }

func (t *tally) row() string {
	per := func(sum float64) float64 { return sum / float64(max(1, t.n)) }
	return fmt.Sprintf("%-36s %6d %8.1f %8.1f %7.1f %7.2f %7.1f %7.1f %7.1f", t.name, t.n,
		t.share(t.within),
		t.share(t.before), t.share(t.after), per(t.crps), per(t.err), per(t.mean), per(t.month))
}

// TestCalibration forecasts invented benches and looks when the level was truly reached. With
// OILCAN_LONG it does so for seven times as many, which gives the table of the package comment.
func TestCalibration(t *testing.T) {
	benches := 20
	if os.Getenv("OILCAN_LONG") != "" {
		benches = 150
	}
	pooled := &tally{name: "all pooled"}
	var rows, parts []*tally
	part := func(name string) *tally {
		for _, p := range parts {
			if p.name == name {
				return p
			}
		}
		parts = append(parts, &tally{name: name})
		return parts[len(parts)-1]
	}
	for i, regime := range regimes {
		own := &tally{name: regime.name}
		r := rand.New(rand.NewPCG(20261125, uint64(i)))
		for range benches {
			habit := habits[r.IntN(len(habits))]
			forecastBench(t, r, newCounter(regime.use(r)), habit.next,
				func(day, ahead float64, s scored) {
					size, far := "less than 90 days of readings", "levels less than 20 days ahead"
					if day >= 90 {
						size = "90 days of readings or more"
					}
					if ahead >= 20 {
						far = "levels 20 to 120 days ahead"
					}
					for _, to := range []*tally{own, pooled, part("read " + habit.name), part(size),
						part(far)} {
						to.add(s)
					}
				})
		}
		rows = append(rows, own)
	}
	slices.SortFunc(parts, func(a, b *tally) int { return cmp.Compare(a.name, b.name) })
	out := []string{fmt.Sprintf("%-36s %6s %8s %8s %7s %7s %7s %7s %7s", "bench", "dates", "within",
		"before", "after", "crps", "error", "mean", "30 days")}
	for _, row := range append(append(rows, pooled), parts...) {
		out = append(out, row.row())
	}
	t.Logf("\n%s", strings.Join(out, "\n"))
	for _, row := range rows {
		if in := row.share(row.within); in < 60 {
			t.Errorf("%s: the 80 %% interval holds %.1f %%", row.name, in)
		}
	}
	if in := pooled.share(pooled.within); in < 77 || in > 83 {
		t.Errorf("the 80 %% interval holds %.1f %% of %d dates", in, pooled.n)
	}
	if pooled.err > 0.9*min(pooled.mean, pooled.month) {
		t.Error("the middle date gains less than a tenth against a mean pace")
	}
}

// forecastBench reads one bench as a habit has it and asks, every two to four months, when a level
// some days ahead by the pace of late will be reached.
func forecastBench(t *testing.T, r *rand.Rand, c counter, next func(*rand.Rand, float64) float64,
	book func(day, ahead float64, s scored)) {
	ty := newTyped(t, []model.Duty{model.Home, model.Production}[r.IntN(2)])
	ask := uniform(r, 15, 60)
	for day := uniform(r, 0, 3); day < simDays-farthest-5; day = next(r, day) {
		ty.read(t, model.Hours, day, c.at(day))
		if day < ask {
			continue
		}
		ask = day + uniform(r, 60, 120)
		now := day + uniform(r, 0, 2)
		ahead := math.Exp(uniform(r, math.Log(7), math.Log(150)))
		late90 := max(0.3, (c.at(day)-c.at(max(0, day-90)))/min(day, 90))
		book(day, ahead, scoreOf(ty.machine(), c, day, now, late90*ahead))
	}
}

// scoreOf asks at a time when so much more will be used than at the reading of a day; all in days
// from now.
func scoreOf(m *model.Machine, c counter, day, now, more float64) scored {
	readings := m.Readings[model.Hours]
	p := Estimate(readings, nil, m.Duty, model.Hours, dayAt(now))
	early, mid, late, _ := p.Reach(0, more, dayAt(now))
	left := func(at time.Time) float64 {
		if at.IsZero() {
			return farthest
		}
		return min(farthest, at.Sub(dayAt(now)).Hours()/24)
	}
	plain := func(over float64) float64 {
		from := max(0, day-over)
		if len(readings.Days) > 0 {
			from = max(from, readings.First.At.Sub(simStart).Hours()/24)
		}
		v, _ := readings.At(dayAt(from))
		pace := (readings.Last.Value - v) / max(1, day-from)
		return min(farthest, max(0, day-now+more/max(1e-9, pace)))
	}
	s := scored{early: left(early), mid: left(mid), late: left(late), mean: plain(400),
		month: plain(30)}
	s.truth = min(farthest, max(0, c.reaches(math.Floor(c.at(day))+more)-now))
	s.crps = crps(func(d float64) float64 {
		return p.PassBefore(0, more, dayAt(now), dayAt(now+d))
	}, s.truth, farthest, 365)
	return s
}

// crps is the continuous ranked probability score of a law of what is not below nothing: ∫ (F(x) −
// [x >= y])² dx to an end (Gneiting and Raftery 2007, Strictly Proper Scoring Rules, Prediction,
// and Estimation), by the midpoints of steps.
func crps(law func(float64) float64, y, end float64, steps int) float64 {
	sum, step := 0.0, end/float64(steps)
	for i := range steps {
		a := float64(i) * step
		f := law(a + step/2)
		past := min(1, max(0, (a+step-y)/step)) // share of the step beyond y
		sum += step * (past*(1-f)*(1-f) + (1-past)*f*f)
	}
	return sum
}

// The score of a gamma law of shape 1.1 and scale 1 at 0.2 is 0.399009355, as a test of a published
// package for R prints, and its closed form y(2P(k,y) − 1) − (k(2P(k+1,y) − 1) + 1/B(1/2,k))
// agrees; that of a law of one point is its error.
func TestScore(t *testing.T) {
	const k, y = 1.1, 0.2
	got := crps(func(x float64) float64 { return mathext.GammaIncReg(k, x) }, y, 40, 400000)
	closed := y*(2*mathext.GammaIncReg(k, y)-1) - (k*(2*mathext.GammaIncReg(k+1, y)-1) +
		1/mathext.Beta(0.5, k))
	if math.Abs(got-0.399009355) > 1e-7 || math.Abs(closed-0.399009355) > 1e-9 {
		t.Errorf("%.9f, closed form %.9f", got, closed)
	}
	point := crps(func(x float64) float64 {
		if x >= 30 {
			return 1
		}
		return 0
	}, 12, 100, 1000)
	if math.Abs(point-18) > 1e-9 {
		t.Errorf("a point 18 off scores %v", point)
	}
}
