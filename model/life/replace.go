package life

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Replacement is what renewing a part by age would bring.
type Replacement struct {
	Age      float64 // the use at which to renew it; infinite: never by age
	Rate     float64 // cost a unit of use when renewed at Age
	RunToEnd float64 // cost a unit of use when every part is used to its end
	Early    float64 // share of the parts that give out before Age, 0 … 1
	Why      string  // in words, a sentence
}

// errCosts is what bad costs give.
var errCosts = errors.New("the costs of a planned and of an unplanned change must be numbers above nothing: give both in the same unit")

// Replace finds the best age at which to renew a part for the costs of a planned and of an
// unplanned change, in any one unit. The cost a unit of use,
//
//	C(T) = (planned·R(T) + unplanned·F(T)) / ∫₀ᵀ R,
//
// is least where h(T)·∫₀ᵀR + R(T) = unplanned/(unplanned − planned), and is there (unplanned −
// planned)·h(T) (Barlow and Proschan 1965, age replacement; Jardine and Tsang, Maintenance,
// Replacement and Reliability). Where the lives do not show wear-out (see WearsOut), or an
// unplanned change costs no more, the age is infinite: never renewed by age. An error only for
// costs that are none.
func (f *Fit) Replace(planned, unplanned float64) (Replacement, error) {
	if !(planned > 0) || !(unplanned > 0) || math.IsInf(planned, 1) || math.IsInf(unplanned, 1) {
		return Replacement{}, errCosts
	}
	never := Replacement{Age: math.Inf(1), Rate: unplanned / f.Mean(),
		RunToEnd: unplanned / f.Mean(), Early: 1}
	switch {
	case unplanned <= planned:
		never.Why = "an unplanned change costs no more than a planned one: use each part to its end"
		return never, nil
	case f.Ends < wearEnds:
		never.Why = f.wear() + ": keep to the rule of thumb"
		return never, nil
	case !f.WearsOut():
		never.Why = f.wear() +
			"; a new part may give out as soon as the old one, so none is renewed by age"
		return never, nil
	}
	age := bestAge(f.Weibull, planned, unplanned, f.Life(0.001)*1e-3, f.Life(0.999))
	if math.IsInf(age, 1) {
		never.Why = "an unplanned change costs so little more that hardly any part would be renewed by age: use each to its end"
		return never, nil
	}
	r := Replacement{Age: age, Rate: costRate(f.Weibull, age, planned, unplanned),
		RunToEnd: never.RunToEnd, Early: 1 - f.Survives(age)}
	r.Why = fmt.Sprintf(
		"renewed at %s, %.0f %% give out before, and it costs %.0f %% of using each to its end",
		number(age), 100*r.Early, 100*r.Rate/r.RunToEnd)
	return r, nil
}

// law is a life as age replacement sees it.
type law interface {
	Survives(t float64) float64
	Hazard(t float64) float64
	MeanBefore(t float64) float64 // ∫₀ᵗ Survives: the mean use of a part renewed at t
}

// MeanBefore is the mean use of a part that is renewed at t >= 0: ∫₀ᵗ exp(−(x/Scale)^Shape) dx,
// with z = (t/Scale)^Shape equal to Scale/Shape · Γ(1/Shape) · P(1/Shape, z), P the regularised
// lower incomplete gamma function.
func (w Weibull) MeanBefore(t float64) float64 {
	if t <= 0 {
		return 0
	}
	return w.Mean() * mathext.GammaIncReg(1/w.Shape, math.Pow(t/w.Scale, w.Shape))
}

// costRate is the cost for each unit of use where a part is renewed at age t or when it fails,
// whichever comes first.
func costRate(l law, age, planned, unplanned float64) float64 {
	r := l.Survives(age)
	return (planned*r + unplanned*(1-r)) / l.MeanBefore(age)
}

// bestAge solves the condition of Replace for a life with a growing hazard, between two ages;
// infinite where the condition is not met before the older one.
func bestAge(l law, planned, unplanned, young, old float64) float64 {
	want := unplanned / (unplanned - planned)
	age := root(func(t float64) float64 {
		return l.Hazard(t)*l.MeanBefore(t) + l.Survives(t) - want
	}, young, old)
	if age >= old {
		return math.Inf(1)
	}
	return age
}
