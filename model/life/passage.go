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
func (p *Pace) passed(left, t float64) float64 {
	switch {
	case left <= 0:
		return 1
	case t <= 0:
		return 0
	}
	v := p.Noise + p.Drift*t // variance over t
	if !(v > 0) {
		if p.Mean*t >= left {
			return 1
		}
		return 0
	}
	return mathext.GammaIncRegComp(p.Mean*p.Mean*t/v, left*p.Mean/v)
}

// quantile is the t at which passed reaches q, to a thousandth of a day or a ten-thousandth of
// itself; more than horizonDays where it lies beyond. In the logarithm of t and the normal score of
// the probability the curve is nearly a line, so the secant finds it in a few steps; where it
// leaves the bracket the middle is taken.
func (p *Pace) quantile(left, q float64) float64 {
	if p.passed(left, horizonDays) < q {
		return 2 * horizonDays
	}
	z := mathext.NormalQuantile(q)
	score := func(u float64) float64 {
		return mathext.NormalQuantile(min(1-surely, max(surely, p.passed(left, math.Exp(u))))) - z
	}
	middle := left / p.Mean
	spread := math.Sqrt((p.Noise*middle + p.Drift*middle*middle) / (left * left))
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
