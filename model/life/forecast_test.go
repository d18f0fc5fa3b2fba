package life

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench/oilcan/model"
)

// What neighbouring stretches differ by has no bias as a measure of the noise, whatever their
// length, and a pace that changes slowly does not raise it.
func TestNoiseHasNoBias(t *testing.T) {
	const mean, noise, runs = 5.0, 0.5, 3000
	for name, change := range map[string]float64{"a constant pace": 0,
		"four times as fast within the record": math.Log(4)} {
		r := rand.New(rand.NewPCG(1, 2))
		sum := 0.0
		for range runs {
			var bs []block
			for i := range 20 {
				w := uniform(r, 6, 9)
				pace := mean * math.Exp(change*float64(i)/20)
				bs = append(bs, block{days: w, used: gamma(r, pace*w, math.Sqrt(noise/w))})
			}
			sum += math.Log(noiseOf(bs, prior{mean: mean, noise: noise, cv2: 1})) / runs
		}
		if got := math.Exp(sum); math.Abs(got/noise-1) > 0.08 {
			t.Errorf("%s: noise %.3f of %v", name, got, noise)
		}
	}
}

// By hand: 2 and 4 over a day each, a mean of 3: e = 2, 2²/(9·2) = 2/9 for the pair, and the
// hundredth no meter is below.
func TestNoiseByHand(t *testing.T) {
	pr := prior{mean: 3, noise: 1, cv2: 1}
	want := math.Exp(math.Log(2./9+0.01) / 1.5)
	if got := noiseOf([]block{{1, 4}, {1, 2}}, pr); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
}

// Nothing known before, the pace after one stretch is the inverse of a gamma variable: with shape k
// = days/noise and x = used/noise its mean is x/(k − 1) and its variance that squared over k − 2
// (conjugate prior of a gamma rate, Gelman et al., Bayesian Data Analysis, appendix A).
func TestLevelAgainstConjugate(t *testing.T) {
	const days, used, noise = 20.0, 22.0, 1.0
	l := level{stand: 0}
	for g := range l.run {
		l.run[g] = 1. / cells
	}
	run, _ := likely(days, used, noise)
	l.see(&run, 0)
	first, second := 0.0, 0.0
	for g, p := range l.run {
		first, second = first+p*paceAt[g], second+p*paceAt[g]*paceAt[g]
	}
	k, x := days/noise, used/noise
	mean := x / (k - 1)
	if v := second - first*first; math.Abs(first/mean-1) > 1e-3 ||
		math.Abs(v/(mean*mean/(k-2))-1) > 0.01 {
		t.Errorf("mean %.5f and variance %.5f, want %.5f and %.5f", first, v, mean, mean*mean/(k-2))
	}
}

// Taken ahead, the probabilities stay 1 together, the variance of the logarithm grows by the
// walk's, the mean pace stays, and in the long run the machine runs the share of its days that the
// two rates make.
func TestLevelAhead(t *testing.T) {
	l := level{walk: 0.02}
	l.run = bell(0, 0.3)
	moments := func() (pace, variance float64) {
		log := 0.0
		for g, p := range l.run {
			pace, log, variance = pace+p*paceAt[g], log+p*logAt[g], variance+p*logAt[g]*logAt[g]
		}
		return pace, variance - log*log
	}
	pace, variance := moments()
	l.drift(0.02 * 0.02 * 100)
	if p, v := moments(); math.Abs(v-variance-0.04) > 2e-4 || math.Abs(p/pace-1) > 1e-4 {
		t.Errorf("in 100 days the variance grew by %v, want 0.04, and the mean pace by %v, want none", v-variance, p-pace)
	}
	u := &usage{leave: 1. / 90, back: 1. / 30}
	for range 200 {
		l.ahead(7, u)
	}
	sum := l.stand
	for _, p := range l.run {
		sum += p
	}
	if math.Abs(sum-1) > 1e-9 || math.Abs(l.stand-0.25) > 1e-6 {
		t.Errorf("probabilities of %v together, standing %v, want 1 and a quarter", sum, l.stand)
	}
}

