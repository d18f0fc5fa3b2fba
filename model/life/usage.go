package life

import "math"

// usage is how a meter is used, as its readings tell: how fast while the machine runs, how that
// drifts, and how often it stands still for a while and for how long.
type usage struct {
	// the usual pace while it runs, units a day; what follows is in shares of it
	unit  float64
	noise float64 // squared coefficient of variation of a day's growth, in days
	// how often a running machine comes to stand, and a standing one runs again, a day
	leave, back float64

	stand          float64 // probability that it stands still at the last reading
	mean, variance float64 // of the pace then, if it runs
	walk           float64 // variance of the logarithm of the pace, a day
}

// What is taken for granted of spells without use (chosen on the calibration benches).
const (
	idleBelow  = 0.1 // share of the mean pace below which a stretch counts as standing still
	stopsSeen  = 0.3 // spells begun …
	runDays    = 100 // … in so many days of running
	startsSeen = 2   // spells ended …
	idleDays   = 10  // … in so many days of standing still
	backSpread = 0.2 // of the logarithm, of the pace when it runs again
	// the horizon for which a pace's changes are reckoned, in times what is left by the pace now
	beyond     = 1.3
	beyondMost = 200.   // days of it at most
	slowest    = 1. / 5 // share of the usual pace, for that horizon
	// share of the mean pace below which two stretches say nothing of the noise
	apart      = 0.15
	noisePrior = 0.5      // pairs of stretches the duty's noise is worth
	noiseLeast = 0.1 * .1 // squared coefficient of variation no meter is below
)

// usageOf learns the use of a meter from its stretches, newest first; there is one at least.
func usageOf(bs []block, pr prior) *usage {
	u := &usage{noise: noiseOf(bs, pr)}
	pace := paceOf(bs)
	begun, ended, run, rest, used := 0., 0., 0., 0., 0.
	stood := false
	for i := len(bs) - 1; i >= 0; i-- {
		b := bs[i]
		stands := b.used <= idleBelow*pace*b.days
		switch {
		case stands:
			rest += b.days
			if !stood {
				begun++
			}
		default:
			run, used = run+b.days, used+b.used
			if stood {
				ended++
			}
		}
		stood = stands
	}
	u.leave, u.back = (stopsSeen+begun)/(runDays+run), (startsSeen+ended)/(idleDays+rest)
	switch {
	case used > 0:
		u.unit = used / run
	case pr.mean > 0: // nothing was used yet: the duty's pace, the less the longer that is so
		days := pr.noise / pr.cv2
		u.unit = pr.mean * days / (days + rest)
	default:
		return nil
	}
	u.follow(bs, pr)
	return u
}

// paceOf is the mean pace of all stretches, units a day.
func paceOf(bs []block) float64 {
	used, days := 0.0, 0.0
	for _, b := range bs {
		used, days = used+b.used, days+b.days
	}
	return used / days
}

// noiseOf is the squared coefficient of variation of a day's growth, from what each two
// neighbouring stretches differ by, so that a pace that changes slowly is not taken for noise (von
// Neumann 1941, the mean square successive difference). Two stretches without use say nothing. The
// duty's noise stands in for half a pair.
func noiseOf(bs []block, pr prior) float64 {
	least := apart * paceOf(bs)
	sum, n := 0.0, 0.0
	for i := 0; i+1 < len(bs); i++ {
		a, b := bs[i], bs[i+1]
		mean := (a.used + b.used) / (a.days + b.days)
		if mean <= least {
			continue
		}
		e := a.used/a.days - b.used/b.days
		sum += e * e / (mean * mean * (1/a.days + 1/b.days))
		n++
	}
	if n == 0 {
		return pr.noise
	}
	logs := noisePrior*math.Log(pr.noise) + n*math.Log(sum/n+noiseLeast)
	return math.Exp(logs / (noisePrior + n))
}

// course is the law of the day on which a meter has used what is left: a gamma process with a pace
// of its own uncertainty, or, where the machine stands still at the last reading, another one that
// begins when it runs again.
type course struct {
	left      float64
	run, back growth
	stand     float64 // probability that it stands still
	wait      float64 // days until it runs again, on average
}

// growth is the mean of what a meter grows a day, with the variance noise·t + drift·t² over t days.
type growth struct{ mean, noise, drift float64 }

// waits are what a wait without memory lasts in its thirds, in times its mean.
var waits = [...]float64{0.18, 0.69, 1.79}

// course is that of a pace for what is left, > 0.
func (p *Pace) course(left float64) course {
	if p.usage == nil {
		return course{left: left, run: growth{p.Mean, p.Noise, p.Drift}}
	}
	return p.usage.course(left, left/p.usage.unit/max(p.usage.mean, slowest))
}

// course is that of what is left, matched in its moments over some days.
func (u *usage) course(left, days float64) course {
	h := min(beyondMost, beyond*days)
	return course{left: left, run: u.growth(u.mean, u.variance, h),
		back:  u.growth(1, math.Expm1(backSpread*backSpread), h),
		stand: u.stand, wait: 1 / u.back}
}

// growth matches, over some days, a pace of a mean and variance now, as shares of the usual one,
// that drifts and stands still now and then.
func (u *usage) growth(mean, variance, days float64) growth {
	rate := u.leave + u.back
	runs := u.back / rate // share of all days in the long run
	on, onVar := 1.0, 0.0 // share of these days, and its variance
	if days > 0 {
		on = runs + (1-runs)*-math.Expm1(-rate*days)/(rate*days)
		onVar = min(u.leave*days/3, 2*runs*(1-runs)/(rate*days))
	}
	v := (variance+u.walk*days/3*mean*mean)*on*on + mean*mean*onVar
	m := mean * on * u.unit
	return growth{mean: m, noise: u.noise * m * m, drift: v * u.unit * u.unit}
}

// near are the moments of the growth of some days ahead, standing still or not, as a growth.
func (u *usage) near(days float64) growth {
	run := u.growth(u.mean, u.variance, days)
	back := u.growth(1, math.Expm1(backSpread*backSpread), days)
	soon := 0.0 // share of the days a standing machine runs, on average
	soon2 := 0.0
	for _, w := range waits {
		on := max(0, 1-w/u.back/days)
		soon, soon2 = soon+on/float64(len(waits)), soon2+on*on/float64(len(waits))
	}
	mean := (1-u.stand)*run.mean + u.stand*soon*back.mean
	second := (1-u.stand)*(run.drift+run.mean*run.mean) +
		u.stand*soon2*(back.drift+back.mean*back.mean)
	return growth{mean: mean, noise: u.noise * mean * mean, drift: max(0, second-mean*mean)}
}
