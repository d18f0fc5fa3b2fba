package life

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// bladesOf invents a bench a year old on which blades last by a law, and tells how many it wants in
// so many days after.
func bladesOf(t *testing.T, r *rand.Rand, machines int, truth Weibull) (ms []*model.Machine,
	wanted func(days float64) int) {
	var ends [][]float64
	for range machines {
		ty := newTyped(t, model.Home)
		c := newCounter(regimes[0].use(r)) // steady
		per := 10.0                        // cuts an hour
		at := 0.0                          // cuts at the last swap
		next := truth.Life(r.Float64())
		swapped := []float64{}
		read := 0.0
		for d := 0.0; d < 365; d++ {
			if d-read >= 7 || d == 0 {
				read = d
				ty.read(t, model.Changes, d, per*c.at(d))
			}
			if d == 0 {
				careDone(t, ty, d, "blade")
				swap(t, ty, d, "unknown")
			}
			for per*c.at(d+1) >= at+next {
				day := c.reaches((at + next) / per)
				ty.read(t, model.Changes, day, at+next)
				swap(t, ty, day, "worn")
				careDone(t, ty, day, "blade")
				at, next, read = at+next, truth.Life(r.Float64()), d
			}
		}
		ms = append(ms, ty.machine())
		for day := 0.0; day < 365+90; {
			day = c.reaches((at + next) / per)
			swapped = append(swapped, day-365)
			at, next = at+next, truth.Life(r.Float64())
		}
		ends = append(ends, swapped)
	}
	return ms, func(days float64) (n int) {
		for _, e := range ends {
			for _, day := range e {
				if day <= days {
					n++
				}
			}
		}
		return n
	}
}

// TestDrawerCalibration invents benches a year old, asks how many blades a delivery time wants, and
// counts how often the stock that promises to be empty with 5 % is. A stock is whole, so one of two
// next to each other is drawn, by such a chance that the promise is 5 % on average. A tenth of the
// deliveries comes half as late again.
func TestDrawerCalibration(t *testing.T) {
	benches := 12
	if os.Getenv("OILCAN_LONG") != "" {
		benches = 1500
	}
	out := []string{fmt.Sprintf("%-28s %9s %14s %14s", "the rule's median is", "machines",
		"14 days, %", "30 days, %")}
	total, n := 0.0, 0.0
	for i, off := range []struct {
		name string
		true float64
	}{{"half the truth", 2}, {"the truth", 1}, {"twice the truth", 0.5}} {
		for _, machines := range []int{2, 6, 12} {
			r := rand.New(rand.NewPCG(20261130, uint64(100*i+machines)))
			var empty [2]float64
			for range benches {
				shape := uniform(r, 2, 4)
				truth := Weibull{Shape: shape, Scale: 4000 * off.true / math.Pow(math.Ln2, 1/shape)}
				ms, wanted := bladesOf(t, r, machines, truth)
				s := NewSpares(ms, []*model.Procedure{blade()}, dayAt(365))
				for k, lead := range []float64{14, 30} {
					need := s.until("blade", 0, lead)
					comes := lead
					if r.Float64() < lateShare {
						comes = math.Ceil(lead * (1 + lateBy))
					}
					stock := need.Stock(EmptyShare)
					above, share := 1.0, need.Short(stock)
					if stock > 0 {
						above = need.Short(stock - 1)
					}
					if r.Float64() < (EmptyShare-share)/(above-share) {
						stock--
					}
					if wanted(comes) > stock {
						empty[k] += 100 / float64(benches)
					}
				}
			}
			out = append(out, fmt.Sprintf("%-28s %9d %14.1f %14.1f", off.name, machines, empty[0],
				empty[1]))
			if low, high := min(empty[0], empty[1]), max(empty[0], empty[1]); benches > 100 &&
				(low < 3 || high > 7) { // three standard errors and a half off 5 %
				t.Errorf("%s, %d machines: a promise of 5 %% holds %.1f and %.1f %%", off.name,
					machines, empty[0], empty[1])
			}
			total, n = total+empty[0]+empty[1], n+2
		}
	}
	out = append(out, fmt.Sprintf("all: %.1f %%", total/n))
	t.Logf("\n%s", strings.Join(out, "\n"))
	if all := total / n; benches > 100 && (all < 4 || all > 6) {
		t.Errorf("a promise of 5 %% holds %.1f %%", all)
	}
}