// The first passage against a slow reference: processes grown hour by hour until they pass.
func TestPassageAgainstSimulation(t *testing.T) {
	cases := []struct {
		name string
		p    Pace
		left float64
		near float64 // probability
	}{
		{"a gamma process", Pace{Mean: 4, Noise: 20}, 60, 0.02},
		{"with a rough day", Pace{Mean: 4, Noise: 90}, 40, 0.02},
		{"with a pace not well known", Pace{Mean: 4, Noise: 20, Drift: 2}, 60, 0.03},
	}
	const runs, step = 6000, 1. / 4
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(3, 4))
			passedBy := map[float64]float64{5: 0, 10: 0, 15: 0, 20: 0, 30: 0, 50: 0}
			for range runs {
				pace := c.p.Mean
				if c.p.Drift > 0 {
					pace = gamma(r, c.p.Mean, math.Sqrt(c.p.Drift)/c.p.Mean)
				}
				at, x := 0.0, 0.0
				for ; x < c.left && at < 60; at += step {
					x += gamma(r, pace*step, math.Sqrt(c.p.Noise*step)/(pace*step))
				}
				for by := range passedBy {
					if at <= by {
						passedBy[by] += 1. / runs
					}
				}
			}
			for by, want := range passedBy {
				course := c.p.course(c.left)
				if got := course.passed(by); math.Abs(got-want) > c.near {
					t.Errorf("passed within %v days: %.3f, simulated %.3f", by, got, want)
				}
			}
		})
	}
}

// A gamma process with shape 1 a day and rate 1: after 3 days P(X >= 2) = e^-2 (1 + 2 + 2²/2), the
// Poisson sum (Abramowitz and Stegun 1964, 26.4.21).
func TestPassageClosedForm(t *testing.T) {
	p := Pace{Mean: 1, Noise: 1}
	c := p.course(2)
	if got, want := c.passed(3), 5*math.Exp(-2); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
}

func drawPace(t *rapid.T) Pace {
	p := Pace{Meter: model.Hours, Own: true, At: simStart, week: evenly(simStart)}
	p.Mean = math.Exp(rapid.Float64Range(-4, 6).Draw(t, "log mean"))
	p.Noise = p.Mean * p.Mean * math.Exp(rapid.Float64Range(-5, 4).Draw(t, "log noise"))
	p.Drift = p.Mean * p.Mean * rapid.Float64Range(0, 1.2).Draw(t, "drift")
	if rapid.Bool().Draw(t, "rhythm") {
		sum := 0.0
		for d := range 7 {
			sum += rapid.Float64Range(0, 1).Draw(t, "day")
			p.week.upTo[d+1] = sum
		}
		for d := range p.week.upTo {
			if sum > 0 {
				p.week.upTo[d] *= 7 / sum
			} else {
				p.week.upTo[d] = float64(d)
			}
		}
	}
	if rapid.Bool().Draw(t, "changing") {
		// drift is the square of a coefficient of variation: of this mean, not of the usual pace
		mean := math.Exp(rapid.Float64Range(-2, 2).Draw(t, "log level"))
		p.usage = &usage{unit: p.Mean, noise: p.Noise / p.Mean / p.Mean,
			variance: p.Drift / p.Mean / p.Mean * mean * mean, mean: mean,
			leave: rapid.Float64Range(0.003, 0.2).Draw(t, "leave"),
			back:  rapid.Float64Range(0.01, 0.2).Draw(t, "back"),
			walk:  rapid.Float64Range(0, 0.003).Draw(t, "walk"), stand: rapid.Float64Range(0,
				0.999).Draw(t, "stand")}
	}
	return p
}

func TestForecastProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPace(t)
		now := simStart.Add(time.Duration(
			rapid.Float64Range(0, 30).Draw(t, "unread days") * 24 * float64(time.Hour)))
		level := p.Mean * math.Exp(rapid.Float64Range(-3, 6).Draw(t, "log days"))
		used := level * rapid.Float64Range(0, 1.2).Draw(t, "used")
		early, mid, late, ok := p.Reach(used, level, now)
		if !ok {
			return
		}
		if early.Before(now) || !mid.IsZero() && mid.Before(early) || !late.IsZero() &&
			late.Before(mid) {
			t.Fatalf("out of order or before now: %v %v %v, now %v", early, mid, late, now)
		}
		more := used + (level-used)*rapid.Float64Range(0, 1).Draw(t, "more")
		if more > used {
			e, m, l, ok := p.Reach(more, level, now)
			if !ok || e.After(early.Add(5*time.Minute)) || muchLater(m, mid) || muchLater(l, late) {
				t.Fatalf("more used and later: %v %v %v, was %v %v %v", e, m, l, early, mid, late)
			}
		}
		if mid.After(now) {
			if got := p.PassBefore(used, level, now, mid); math.Abs(got-0.5) > 0.02 &&
				p.week == evenly(simStart) {
				t.Fatalf("%.3f before the middle date", got)
			}
		}
		a := now.Add(time.Duration(rapid.Float64Range(0, 400).Draw(t, "a") * 24 * float64(
			time.Hour)))
		b := a.Add(time.Duration(rapid.Float64Range(0, 400).Draw(t, "b") * 24 * float64(time.Hour)))
		pa, pb := p.PassBefore(used, level, now, a), p.PassBefore(used, level, now, b)
		if pa < 0 || pb > 1 || pb < pa-1e-9 {
			t.Fatalf("%v by %v, %v by %v", pa, a, pb, b)
		}
	})
}

