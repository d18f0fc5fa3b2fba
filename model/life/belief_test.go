package life

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// drawLife draws a life.
func drawLife(r *rand.Rand, w Weibull) float64 { return w.Life(r.Float64()) }

// TestLivesCalibration invents parts whose true median is a share of the rule's and whose shape is
// 1.5 to 5, and looks whether a new life falls within 10 to 90 % of what is believed after so many
// own ends, and how well the chance is told that a sound part of some age ends in the next third of
// the median life (Brier score). With OILCAN_LONG for ten times as many, which gives the table of
// the package comment.
func TestLivesCalibration(t *testing.T) {
	runs := 100
	if os.Getenv("OILCAN_LONG") != "" {
		runs = 1000
	}
	out := []string{fmt.Sprintf("%-24s %6s %10s %8s", "the rule's median is", "ends", "within, %",
		"Brier")}
	for i, off := range []struct {
		name string
		true float64 // median, as a share of the rule's
	}{{"half the truth", 2}, {"the truth", 1}, {"twice the truth", 0.5}} {
		for _, n := range []int{0, 1, 3, 5, 8, 12} {
			r := rand.New(rand.NewPCG(20261129, uint64(100*i+n)))
			in, brier := 0.0, 0.0
			for range runs {
				shape := math.Exp(uniform(r, math.Log(1.5), math.Log(5)))
				median := 4000 * off.true
				truth := Weibull{Shape: shape, Scale: median / math.Pow(math.Ln2, 1/shape)}
				var ls []Observed
				for range n {
					ls = append(ls, Observed{Used: drawLife(r, truth)})
				}
				if n > 0 { // and one that is in now
					full := drawLife(r, truth)
					ls = append(ls, Observed{Used: full * r.Float64(), Censored: true})
				}
				l := NewLifetime(ls, bladeBand)
				next := drawLife(r, truth)
				if next >= l.Life.Life(0.1) && next <= l.Life.Life(0.9) {
					in += 100 / float64(runs)
				}
				age := median * r.Float64()
				sound := truth.Life(1 - truth.Survives(age)*r.Float64())
				ends := 0.0
				if sound <= age+median/3 {
					ends = 1
				}
				p := l.Life.Fails(age, median/3)
				brier += (p - ends) * (p - ends) / float64(runs)
			}
			out = append(out, fmt.Sprintf("%-24s %6d %10.1f %8.3f", off.name, n, in, brier))
			if n > 0 && in < 60 {
				t.Errorf("%s, %d ends: %.1f %% within", off.name, n, in)
			}
		}
	}
	t.Logf("\n%s", strings.Join(out, "\n"))
}

// The same belief by the plain sum over a grid of 240 by 160 lives, six standard deviations to
// either side.
func TestBeliefAgainstFineGrid(t *testing.T) {
	says := rule
	says.median = 4000
	for name, ls := range map[string][]Observed{
		"nothing":               nil,
		"one sound at age 1":    {{1, true}},
		"one end far out":       {{400, false}},
		"three and a sound one": {{1500, false}, {1650, false}, {2100, false}, {900, true}},
		"five within 0.3 %": {{2000, false}, {2001, false}, {2002, false}, {2004, false},
			{2006, false}},
		"sound ones only, so old": {{9000, true}, {8000, true}, {9500, true}},
		"twenty": lives([]float64{3000, 3300, 3500, 3600, 3700, 3800, 3900, 4000, 4100, 4100, 4200,
			4300, 4400, 4500, 4600, 4700, 4800, 5000, 5200, 5500},
			nil),
	} {
		var fine Belief
		top := math.Inf(-1)
		for i := range 240 {
			for j := range 160 {
				x, y := 12*(float64(i)+0.5)/240-6, 12*(float64(j)+0.5)/160-6
				m, k := math.Log(4000)+x*0.6, math.Log(3)+y*0.4
				shape := math.Exp(k)
				scale := m - math.Log(math.Ln2)/shape
				p := -x*x/2 - y*y/2 + likelihood(spans(ls), m, shape)
				fine.lives = append(fine.lives,
					weighed{Weibull{Shape: shape, Scale: math.Exp(scale)}, scale, p})
				top = max(top, p)
			}
		}
		sum := 0.0
		for i := range fine.lives {
			fine.lives[i].p = math.Exp(fine.lives[i].p - top)
			sum += fine.lives[i].p
		}
		for i := range fine.lives {
			fine.lives[i].p /= sum
		}
		b := believe(spans(ls), says)
		for _, at := range []float64{500, 1500, 2500, 4000, 6000, 9000, 14000} {
			if got, want := b.Survives(at), fine.Survives(at); math.Abs(got-want) > 0.006 {
				t.Errorf("%s: %.4f outlast %v, want %.4f", name, got, at, want)
			}
		}
	}
}

