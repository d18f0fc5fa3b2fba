package life

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"

	"bench/oilcan/model"
)

// Observed is how long one part lasted, in the unit of its meter: to its end, or, Censored, to a
// time at which it was still sound.
type Observed struct {
	Used     float64 // > 0
	Censored bool
}

// Weibull is the life of a part: it outlasts t with probability exp(−(t/Scale)^Shape). A shape
// above 1 is wear-out (the older, the likelier to give out), 1 is chance, below 1 teething
// troubles.
type Weibull struct {
	Shape float64 // > 0
	Scale float64 // in the meter's unit, > 0; 63.2 % have ended by then
}

// Interval is a pair of bounds; High is infinite where the data set none.
type Interval struct{ Low, High float64 }

// Fit is a Weibull life fitted to observed ones.
type Fit struct {
	Weibull
	Ends, Censored int
	LogLikelihood  float64  // natural logarithm, of densities of the use itself
	ShapeBounds    Interval // 95 %, by the likelihood ratio, corrected for few ends
	ScaleBounds    Interval // 95 %, alike

	data sample
}

// confidence of the bounds a Fit carries.
const confidence = 0.95

// shapeMost is beyond any shape a part has; where bounds or roots lie beyond it, none are set.
const shapeMost = 1000.0

// The reasons why no life can be fitted.
var (
	errNoEnd = errors.New(
		"no part has come to its end yet, so there is no telling how long one lasts")
	errOneEnd   = errors.New("only one has come to its end, too few to tell more")
	errNoSpread = errors.New(
		"all that ended did so at the same use, so there is no telling the spread")
	errNotFinite = errors.New(
		"a life must be a number above nothing: correct the meter reading behind it")
)

// sample are the logarithms of observed lives divided by their geometric mean, so that powers stay
// in range.
type sample struct {
	log     []float64 // of all
	unit    float64   // the geometric mean
	ends    float64   // how many ended
	logEnds float64   // sum of the logarithms of those that ended
	plain   bool      // bounds as for many ends
}

func newSample(lives []Observed) (sample, error) {
	s := sample{unit: 1}
	sum, longest, same := 0.0, 0.0, true
	for _, l := range lives {
		if !(l.Used > 0) || math.IsInf(l.Used, 1) {
			return sample{}, errNotFinite
		}
		sum += math.Log(l.Used)
		longest = max(longest, l.Used)
		s.log = append(s.log, math.Log(l.Used))
		if !l.Censored {
			s.ends++
		}
	}
	if s.ends == 0 {
		return sample{}, errNoEnd
	}
	mean := sum / float64(len(lives))
	s.unit = math.Exp(mean)
	for i, l := range lives {
		s.log[i] -= mean
		if !l.Censored {
			s.logEnds += s.log[i]
			same = same && l.Used == longest
		}
	}
	switch {
	case same && s.ends == 1:
		return sample{}, errOneEnd
	case same:
		return sample{}, errNoSpread
	}
	return s, nil
}

// sums are the logarithm of Σt^b, and Σt^b·ln t / Σt^b, over all lives.
func (s *sample) sums(b float64) (power, log float64) {
	top := slices.Max(s.log)
	for _, l := range s.log {
		p := math.Exp(b * (l - top))
		power, log = power+p, log+p*l
	}
	return b*top + math.Log(power), log / power
}

// FitWeibull fits a life by maximum likelihood with right censoring: the shape b solves
//
//	Σ t^b ln t / Σ t^b − 1/b − (1/r) Σ_ended ln t = 0,  scale = (Σ t^b / r)^(1/b)
//
// with r ends and sums over all lives where not marked (Lawless 2003, Statistical Models and
// Methods for Lifetime Data; Meeker and Escobar 1998). The left side only grows with b, so the root
// is found by halving. Bounds are those of the likelihood ratio: the values a χ² test of one degree
// of freedom, corrected for few ends, does not reject when the other parameter is fitted anew. The
// order of the lives does not matter.
func FitWeibull(lives []Observed) (Fit, error) {
	s, err := newSample(lives)
	if err != nil {
		return Fit{}, err
	}
	f := fitted(&s)
	if f.Shape >= shapeMost {
		return Fit{}, errNoSpread
	}
	f.ShapeBounds = f.boundShape(confidence)
	f.ScaleBounds = f.BoundLife(1-math.Exp(-1), confidence)
	return f, nil
}