// changing is a pace with hours a day of 1 that may stand still.
func changing(noise, mean, drift, leave, back, stand float64) Pace {
	return Pace{Meter: model.Hours, Mean: 1, Noise: noise, Drift: drift, Own: true, At: simStart,
		week: evenly(simStart),
		usage: &usage{unit: 1, noise: noise, mean: mean, variance: drift, leave: leave, back: back,
			walk: 0.003, stand: stand}}
}

// Each date is the first day on which its probability is reached, be the curve flat or steep before
// it. A short step on a steep stretch once ended the search days before the date, even at the
// middle before the early one.
func TestQuantileOnSteepAndFlat(t *testing.T) {
	for _, p := range []Pace{
		changing(math.Exp(0.5), math.E, 1.2, 0.2, 0.0625, 0.75),
		changing(math.Exp(-5), math.Exp(1.5), 1.2, 0.2, 0.2, 0.75),
		changing(math.E, 1, 0.5, 0.003, 0.0625, 0.5078125),
	} {
		for log := -4.0; log < 5; log += 0.05 {
			c := p.course(math.Exp(log))
			for q := 0.05; q < 1; q += 0.05 {
				at := c.quantile(q)
				if at > horizonDays {
					continue
				}
				if c.passed(at) < q-1e-9 || c.passed(at*(1-2e-4)-2e-4) >= q {
					t.Fatalf("%+v: %.2f by %v, and %.4f passed by then", c, q, at, c.passed(at))
				}
			}
		}
	}
}

// Three years by the week's clock may be some days more by the calendar, where it is read before
// the quiet days of a week: a date beyond them is not known, and is not now.
func TestReachAtTheHorizon(t *testing.T) {
	p := Pace{Meter: model.Hours, Mean: 1, Noise: 0.01, Own: true, At: simStart,
		week: evenly(simStart)}
	for d := range p.week.upTo {
		p.week.upTo[d] = max(0, float64(d)-5) * 7 / 2 // Saturdays and Sundays; simStart is a Monday
	}
	known, beyond := false, false
	for left := horizonDays - 20.0; left < horizonDays; left += 0.05 {
		early, mid, late, ok := p.Reach(0, left, simStart)
		known, beyond = known || ok, beyond || ok && late.IsZero()
		if ok && (mid.IsZero() && !late.IsZero() || !mid.IsZero() && mid.Before(early) ||
			!late.IsZero() && late.Before(mid)) {
			t.Fatalf("%v days: %v %v %v", left, early, mid, late)
		}
		if !ok && !early.IsZero() {
			t.Fatalf("%v days: not known, and %v", left, early)
		}
	}
	if !known || !beyond {
		t.Errorf("known %v, a late date beyond %v: the horizon was not tried", known, beyond)
	}
}

// How long a machine stands still has no steps: a little more that is left moves no date by weeks.
func TestNoDateLeaps(t *testing.T) {
	p := changing(math.Exp(-1), 1, 0.02, 0.01, 0.01, 0.3)
	_, _, before, _ := p.Reach(0, 2, simStart)
	for left := 2.0; left < 20; left += 1. / 24 {
		_, _, late, ok := p.Reach(0, left, simStart)
		if !ok || late.Sub(before).Abs() > 7*24*time.Hour {
			t.Fatalf("%.2f days of use left: %v, and %v with an hour less", left, late, before)
		}
		before = late
	}
}

