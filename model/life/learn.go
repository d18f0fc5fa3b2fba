package life

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"bench/oilcan/model"
)

// Learned is an interval as a machine's own looks suggest it. It is only ever said: the band is the
// machine's once a person takes it.
type Learned struct {
	Item  string      `json:"item"` // procedure id
	Meter model.Meter `json:"meter"`
	Now   model.Band  `json:"now"`  // the band that counts
	Take  model.Band  `json:"take"` // the one suggested
	Basis string      `json:"basis"`
	Looks int         `json:"looks"` // how many it rests on
	Found string      `json:"found"` // what speaks for it: clean, expected or late …
	Times int         `json:"times"` // … found so often …
	Every float64     `json:"every"` // … after so much use, in the middle
	// chances, 0 … 1, that a look finds the part late: at the low end that counts, and at the one
	// suggested
	LateNow  float64 `json:"late_now"`
	LateThen float64 `json:"late_then"`
}

// lookRule is what the rule of thumb is taken to say of looks (from memory): half of the parts show
// wear by the middle of its band, give or take a factor; it comes less surely with age than the end
// of a part that is run to its end.
var lookRule = ruleSays{medianSpread: 0.6, shape: 2, shapeSpread: 0.4}

// How an interval is learned.
const (
	lateAfter  = 2   // times the use after which wear shows, a part is found late (from memory)
	fewLooks   = 5   // fewer say nothing
	lookedNear = 0.8 // share of the low end that counts, from which a clean look may lengthen it
	longest    = 1.5 // times the use after which looks were taken, in the middle
	shortest   = 0.5 // the same
	unlike     = 0.2 // share by which a suggestion differs at least
)

// reading is one look: after how much use the part was met, and how.
type reading struct {
	used  float64
	found string
	alone bool // given for itself
}

// span is what a look says of the use after which wear shows. One passed with others can be passed
// by habit: of it is only believed that the part was no better.
func (r reading) span() span {
	s := span{math.Inf(-1), math.Log(r.used)}
	late := s.by - math.Log(lateAfter)
	switch r.found {
	case model.MetClean:
		s = span{s.by, math.Inf(1)}
	case model.MetExpected:
		s.after = late
	case model.MetLate:
		s.by = late
	}
	if !r.alone {
		s.after = math.Inf(-1)
	}
	return s
}

// tells is whether a look says anything.
func (r reading) tells() bool { return r.used > 0 && (r.alone || r.found != model.MetClean) }

// lateBy is the chance that a look after some use finds the part late.
func (b *Belief) lateBy(used float64) float64 { return 1 - b.Survives(used/lateAfter) }

// Learn tells what a machine's own looks say of the interval of a procedure, in the meter an own
// band is given in; false where that is nothing new. The answers of at least five looks are read as
// a censored life (Finkelstein and Wolfe 1985): clean is wear that shows later, late is wear that
// showed by half the time. The rule of thumb is the prior, and the interval suggested is the one at
// which a part is found late as often as the rule accepts at its own low end, at most half as long
// again as what was tried and at least about half as long. A longer one is suggested only by
// answers given for themselves, five of them after about the present low end or more, and never
// while a late one is among the ten kept, nor of what guards against a stop.
func Learn(m *model.Machine, p *model.Procedure, now time.Time) (Learned, bool) {
	fs := model.NewFeatureSet(m.Features...)
	i := model.OwnInterval(p, fs, m.Settings)
	if i < 0 || !p.Fits(fs) || len(m.Met[p.ID]) < fewLooks || m.Retired {
		return Learned{}, false
	}
	band, _ := model.BandOn(m, p, fs, i)
	unlearned := *m
	unlearned.Bands = nil
	thumb, _ := model.BandOn(&unlearned, p, fs, i)
	l := Learned{Item: p.ID, Meter: p.Intervals[i].Meter, Now: band, Basis: model.OwnRecord}
	rs := met(m, p.ID, l.Meter, now)
	if !(thumb.Low > 0) || !l.learn(rs, thumb, !model.FindsStops(p.ID)) {
		return Learned{}, false
	}
	return l, true
}

// LearnOn tells what a machine's own looks say of its intervals: shorter ones first, then by the
// id.
func LearnOn(m *model.Machine, procs []*model.Procedure, now time.Time) []Learned {
	var out []Learned
	for _, p := range procs {
		if l, ok := Learn(m, p, now); ok {
			out = append(out, l)
		}
	}
	slices.SortFunc(out, func(a, b Learned) int {
		return cmp.Or(cmp.Compare(a.Take.Low/a.Now.Low, b.Take.Low/b.Now.Low),
			cmp.Compare(a.Item, b.Item))
	})
	return out
}

