package life

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// tally counts where the true date fell.
type tally struct {
	name                          string
	n, before, within, after, mid int
	width                         []float64
}

// add books one forecast; all as days, those of the forecast not before now.
func (t *tally) add(now, early, mid, late, truth, ahead float64) {
	t.n++
	truth = max(truth, now) // reached and not read yet: what can be said is "now"
	switch {
	case truth < early-1e-6:
		t.before++
	case truth > late+1e-6:
		t.after++
	default:
		t.within++
	}
	if truth <= mid {
		t.mid++
	}
	t.width = append(t.width, (late-early)/ahead)
}

func (t *tally) share(n int) float64 { return 100 * float64(n) / float64(max(1, t.n)) }

func (t *tally) row() string {
	slices.Sort(t.width)
	return fmt.Sprintf("| %s | %d | %.1f | %.1f | %.1f | %.1f | %.2f |", t.name, t.n, t.share(t.within),
		t.share(t.before), t.share(t.after), t.share(t.mid), t.width[len(t.width)/2])
}

// TestCalibration forecasts invented benches and looks when the level was truly reached. The 80 %
// interval has to hold 75 to 85 % of all dates pooled; what each regime gets is printed, good or bad.
func TestCalibration(t *testing.T) {
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
		for range 150 {
			habit := habits[r.IntN(len(habits))]
			forecastBench(t, r, newCounter(regime.use(r)), habit.next, func(day, now, early, mid, late, truth, ahead float64) {
				size, far := "with less than 90 days of readings", "levels less than 20 days ahead"
				if day >= 90 {
					size = "with 90 days of readings or more"
				}
				if ahead >= 20 {
					far = "levels 20 to 120 days ahead"
				}
				for _, to := range []*tally{own, pooled, part("read " + habit.name), part(size), part(far)} {
					to.add(now, early, mid, late, truth, ahead)
				}
			})
		}
		rows = append(rows, own)
		if in := own.share(own.within); in < 70 || in > 90 {
			t.Errorf("%s: the 80 %% interval holds %.1f %%", own.name, in)
		}
	}
	slices.SortFunc(parts, func(a, b *tally) int { return cmp.Compare(a.name, b.name) })
	out := []string{"| bench | dates | within 10–90 % | before | after | before the middle | width / time ahead |", "|---|---|---|---|---|---|---|"}
	for _, row := range append(append(rows, pooled), parts...) {
		out = append(out, row.row())
	}
	t.Logf("\n%s", strings.Join(out, "\n"))
	if in := pooled.share(pooled.within); pooled.n < 2000 || in < 75 || in > 85 {
		t.Errorf("the 80 %% interval holds %.1f %% of %d dates", in, pooled.n)
	}
}

// forecastBench reads one bench as a habit has it and asks, every two to four months, when a level some
// days ahead by the pace of late will be reached.
func forecastBench(t *testing.T, r *rand.Rand, c counter, next func(*rand.Rand, float64) float64,
	book func(day, now, early, mid, late, truth, ahead float64)) {
	ty := newTyped(t, []model.Duty{model.Home, model.Production}[r.IntN(2)])
	ask := uniform(r, 15, 60)
	for day := uniform(r, 0, 3); day < 650; day = next(r, day) {
		ty.read(t, model.Hours, day, c.at(day))
		if day < ask {
			continue
		}
		ask = day + uniform(r, 60, 120)
		now := day + uniform(r, 0, 2)
		ahead := math.Exp(uniform(r, math.Log(4), math.Log(120)))
		late90 := max(0.3, (c.at(day)-c.at(max(0, day-90)))/min(day, 90))
		used, level := 0.0, late90*ahead
		truth := c.reaches(math.Floor(c.at(day)) + level)
		m := ty.machine()
		p := Estimate(m.Readings[model.Hours], m.Duty, model.Hours, dayAt(now))
		e, mid, l, ok := p.Reach(used, level, dayAt(now))
		if !ok || math.IsInf(truth, 1) {
			t.Fatalf("no date for a level %.0f days ahead", ahead)
		}
		days := func(at time.Time) float64 {
			if at.IsZero() {
				return now + horizonDays
			}
			return at.Sub(simStart).Hours() / 24
		}
		book(day, now, days(e), days(mid), days(l), truth, ahead)
	}
}