// The ends of a band keep their order, and an end that is not known has none.
func TestEndsInOrder(t *testing.T) {
	a, b, c := dayAt(1), dayAt(2), dayAt(3)
	g := model.Gauge{DueLow: &b, DueMid: &a, DueHigh: &c}
	inOrder(&g)
	h := model.Gauge{DueLow: &c, DueHigh: &b}
	inOrder(&h)
	if *g.DueLow != b || *g.DueMid != b || *g.DueHigh != c || *h.DueLow != c || h.DueMid != nil ||
		*h.DueHigh != c {
		t.Errorf("%v %v %v, and %v %v %v", g.DueLow, g.DueMid, g.DueHigh, h.DueLow, h.DueMid,
			h.DueHigh)
	}
}

// Against waits drawn at random: a machine that stands still, and what it uses once it runs again.
func TestStandingAgainstSimulation(t *testing.T) {
	for _, left := range []float64{2, 12, 60} {
		p := changing(1, 1, 0.05, 1e-9, 0.05, 1)
		c := p.course(left)
		r := rand.New(rand.NewPCG(5, 6))
		const runs = 20000
		for _, by := range []float64{5, 15, 40, 80, 120} {
			want := 0.0
			for range runs {
				want += c.back.passed(left, by-r.ExpFloat64()/0.05) / runs
			}
			if got := c.passed(by); math.Abs(got-want) > 0.04 {
				t.Errorf("%v left: %.3f by day %v, simulated %.3f", left, got, by, want)
			}
		}
	}
}

// muchLater tells whether a date is later than another by more than the search's tolerance; zero is
// never.
func muchLater(a, b time.Time) bool {
	switch {
	case b.IsZero():
		return false
	case a.IsZero():
		return true
	}
	return a.Sub(b) > 15*time.Minute+b.Sub(simStart)/2000
}

// The quantile against bisection, which is slow and cannot go astray.
func TestQuantileAgainstBisection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPace(t)
		left := p.Mean * math.Exp(rapid.Float64Range(-4, 7).Draw(t, "log days"))
		q := rapid.SampledFrom([]float64{0.1, 0.5, 0.9}).Draw(t, "q")
		c := p.course(left)
		lo, hi := 0.0, 2.0*horizonDays
		for range 80 {
			if mid := (lo + hi) / 2; c.passed(mid) < q {
				lo = mid
			} else {
				hi = mid
			}
		}
		got := c.quantile(q)
		if want := hi; want < horizonDays && math.Abs(got-want) > 0.003+want*3e-4 ||
			want > 1.01*horizonDays && got <= horizonDays {
			t.Fatalf("%v, bisection %v", got, want)
		}
	})
}

// Another unit changes the figures by its factor and no date at all.
func TestForecastScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		by := math.Exp(rapid.Float64Range(-5, 5).Draw(t, "log factor"))
		var a, b []model.Point
		value, day := 0.0, 0.0
		for range rapid.IntRange(2, 80).Draw(t, "readings") {
			a, b = append(a, model.Point{At: dayAt(day), Value: value}), append(b,
				model.Point{At: dayAt(day), Value: value * by})
			step := uniform(r, 0.5, 9)
			value, day = value+gamma(r, 5*step, 0.7), day+step
		}
		pr := priorOf(model.Home, model.Hours)
		scaled := pr
		scaled.mean *= by
		p, q := estimate(a, nil, pr, dayAt(day)), estimate(b, nil, scaled, dayAt(day))
		near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-6*math.Abs(y)+1e-12 }
		if !near(q.Mean, p.Mean*by) || !near(q.Noise, p.Noise*by*by) ||
			!near(q.Drift, p.Drift*by*by) {
			t.Fatalf("%+v\nscaled by %v\n%+v", p, by, q)
		}
	})
}