// fitted is the likeliest life, without its bounds.
func fitted(s *sample) Fit {
	score := func(b float64) float64 {
		_, log := s.sums(b)
		return log - 1/b - s.logEnds/s.ends
	}
	shape := rootNear(score, 1, 1e-3, shapeMost)
	f := Fit{Ends: int(s.ends), Censored: len(s.log) - int(s.ends), data: *s}
	f.Shape, f.Scale = shape, s.unit*s.scaleFor(shape)
	f.LogLikelihood = s.profile(shape) - s.ends*math.Log(s.unit)
	return f
}

func (s *sample) scaleFor(b float64) float64 {
	power, _ := s.sums(b)
	return math.Exp((power - math.Log(s.ends)) / b)
}

// profile is the log-likelihood at a shape with the best scale for it, on the divided lives.
func (s *sample) profile(b float64) float64 {
	power, _ := s.sums(b)
	return s.ends*math.Log(b) - s.ends*(power-math.Log(s.ends)) + (b-1)*s.logEnds - s.ends
}

// drop is by how much the log-likelihood may fall within bounds: half a χ² quantile of one degree,
// which is the square of a normal one, and more with few ends: bounds of a plain χ² hold 83 to 93 %
// of the truths with 3 to 12 ends. (A package of distributions would bring matrices along, and the
// first frame pays for every page of the program.)
func (s *sample) drop(confidence float64) float64 {
	z := mathext.NormalQuantile((1 + confidence) / 2)
	if s.plain {
		return z * z / 2
	}
	// the form is Bartlett's (1937), the size by simulation: TestBoundsHold
	return z * z / 2 * (1 + 1.7/s.ends)
}

// dropShape is drop for a shape, below and above its estimate. The estimate from few ends leans
// towards wear-out, so the lower bound lies further off and the upper one nearer: then each side
// leaves out 2.5 % of the truths with 4 to 40 ends, where one drop for both leaves out 5.6 % below
// and hardly any above (sizes by simulation of lives that end by chance: TestBoundsHold).
func (s *sample) dropShape(confidence float64) (below, above float64) {
	z := mathext.NormalQuantile((1 + confidence) / 2)
	if s.plain {
		return z * z / 2, z * z / 2
	}
	few := 1 / math.Sqrt(s.ends)
	return z * z / 2 * (1 + few*(1.25+3.4/s.ends)), z * z / 2 * max(0.4, 1-few)
}

func (f *Fit) boundShape(confidence float64) Interval {
	s := &f.data
	top := s.profile(f.Shape)
	below, above := s.dropShape(confidence)
	within := func(drop float64) Interval {
		return outward(func(b float64) float64 { return s.profile(b) - top + drop }, f.Shape, 1e-6,
			shapeMost)
	}
	return Interval{within(below).Low, within(above).High}
}

// BoundLife are the bounds, by the likelihood ratio, of the use by which a share of the parts has
// ended; the share is between 0 and 1, and 63.2 % gives those of the scale.
func (f *Fit) BoundLife(share, confidence float64) Interval {
	s := &f.data
	c := -math.Log1p(-share)
	at := f.Life(share) / s.unit
	floor := s.fixed(at, c, f.Shape) - s.drop(confidence)
	above := func(use float64) float64 { return s.fixed(use, c, f.Shape) - floor }
	in := outward(above, at, at*1e-6, at*1e6)
	return Interval{in.Low * s.unit, in.High * s.unit}
}

// fixed is the log-likelihood with the life at which a cumulative hazard c is reached held fixed,
// and the best shape for it: with Λ = c (t/use)^b, ℓ = r ln b + r ln c − r b ln use + (b−1) Σ_ended
// ln t − ΣΛ, which is concave in b; near is a shape to begin from.
func (s *sample) fixed(use, c, near float64) float64 {
	logUse := math.Log(use)
	slope := func(b float64) float64 {
		sum := 0.0
		for _, l := range s.log {
			sum += c * math.Exp(b*(l-logUse)) * (l - logUse)
		}
		return sum - s.ends/b + s.ends*logUse - s.logEnds
	}
	b := rootNear(slope, near, 1e-6, shapeMost)
	sum := 0.0
	for _, l := range s.log {
		sum += c * math.Exp(b*(l-logUse))
	}
	return s.ends*(math.Log(b)+math.Log(c)-b*logUse) + (b-1)*s.logEnds - sum
}