// With a rule that says next to nothing the likeliest life is that of the likelihood alone:
// NIST/SEMATECH e-Handbook of Statistical Methods, section 8.4.1.3, gives shape 1.7208 and scale
// 606.5280 for its twenty units.
func TestBeliefWithoutARule(t *testing.T) {
	at := func(scale, shape float64) float64 {
		return likelihood(spans(nist), math.Log(scale)+math.Log(math.Ln2)/shape, shape)
	}
	top := at(606.5280, 1.7208)
	for _, near := range []float64{0.97, 1.03} {
		if at(606.5280*near, 1.7208) >= top || at(606.5280, 1.7208*near) >= top {
			t.Errorf("%v off is likelier", near)
		}
	}
	f, err := FitWeibull(nist)
	if err != nil {
		t.Fatal(err)
	}
	// how much likelier one life is than another, against the fit's own log-likelihood
	if got, want := top-at(500, 1.2), f.LogLikelihood-logDensity(nist, 500, 1.2); math.Abs(
		got-want) > 1e-4 {
		t.Errorf("%v, want %v", got, want)
	}
}

// logDensity is the log-likelihood by its definition.
func logDensity(ls []Observed, scale, shape float64) float64 {
	sum := 0.0
	for _, l := range ls {
		sum -= math.Pow(l.Used/scale, shape)
		if !l.Censored {
			sum += math.Log(shape/scale) + (shape-1)*math.Log(l.Used/scale)
		}
	}
	return sum
}

// One sound part at age 1 tells nothing, and moves nothing; close ends do not make certainty; and
// what is believed does not depend on the unit.
func TestBeliefHolds(t *testing.T) {
	none, young := NewLifetime(nil, bladeBand), NewLifetime([]Observed{{1, true}}, bladeBand)
	if a, b := none.Life.Fails(0, 1500), young.Life.Fails(0, 1500); math.Abs(a-b) > 0.002 ||
		a < 0.03 || a > 0.2 {
		t.Errorf("fails in 1,500: %.4f, with a sound one at age 1 %.4f", a, b)
	}
	close := NewLifetime([]Observed{{2000, false}, {2001, false}, {2002, false}, {2004, false},
		{2006, false}}, bladeBand)
	if lo, hi := close.Life.Life(0.1), close.Life.Life(0.9); lo > 1900 || hi < 2060 {
		t.Errorf("five within 0.3 %%: eight of ten between %.0f and %.0f", lo, hi)
	}
	ls := []Observed{{1500, false}, {900, true}, {2600, false}}
	a := NewLifetime(ls, bladeBand)
	for i := range ls {
		ls[i].Used *= 60
	}
	band := bladeBand
	band.Low, band.High = band.Low*60, band.High*60
	if b := NewLifetime(ls, band); !within(b.Life.Life(0.3), 60*a.Life.Life(0.3), 1e-6) {
		t.Error("another unit, other lives")
	}
	if got := a.Life.Survives(a.Life.Life(0.25)); math.Abs(got-0.75) > 1e-6 {
		t.Errorf("%v outlast what a quarter do not", got)
	}
}

// Two failures among eighteen prototypes at 1,180 and 1,842 h, the rest taken off at 2,000; the
// logarithm of the shape is believed to be normal with mean 0.9064 and spread 0.3325, of the scale
// nothing is believed. A published worked example (the Bayesian-Weibull analysis of ReliaWiki's
// Life Data Analysis Reference, its figures from memory) gives the medians of what is believed
// after them: shape 2.361219, scale 5,321.63. They agree with the integral here to a thousandth.
func TestBayesianWeibull(t *testing.T) {
	ls := []Observed{{1180, false}, {1842, false}}
	for range 16 {
		ls = append(ls, Observed{2000, true})
	}
	prior, seen := normal{0.9064, 0.3325}, spans(ls)
	const n = 1200
	shapes, scales := make([]float64, n), make([]float64, n)
	total := 0.0
	at := func(i int, lo, hi float64) float64 { return lo + (hi-lo)*(float64(i)+0.5)/n }
	for i := range n {
		shape := math.Exp(at(i, prior.mean-6*prior.sd, prior.mean+6*prior.sd))
		for j := range n {
			scale := at(j, math.Log(1200), math.Log(250000))
			p := math.Exp(prior.log(math.Log(shape)) + 20 +
				likelihood(seen, scale+math.Log(math.Ln2)/shape, shape))
			shapes[i], scales[j], total = shapes[i]+p, scales[j]+p, total+p
		}
	}
	median := func(weights []float64, lo, hi float64) float64 {
		sum := 0.0
		for i, p := range weights {
			if sum += p; sum >= total/2 {
				return math.Exp(at(i, lo, hi) + (hi-lo)/n*(0.5-(sum-total/2)/p))
			}
		}
		return math.Inf(1)
	}
	shape := median(shapes, prior.mean-6*prior.sd, prior.mean+6*prior.sd)
	scale := median(scales, math.Log(1200), math.Log(250000))
	if !within(shape, 2.361219, 1e-3) || !within(scale, 5321.631912, 1e-3) {
		t.Errorf("shape %.6f, scale %.4f", shape, scale)
	}
}