func TestEstimateCases(t *testing.T) {
	now := dayAt(200)
	cases := []struct {
		name string
		set  func(ty *typed)
		own  bool
		mean [2]float64
	}{
		{"never read", func(ty *typed) {}, false, [2]float64{3, 3}},
		{"read once", func(ty *typed) { ty.read(t, model.Hours, 10, 500) }, false,
			[2]float64{3, 3}},
		{"twice within the day", func(ty *typed) {
			ty.read(t, model.Hours, 10, 500)
			ty.read(t, model.Hours, 10.5, 508)
		}, false, [2]float64{3, 3}},
		{"a few days lean on the duty", func(ty *typed) {
			ty.read(t, model.Hours, 190, 500)
			ty.read(t, model.Hours, 192, 520)
		}, true, [2]float64{4, 9.5}},
		{"a year of steady days is its own", func(ty *typed) {
			for d := range 200 {
				ty.read(t, model.Hours, float64(d), 10*float64(d))
			}
		}, true, [2]float64{9.9, 10.1}},
		{"a change of pace is followed", func(ty *typed) {
			for d := range 200 {
				ty.read(t, model.Hours, float64(d), 3*float64(d)+6*max(0, float64(d)-130))
			}
		}, true, [2]float64{7.6, 9.1}},
		{"two readings a year apart", func(ty *typed) {
			ty.read(t, model.Hours, -165, 0)
			ty.read(t, model.Hours, 200, 3650)
		}, true, [2]float64{9, 10}},
		{"nothing printed for a long time", func(ty *typed) {
			for d := range 200 {
				ty.read(t, model.Hours, float64(d), 700)
			}
		}, true, [2]float64{0, 0.05}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			ty := newTyped(t, model.Home)
			if c.name == "two readings a year apart" {
				ty = &typed{bench: model.NewBench()}
				ty.fold(t, model.Entry{At: dayAt(-200), Fact: model.Fact{Kind: model.KindMachine,
					Machine: &model.MachineFact{ID: "m", Name: "Anvil", Duty: model.Home}}})
			}
			c.set(ty)
			p := Estimate(ty.machine().Readings[model.Hours], nil, model.Home, model.Hours, now)
			if p.Own != c.own || p.Mean < c.mean[0] || p.Mean > c.mean[1] {
				t.Errorf("own %v, %.2f h a day, want %v and %v: %s", p.Own, p.Mean, c.own, c.mean,
					p.Words())
			}
		})
	}
}

// What differs between the days of a week is no noise: a machine that prints on weekends only, read
// each day, is forecast to reach a level on a weekend, and within days.
func TestWeekdaysAreNotNoise(t *testing.T) {
	ty := newTyped(t, model.Home)
	value := 0.0
	for d := range 140 {
		ty.read(t, model.Hours, float64(d), value)
		if d%7 >= 5 {
			value += 10
		}
	}
	now := dayAt(139) // a Sunday at midnight
	p := Estimate(ty.machine().Readings[model.Hours], nil, model.Home, model.Hours, now)
	if cv := math.Sqrt(p.Noise*7) / (p.Mean * 7); cv > 0.2 {
		t.Errorf("a week varies by %.2f", cv)
	}
	early, mid, late, ok := p.Reach(0, 44, now) // ten on this Sunday, then the second Sunday after
	if day := mid.Weekday(); !ok || day != time.Saturday && day != time.Sunday {
		t.Errorf("reached on a %s", day)
	}
	if spread := late.Sub(early).Hours() / 24; spread > 9 || mid.Before(dayAt(150)) ||
		mid.After(dayAt(154)) {
		t.Errorf("%v, %v, %v", early, mid, late)
	}
}

func TestCalendarIsExact(t *testing.T) {
	p := Estimate(nil, nil, model.Home, model.Days, simStart)
	early, mid, late, ok := p.Reach(12, 30, simStart)
	if want := simStart.AddDate(0, 0, 18); !ok || !early.Equal(want) || !mid.Equal(want) ||
		!late.Equal(want) {
		t.Errorf("%v %v %v", early, mid, late)
	}
	if p.PassBefore(12, 30, simStart, dayAt(17.9)) != 0 ||
		p.PassBefore(12, 30, simStart, dayAt(18)) != 1 {
		t.Error("the calendar is not sure of itself")
	}
}

func TestNoHistorySaysSo(t *testing.T) {
	for _, c := range []struct {
		duty  model.Duty
		meter model.Meter
		want  string
	}{
		{model.Home, model.Hours,
			"about 3 h a day, the usual pace at home, from memory: no history yet"},
		{model.Production, model.Cuts,
			"about 83 cuts a day, the usual pace in production, from memory: no history yet"},
		{model.Home, model.StyrenicHours, "no history yet"},
	} {
		p := Estimate(nil, nil, c.duty, c.meter, simStart)
		if got := p.Words(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
		_, _, _, ok := p.Reach(0, 100, simStart)
		if known := c.meter != model.StyrenicHours; ok != known ||
			p.PassBefore(0, 100, simStart, dayAt(400)) > 0 != known {
			t.Errorf("%s: a date from nothing", c.meter)
		}
	}
	p := history(t, 9, 40).machine().Readings[model.Hours]
	e := Estimate(p, nil, model.Home, model.Hours, dayAt(41))
	if got, want := e.Words(), "9 h a day by 40 days of readings"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
