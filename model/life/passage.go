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
	late := 0.0
	for _, w := range waits {
		late += c.back.passed(c.left, t-w*c.wait) / float64(len(waits))
	}
	return (1-c.stand)*f + c.stand*late
}

// standLeast is the probability below which a machine is not reckoned to stand still.
const standLeast = 0.01

// quantile is the t at which passed reaches q, to a thousandth of a day or a ten-thousandth of
// itself; more than horizonDays where it lies beyond. In the logarithm of t and the normal score of
// the probability the curve is nearly a line, so the secant finds it in a few steps; where it
// leaves the bracket the middle is taken.
func (c *course) quantile(q float64) float64 {
	if c.passed(horizonDays) < q {
		return 2 * horizonDays
	}
	z := mathext.NormalQuantile(q)
	score := func(u float64) float64 {
		return mathext.NormalQuantile(min(1-surely, max(surely, c.passed(math.Exp(u))))) - z
	}
	g := c.run
	if c.stand > 0.5 {
		g = c.back
	}
	middle := c.left / g.mean
	spread := math.Sqrt((g.noise*middle + g.drift*middle*middle) / (c.left * c.left))
	if !(spread > 0) {
		return middle
	}
	lo, hi := math.Log(middle)-60, math.Log(horizonDays)
	u := min(hi, max(lo, math.Log(middle)+z*min(spread, 1)))
	f := score(u)
	slope := 1 / spread
	for range 60 {
		if f < 0 {
			lo = u
		} else {
			hi = u
		}
		next := u - f/slope
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		step := next - u
		if math.Abs(step) < 1e-4 || math.Abs(step)*math.Exp(next) < 1e-3 {
			return math.Exp(next)
		}
		g := score(next)
		if s := (g - f) / step; s > 0 {
			slope = s
		}
		u, f = next, g
	}
	return math.Exp(hi)
}
