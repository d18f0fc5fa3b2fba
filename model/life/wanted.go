package life

import (
	"math"
	"time"

	"bench/oilcan/model"
)

// classes are into how many lives, and with which probabilities, a belief is cut for the drawer:
// the tails count there.
var classes = [...]float64{0.04, 0.12, 0.2, 0.28, 0.2, 0.12, 0.04}

// cut gives a life for each class of a belief, shortest medians first. The same class of two
// beliefs that rest on the same lives is the same case: either all blades of a bench last long, or
// none.
func (b *Belief) cut() (out [len(classes)]Weibull) {
	class, room := 0, classes[0]
	var median, shape, weight float64
	close := func() {
		if weight > 0 {
			k := math.Exp(shape / weight)
			out[class] = Weibull{Shape: k, Scale: math.Exp(median/weight - math.Log(ln2)/k)}
		}
		median, shape, weight = 0, 0, 0
	}
	for i := range b.lives { // by median, shortest first, as laid
		w := &b.lives[i]
		left := w.p
		for left > 0 {
			take := min(left, room)
			if class == len(classes)-1 {
				take = left
			}
			median += take * (w.log + math.Log(ln2)/w.Shape)
			shape += take * math.Log(w.Shape)
			weight, left, room = weight+take, left-take, room-take
			if room <= 1e-12 && class < len(classes)-1 {
				close()
				class++
				room = classes[class]
			}
		}
	}
	close()
	return out
}

// reach is the law of what a meter will have used by a day: the probability of so much, on a grid
// of even steps.
type reach struct {
	step  float64
	above []float64
}

// reachSteps is how fine a reach is laid.
const reachSteps = 32

// reachOf lays what a pace uses until a day.
func reachOf(p *Pace, now, until time.Time) reach {
	mean, sd := p.Ahead(until)
	r := reach{step: (mean + 5*sd) / reachSteps, above: make([]float64, reachSteps+1)}
	r.above[0] = 1
	for i := 1; i <= reachSteps && r.step > 0; i++ {
		r.above[i] = p.PassBefore(0, float64(i)*r.step, now, until)
	}
	return r
}

// passes is the probability that so much is used.
func (r *reach) passes(level float64) float64 {
	if level <= 0 {
		return 1
	}
	if !(r.step > 0) {
		return 0
	}
	i := int(level / r.step)
	if i >= reachSteps {
		return 0
	}
	share := level/r.step - float64(i)
	return r.above[i]*(1-share) + r.above[i+1]*share
}

// lifePoints is at how many shares of the parts, evenly apart, a demand is reckoned; each stands for
// a tenth. Five were too coarse for parts of which few end within a delivery.
const lifePoints = 10

// lifeSpread are the points, in standard deviations, and the weights by which the lives after the
// first are spread: those of Gauss and Hermite for three.
var lifeSpread = [...]struct{ at, weight float64 }{{-1.7320508075688772, 1. / 6}, {0, 2. / 3},
	{1.7320508075688772, 1. / 6}}

// renewals is how often a part is renewed until a day, if each lasts as long as a life says: the
// n-th time has come if the meter passes what is left of the one that is in, and n − 1 lives more,
// each of which may be short or long. used is its age at the last reading, sound that to which it
// is taken to have lasted by now: nobody logged its end since.
func (r *reach) renewals(l Weibull, used, sound, extra float64) Demand {
	mean := l.Mean()
	sd := math.Sqrt(math.Max(0, l.Scale*l.Scale*math.Gamma(1+2/l.Shape)-mean*mean))
	aged := math.Pow(max(0, sound)/l.Scale, l.Shape)
	var d Demand
	before := 1.0
	for n := range 200 {
		by := 0.0
		for i := range lifePoints {
			q := (float64(i) + 0.5) / lifePoints
			left := l.Scale*math.Pow(aged-math.Log1p(-q), 1/l.Shape) - max(0, used) - extra
			for _, z := range lifeSpread {
				more := max(0.1*float64(n)*mean, float64(n)*mean+z.at*math.Sqrt(float64(n))*sd)
				by += z.weight * r.passes(left+more) / lifePoints
			}
		}
		by = min(by, before)
		d = append(d, before-by)
		if before = by; by < 1e-7 {
			break
		}
	}
	return d
}

// wantedOf is how many of a part all its uses want within so many days. How long the part lasts on
// this bench is the same unknown for all machines, so it is mixed over what is believed of it last.
func (s *Spares) wantedOf(us []use, days, grain float64) Demand {
	until := s.now.Add(time.Duration(days * 24 * float64(time.Hour)))
	apart := Demand{1}
	var shared [len(classes)]Demand
	for c := range shared {
		shared[c] = Demand{1}
	}
	for i := range us {
		u := &us[i]
		pieces := int(math.Ceil(u.quantity*grain - 1e-9))
		pace := u.f.Pace(&u.g)
		switch {
		case pace == nil:
		case u.lives == nil:
			apart = apart.And(s.times(u, pace, until).times(pieces))
		case days > 0:
			r, extra := reachOf(pace, s.now, until), u.extra(pace, until)
			since, _ := pace.Ahead(s.now)
			for c := range shared {
				d := r.renewals(u.lives[c], u.g.Used, u.g.Used+since, extra)
				shared[c] = shared[c].And(d.times(pieces))
			}
		}
	}
	return apart.And(mixed(shared[:], classes[:]))
}

// mixed is the demand that is each of some with a probability.
func mixed(ds []Demand, ps []float64) Demand {
	var out Demand
	for i, d := range ds {
		for k, p := range d {
			if k == len(out) {
				out = append(out, 0)
			}
			out[k] += ps[i] * p
		}
	}
	return out
}

// times is how often what falls due falls due until a day: when its meter passes what is left of
// the low end, and the whole of it again.
func (s *Spares) times(u *use, pace *Pace, until time.Time) Demand {
	left := u.g.Low - u.g.Used - u.extra(pace, until)
	var d Demand
	before := 1.0
	for n := range 200 {
		by := 0.0
		if until.After(s.now) || left <= 0 {
			by = pace.PassBefore(0, left+float64(n)*u.g.Low, s.now, until)
		}
		by = min(by, before)
		d = append(d, before-by)
		if before = by; by < 1e-9 || !(u.g.Low > 0) {
			break
		}
	}
	return d
}

// extra is by how much the jobs booked on a machine exceed what is expected of it anyway.
func (u *use) extra(pace *Pace, until time.Time) float64 {
	jobs := u.f.m.BookedUse()
	n := jobs[u.g.Meter]
	if u.g.Meter == model.Cuts && n == 0 {
		n = jobs[model.Changes] + jobs[model.Starts]
	}
	if n == 0 {
		return 0
	}
	mean, _ := pace.Ahead(until)
	return max(0, n-mean)
}