// met are the looks of a procedure that say something, oldest first.
func met(m *model.Machine, id string, meter model.Meter, now time.Time) (out []reading) {
	for _, x := range m.Met[id] {
		r := reading{found: x.Found, alone: !x.Together}
		if meter == model.Days {
			r.used = model.DaysBetween(x.From, x.At, now) - model.RestedIn(m.Rests, x.From, x.At)
		} else {
			s := m.Readings[meter]
			a, ok := s.At(x.From)
			b, _ := s.At(x.At)
			if !ok {
				continue
			}
			r.used = b - a
		}
		if r.tells() {
			out = append(out, r)
		}
	}
	return out
}

// learn weighs looks, the rule of thumb before them, and sets what they suggest; false where that
// is nothing.
func (l *Learned) learn(rs []reading, thumb model.Band, longer bool) bool {
	if len(rs) < fewLooks {
		return false
	}
	says := lookRule
	says.median = (thumb.Low + thumb.High) / 2
	before := believe(nil, says)
	accepted := before.lateBy(thumb.Low)
	var seen []span
	for _, r := range rs {
		seen = append(seen, r.span())
	}
	after := believe(seen, says)
	l.count(rs)
	low := rounded(l.tried(lateAfter * after.Life(accepted)))
	switch {
	case low >= (1+unlike)*l.Now.Low:
		if !longer || !l.mayLengthen(rs) {
			return false
		}
	case low > (1-unlike)*l.Now.Low:
		return false
	}
	l.Take = model.Band{Low: low, High: math.Ceil(low * l.Now.High / l.Now.Low)}
	l.LateNow, l.LateThen = after.lateBy(l.Now.Low), after.lateBy(low)
	l.speaks(rs)
	return true
}

// tried keeps a low end within reach of what was tried, so that taking it leads to no other before
// there are other looks.
func (l *Learned) tried(low float64) float64 {
	if low > l.Now.Low {
		return min(low, max(l.Now.Low, longest*l.Every))
	}
	return max(low, min(l.Now.Low, shortest*l.Every))
}

// mayLengthen tells whether enough looks near the present end were answered for themselves, and
// none met the part late.
func (l *Learned) mayLengthen(rs []reading) bool {
	near := 0
	for _, r := range rs {
		if r.found == model.MetLate {
			return false
		}
		if r.alone && r.used >= lookedNear*l.Now.Low {
			near++
		}
	}
	return near >= fewLooks
}

// count says how many looks there are, and after how much use.
func (l *Learned) count(rs []reading) {
	var used []float64
	for _, r := range rs {
		used = append(used, r.used)
	}
	slices.Sort(used)
	l.Looks, l.Every = len(rs), used[len(used)/2]
}

// speaks says what speaks for a suggestion: of a shorter one how often the part was late, of a
// longer one how often clean; where it never was, how often as expected.
func (l *Learned) speaks(rs []reading) {
	times := map[string]int{}
	for _, r := range rs {
		times[r.found]++
	}
	l.Found = model.MetLate
	if l.Take.Low > l.Now.Low {
		l.Found = model.MetClean
	}
	if times[l.Found] == 0 {
		l.Found = model.MetExpected
	}
	l.Times = times[l.Found]
}

// rounded is a figure a person would set, not above the one worked out: 7, 15, 45, 120.
func rounded(v float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(v))) / 2
	if v < 4*step {
		step /= 5
	}
	step = max(1, step)
	return max(step, math.Floor(v/step+1e-9)*step)
}

// Words says it in a sentence: "found clean 5 times of 5 at 31 days: 45 would do (8 % found late
// then, 4 % now)"; "late 3 of 5 at 31 days: 20 (19 % found late then, 30 % now)".
func (l *Learned) Words() string {
	word := l.Found
	if word == model.MetExpected {
		word = "as expected"
	}
	text := "%s %d of %d at %s %s: %s"
	if l.Take.Low > l.Now.Low {
		text = "found %s %d times of %d at %s %s: %s would do"
	}
	return fmt.Sprintf(text+" (%.0f %% found late then, %.0f %% now)", word, l.Times, l.Looks,
		number(l.Every), l.Meter.Unit(), model.Number(l.Take.Low), 100*l.LateThen, 100*l.LateNow)
}
