package life

import "math"

// What the rule of thumb is taken to say (from memory): half of the parts last to the middle of its
// band, give or take a factor, and they wear.
var rule = ruleSays{medianSpread: 0.6, shape: 3, shapeSpread: 0.4}

// ruleSays is a prior of a part's life: the logarithm of its median life is normal about that of a
// band's middle, and the logarithm of its shape about that of a shape. Blades, pads and bores wear:
// most shapes seen lie between 2 and 4.
type ruleSays struct {
	median, medianSpread float64
	shape, shapeSpread   float64
}

// Belief is what is believed of how long a part lasts: lives weighed by how likely each is, after
// the rule of thumb and the own lives. What it says of a part is predictive: over all of them, so
// that a life only a few ends speak for is spread wider than any single one.
type Belief struct{ lives []weighed }

// weighed is a life, and the probability that it is the true one.
type weighed struct {
	Weibull
	log float64 // of Scale
	p   float64
}

// survives is Survives at the logarithm of a use.
func (w *weighed) survives(log float64) float64 {
	return math.Exp(-math.Exp(w.Shape * (log - w.log)))
}

// The grid on which a belief is reckoned.
const (
	beliefMedians = 13  // medians
	beliefShapes  = 9   // shapes
	beliefWide    = 3.2 // standard deviations to either side
	beliefRounds  = 6   // of finding where it lies
)

// ln2 is the cumulative hazard at the median.
const ln2 = math.Ln2

// span is what is known of a life: that it lies after one use and not after another, by their
// logarithms. Where both are the same it is that; no end (+Inf) is a life that goes on, no
// beginning (-Inf) one that was over when first looked at.
type span struct{ after, by float64 }

// spans are observed lives. Those that are none (not above nothing, not finite) say nothing.
func spans(lives []Observed) []span {
	out := make([]span, 0, len(lives))
	for _, l := range lives {
		if !(l.Used > 0) || math.IsInf(l.Used, 1) {
			continue
		}
		s := span{math.Log(l.Used), math.Log(l.Used)}
		if l.Censored {
			s.by = math.Inf(1)
		}
		out = append(out, s)
	}
	return out
}

// believe weighs a rule by lives, on a grid of the logarithms of median and shape that is laid
// about where the weight was found to lie: first about the rule, then each time about the mean and
// spread of the round before.
func believe(lives []span, r ruleSays) Belief {
	priorM := normal{math.Log(r.median), r.medianSpread}
	priorK := normal{math.Log(r.shape), r.shapeSpread}
	atM, atK := priorM, priorK
	var out []weighed
	for range beliefRounds {
		out = lay(atM, atK, func(m, k float64) float64 {
			return priorM.log(m) + priorK.log(k) + likelihood(lives, m, math.Exp(k))
		})
		if len(lives) == 0 {
			break
		}
		m, k := spreads(out)
		atM, atK = m.atLeast(atM.sd/4), k.atLeast(atK.sd/4)
	}
	return Belief{out}
}

// normal is a normal law.
type normal struct{ mean, sd float64 }

func (n normal) log(x float64) float64 { return -(x - n.mean) * (x - n.mean) / (2 * n.sd * n.sd) }

func (n normal) atLeast(sd float64) normal { return normal{n.mean, max(n.sd, sd)} }

// lay weighs a grid of lives about two normal laws.
func lay(atM, atK normal, log func(m, k float64) float64) []weighed {
	out := make([]weighed, 0, beliefMedians*beliefShapes)
	top := math.Inf(-1)
	for i := range beliefMedians {
		m := atM.mean + atM.sd*beliefWide*(2*float64(i)/(beliefMedians-1)-1)
		for j := range beliefShapes {
			k := atK.mean + atK.sd*beliefWide*(2*float64(j)/(beliefShapes-1)-1)
			shape := math.Exp(k)
			scale := m - math.Log(ln2)/shape
			w := weighed{Weibull{Shape: shape, Scale: math.Exp(scale)}, scale, log(m, k)}
			top = max(top, w.p)
			out = append(out, w)
		}
	}
	sum := 0.0
	for i := range out {
		out[i].p = math.Exp(out[i].p - top)
		sum += out[i].p
	}
	for i := range out {
		out[i].p /= sum
	}
	return out
}

// likelihood is the logarithm of how likely lives are at a logarithm of the median and a shape, up
// to what does not depend on them: the density where a life is known, else the probability of where
// it lies.
func likelihood(lives []span, m, shape float64) float64 {
	sum, log := 0.0, math.Log(shape)
	for _, l := range lives {
		a := shape * (l.after - m)
		gone := ln2 * math.Exp(a)
		sum -= gone
		switch {
		case l.by == l.after:
			sum += log + a
		case !math.IsInf(l.by, 1):
			sum += math.Log(-math.Expm1(gone - ln2*math.Exp(shape*(l.by-m))))
		}
	}
	return sum
}

// spreads are the mean and spread of the logarithms of median and shape.
func spreads(ws []weighed) (m, k normal) {
	logs := func(w *weighed) (m, k float64) {
		return w.log + math.Log(ln2)/w.Shape, math.Log(w.Shape)
	}
	for i := range ws {
		a, b := logs(&ws[i])
		m.mean, k.mean = m.mean+ws[i].p*a, k.mean+ws[i].p*b
	}
	for i, w := range ws {
		a, b := logs(&ws[i])
		a, b = a-m.mean, b-k.mean
		m.sd, k.sd = m.sd+w.p*a*a, k.sd+w.p*b*b
	}
	m.sd, k.sd = math.Sqrt(m.sd), math.Sqrt(k.sd)
	return m, k
}

// Survives is the probability that a part outlasts a use t >= 0.
func (b *Belief) Survives(t float64) float64 {
	if t <= 0 {
		return 1
	}
	sum, log := 0.0, math.Log(t)
	for i := range b.lives {
		sum += b.lives[i].p * b.lives[i].survives(log)
	}
	return min(1, sum)
}

// Fails is the probability that a part of an age used >= 0, and sound, ends within so much more
// use.
func (b *Belief) Fails(used, more float64) float64 {
	if more <= 0 {
		return 0
	}
	alive, after := b.Survives(used), b.Survives(max(0, used)+more)
	if !(alive > 0) {
		return 1 // older than any life believed in
	}
	return max(0, 1-after/alive)
}

// Life is the use by which a share (0 … 1, both excluded) of the parts has ended: 0.5 gives the
// median.
func (b *Belief) Life(share float64) float64 {
	lo, hi := math.Inf(1), 0.0
	for _, w := range b.lives {
		at := w.Life(share)
		lo, hi = min(lo, at), max(hi, at)
	}
	return root(func(t float64) float64 { return 1 - b.Survives(t) - share }, lo*(1-1e-9),
		hi*(1+1e-9))
}