// root finds where a growing function passes 0, in the logarithm; an end where it does not between.
// By the chord, the Illinois way (Dowell and Jarratt 1971): an end that stays twice counts half as
// far off; every fourth step halves, so that no shape of function makes it crawl.
func root(f func(float64) float64, lo, hi float64) float64 {
	at, end := f(lo), f(hi)
	if at >= 0 {
		return lo
	}
	if end <= 0 {
		return hi
	}
	a, b, side := math.Log(lo), math.Log(hi), 0
	for i := 1; i < 200 && b-a > 1e-12; i++ {
		x := a + (b-a)*at/(at-end)
		if i%4 == 0 || !(x > a && x < b) {
			x = (a + b) / 2
		}
		y := f(math.Exp(x))
		switch {
		case y == 0 || x == a || x == b:
			return math.Exp(x)
		case y < 0:
			if a, at = x, y; side < 0 {
				end /= 2
			}
			side = -1
		default:
			if b, end = x, y; side > 0 {
				at /= 2
			}
			side = 1
		}
	}
	return math.Exp((a + b) / 2)
}

// rootNear is root for a place known roughly: it looks in ever wider steps from there.
func rootNear(f func(float64) float64, near, least, most float64) float64 {
	if f(near) < 0 {
		return root(f, near, edge(f, near, most))
	}
	down := func(x float64) float64 { return -f(x) }
	return root(f, edge(down, near, least), near)
}

// edge walks from a point at which f is below 0 towards an end, in ever wider steps, until it is
// not.
func edge(f func(float64) float64, from, end float64) float64 {
	for step := 0.2; ; step *= 2 {
		x := from * math.Exp(math.Copysign(step, end-from))
		if end < from && x <= end || end > from && x >= end {
			return end
		}
		if f(x) >= 0 {
			return x
		}
	}
}

// outward finds, from a top at which f is above 0, where it falls to 0 on both sides; 0 and
// infinity where it does not before the ends.
func outward(f func(float64) float64, top, least, most float64) Interval {
	in := Interval{0, math.Inf(1)}
	down := func(x float64) float64 { return -f(x) }
	if lo := edge(down, top, least); f(lo) < 0 {
		in.Low = root(f, lo, top)
	}
	if hi := edge(down, top, most); f(hi) < 0 {
		in.High = root(down, top, hi)
	}
	return in
}

// Survives is the probability that a part outlasts a use t >= 0.
func (w Weibull) Survives(t float64) float64 {
	if t <= 0 {
		return 1
	}
	return math.Exp(-math.Pow(t/w.Scale, w.Shape))
}

// Hazard is the rate at which parts of an age t > 0 end, per unit of use.
func (w Weibull) Hazard(t float64) float64 {
	return w.Shape / w.Scale * math.Pow(t/w.Scale, w.Shape-1)
}

// Life is the B-life: the use by which a share (0 … 1) of the parts has ended; 0.1 gives B10, 0.5
// the median.
func (w Weibull) Life(share float64) float64 {
	return w.Scale * math.Pow(-math.Log1p(-share), 1/w.Shape)
}

// Mean is the mean life, Scale·Γ(1 + 1/Shape).
func (w Weibull) Mean() float64 { return w.Scale * math.Gamma(1+1/w.Shape) }

// wearEnds is how many ends it takes to show wear-out. Of lives that end by chance alone 2.5 in a
// hundred samples are meant to seem to wear out, and do from five ends on (see TestBoundsHold).
const wearEnds = 5

// WearsOut tells whether the lives show wear-out: five ends at least, and the lower bound of the
// shape not below 1.
func (f *Fit) WearsOut() bool { return f.Ends >= wearEnds && f.ShapeBounds.Low >= 1 }

// Words says what the lives show, in a sentence: "9 ends and 3 taken off sound: median life 3 120
// cuts, one in ten less than 1 900; they wear out (shape 2.9, 1.6 to 4.5)".
func (f *Fit) Words(unit string) string {
	s := model.Counted(f.Ends, "end")
	if f.Censored > 0 {
		s += fmt.Sprintf(" and %d taken off sound", f.Censored)
	}
	if f.Ends < 3 {
		return s + ", too few to tell more"
	}
	return fmt.Sprintf("%s: median life %s %s, one in ten less than %s; %s", s, number(f.Life(0.5)),
		unit, number(f.Life(0.1)), f.wear())
}

// wear says whether the lives show wear-out, with the figures.
func (f *Fit) wear() string {
	bounds := fmt.Sprintf("(shape %.1f, %.1f to %s)", f.Shape, f.ShapeBounds.Low,
		bound(f.ShapeBounds.High))
	switch {
	case f.WearsOut():
		return "they wear out " + bounds
	case f.Ends < wearEnds:
		return fmt.Sprintf("wear-out is not shown by fewer than %d ends", wearEnds)
	case f.ShapeBounds.High < 1:
		return "wear-out is not shown: the young ones fail most " + bounds
	}
	return "wear-out is not shown: they may as well fail by chance " + bounds
}

func bound(v float64) string {
	if math.IsInf(v, 1) {
		return "no upper bound"
	}
	return fmt.Sprintf("%.1f", v)
}
