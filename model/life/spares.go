package life

import (
	"math"
)

// Demand is how many of a part may be wanted over a time: the probability of each number from 0.
// What lies beyond its end is left out and less than tailLeft in all.
type Demand []float64

// tailLeft is the probability beyond the end of a Demand, and demandMost its length at most.
const (
	tailLeft   = 1e-10
	demandMost = 20000
)

// counts makes a demand from the logarithms of its probabilities, up to the tail.
func counts(mean float64, log func(k float64) float64) Demand {
	var d Demand
	sum := 0.0
	for k := range demandMost {
		p := math.Exp(log(float64(k)))
		d, sum = append(d, p), sum+p
		if float64(k) > mean && 1-sum < tailLeft || float64(k) > mean && p < 1e-17 {
			break
		}
	}
	return d
}

// Rate is what is believed of how often a part is wanted: a gamma law with a shape and a rate,
// worth Shape events seen in Days days.
type Rate struct{ Shape, Days float64 }

// Seen is the belief after so many more events in so many more days: the gamma law is conjugate to
// the Poisson (Hoff 2009, A First Course in Bayesian Statistical Methods, section 3.2).
func (r Rate) Seen(events, days float64) Rate { return Rate{r.Shape + events, r.Days + days} }

// Over is the demand over the days ahead: the Poisson mixed over the belief, a negative binomial
// with size Shape and probability Days/(Days + ahead), wider than a Poisson by what the rate may be
// off.
func (r Rate) Over(ahead float64) Demand {
	if !(ahead > 0) || !(r.Shape > 0) {
		return Demand{1}
	}
	p := r.Days / (r.Days + ahead)
	own, _ := math.Lgamma(r.Shape)
	return counts(r.Shape*ahead/r.Days, func(k float64) float64 {
		a, _ := math.Lgamma(r.Shape + k)
		f, _ := math.Lgamma(k + 1)
		return a - own - f + r.Shape*math.Log(p) + k*math.Log1p(-p)
	})
}

// And is the demand of two that do not depend on each other, together.
func (d Demand) And(e Demand) Demand {
	out := make(Demand, min(demandMost, len(d)+len(e)-1))
	for i, p := range d {
		if p < 1e-17 {
			continue
		}
		for k, q := range e {
			if i+k < len(out) {
				out[i+k] += p * q
			}
		}
	}
	for n := len(out); n > 1 && out[n-1] < 1e-15; n-- {
		out = out[:n-1]
	}
	return out
}

// times is the demand where each event wants n pieces.
func (d Demand) times(n int) Demand {
	if n <= 1 {
		return d
	}
	out := make(Demand, min(demandMost, (len(d)-1)*n+1))
	for k, p := range d {
		if k*n < len(out) {
			out[k*n] = p
		}
	}
	return out
}

// every is the demand counted in bundles of n, the last one begun.
func (d Demand) every(n int) Demand {
	if n <= 1 {
		return d
	}
	out := make(Demand, (len(d)-1+n-1)/n+1)
	for k, p := range d {
		out[(k+n-1)/n] += p
	}
	return out
}

// AtMost is the probability that no more than k are wanted.
func (d Demand) AtMost(k int) float64 {
	sum := 0.0
	for _, p := range d[:max(0, min(len(d), k+1))] {
		sum += p
	}
	return min(1, sum)
}

// Mean is how many are wanted on average.
func (d Demand) Mean() float64 {
	sum := 0.0
	for k, p := range d {
		sum += float64(k) * p
	}
	return sum
}

// Short is the probability that a stock does not last: that one is wanted and the drawer is found
// empty. (This is one less the ready rate P(X <= stock), not the fill rate P(X <= stock − 1):
// Feeney and Sherbrooke 1966.)
func (d Demand) Short(stock int) float64 { return max(0, 1-d.AtMost(stock)-tailLeft) }

// Stock is the smallest stock for which the probability of finding the drawer empty is at most a
// share, between 0 and 1.
func (d Demand) Stock(share float64) int {
	sum := 0.0
	for k, p := range d {
		sum += p
		if 1-sum-tailLeft <= share {
			return k
		}
	}
	return len(d) - 1
}
