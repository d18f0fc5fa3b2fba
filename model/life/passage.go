package life

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// passed is the probability that more than left is used within t days of the week's rhythm: a gamma
// process only grows, so it has passed a level by t exactly if it stands above it at t, and
//
//	P(T <= t) = P(X(t) >= left) = Q(shape, left·rate)
//
// with the regularised upper incomplete gamma function Q (van Noortwijk 2009), shape = mean² t² /
// variance and rate = mean·t / variance. It never falls with t: shape and scale both grow.
func (g growth) passed(left, t float64) float64 {
	switch {
	case left <= 0:
		return 1
	case t <= 0:
		return 0
	}
	v := g.noise + g.drift*t // variance over t
	if !(v > 0) {
		if g.mean*t >= left {
			return 1
		}
		return 0
	}
	return mathext.GammaIncRegComp(g.mean*g.mean*t/v, left*g.mean/v)
}

// passed is the probability that what is left is used within t days.
func (c *course) passed(t float64) float64 {
	f := c.run.passed(c.left, t)
	if c.stand < standLeast {
		return f
	}
	return (1-c.stand)*f + c.stand*c.late(t)
}

// late is passed for a machine that stands still: it runs again after a wait without memory, whose
// mean over the waits shorter than t is taken in the wait's own probability (Gauss and Legendre,
// three points). Fixed waits would make a stair of it, and a date on a step leaps by months for an
// hour of use. It never falls with t: what is left of t after each of the waits only grows.
func (c *course) late(t float64) float64 {
	if t <= 0 {
		return 0
	}
	began, sum := -math.Expm1(-t/c.wait), 0.0
	for _, n := range gauss {
		sum += n.weight * c.back.passed(c.left, t+c.wait*math.Log1p(-began*n.at))
	}
	return began * sum
}

// gauss are the three points and weights of Gauss and Legendre between 0 and 1 (Abramowitz and
// Stegun 1964, table 25.4).
var gauss = [...]struct{ at, weight float64 }{{0.1127016653792583, 5. / 18}, {0.5, 8. / 18},
	{0.8872983346207417, 5. / 18}}

// standLeast is the probability below which a machine is not reckoned to stand still.
const standLeast = 0.01

// quantile is the t at which passed reaches q, to a ten-thousandth of a day or of itself, and never
// short of it; more than horizonDays where it lies beyond. In the logarithm of t and the normal
// score of the probability the curve is nearly a line, so the secant finds it in a few steps. Where
// the machine may stand still it has flat stretches and steep ones, and a short step of the secant
// says nothing of how near the root is: only the bracket does, so the secant aims a little past the
// root to close it, and every fourth step halves it.
func (c *course) quantile(q float64) float64 {
	if c.passed(horizonDays) < q {
		return 2 * horizonDays
	}
	u, slope := c.guess(q)
	if !(slope < math.Inf(1)) {
		return math.Exp(u)
	}
	z := mathext.NormalQuantile(q)
	score := func(u float64) float64 {
		return mathext.NormalQuantile(min(1-surely, max(surely, c.passed(math.Exp(u))))) - z
	}
	lo, hi := math.Log(quantileNear)-1, math.Log(horizonDays)
	u = min(hi, max(lo, u))
	f := score(u)
	for i := 1; i < 200; i++ {
		if f < 0 {
			lo = u
		} else {
			hi = u
		}
		if hi-lo < 1e-4 || math.Exp(hi)-math.Exp(lo) < quantileNear {
			break
		}
		next := u - f/slope
		next += math.Copysign(min(0.4e-4+0.4*quantileNear/math.Exp(next), 0.4), -f)
		if i%4 == 0 || !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		g := score(next)
		if s := (g - f) / (next - u); s > 0 {
			slope = s
		}
		u, f = next, g
	}
	return math.Exp(hi)
}

// quantileNear is how near a quantile is found, days.
const quantileNear = 1e-4

// guess is about where the logarithm of a quantile lies, and how steeply the normal score grows
// there; infinitely where the course has no spread.
func (c *course) guess(q float64) (u, slope float64) {
	g := c.run
	if c.stand > 0.5 {
		g = c.back
	}
	middle := c.left / g.mean
	spread := math.Sqrt((g.noise*middle + g.drift*middle*middle) / (c.left * c.left))
	return math.Log(middle) + mathext.NormalQuantile(q)*min(spread, 1), 1 / spread
}
