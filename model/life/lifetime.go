package life

import (
	"fmt"
	"slices"
	"time"

	"bench/oilcan/model"
)

// Observe gathers the lives of a part on some machines, in a meter's unit: those that ended worn or
// failed as ends; those taken off sound, lost or whose end nobody knows, the one that is in now,
// and the last one of a retired machine as censored. A life whose use in that meter is not known is
// left out.
func Observe(ms []*model.Machine, part string, meter model.Meter, now time.Time) []Observed {
	var out []Observed
	for _, m := range ms {
		p := m.Parts[part]
		if p == nil {
			continue
		}
		for _, l := range p.Lives {
			if used, ok := usedIn(l, meter); ok && used > 0 {
				out = append(out, Observed{Used: used, Censored: !realEnd(l.End)})
			}
		}
		if used, ok := inNow(m, p, meter, now); ok && used > 0 {
			out = append(out, Observed{Used: used, Censored: true})
		}
	}
	return out
}

// realEnd tells whether a part came to its end, and was not taken out before.
func realEnd(end model.End) bool { return end == model.EndWorn || end == model.EndFailed }

// usedIn is how long a life was by a meter.
func usedIn(l model.Life, meter model.Meter) (float64, bool) {
	if meter == model.Days {
		return l.To.Sub(l.From).Hours() / 24, !l.From.IsZero()
	}
	return l.UsedOf(meter)
}

// inNow is how long the part that is in has been so, by a meter.
func inNow(m *model.Machine, p *model.PartNow, meter model.Meter, now time.Time) (float64, bool) {
	if p.Since.IsZero() {
		return 0, false
	}
	l := model.Life{From: p.Since, To: now, Used: map[model.Meter]float64{}}
	for k, base := range p.Base {
		if s := m.Readings[k]; s != nil && s.N > 0 {
			l.Used[k] = s.Last.Value - base
		}
	}
	return usedIn(l, meter)
}

// Lifetime is how long a part lasts: by the rule of thumb, by this bench's own lives, and by both,
// which is what to go by.
type Lifetime struct {
	Band model.Band // the rule of thumb, in the meter's unit
	Own  *Fit       // nil: the lives do not tell yet, see Why
	Why  string     // why Own is nil; "" where it is not
	Life Belief     // what to go by
	By   Ground     // what Life rests on
	Ends int        // own lives that came to their end
}

// Ground is what a part's life is told by, as a person reads it.
type Ground string

// The grounds.
const (
	ByRule Ground = "rule of thumb"
	ByBoth Ground = "rule of thumb and own lives"
	ByOwn  Ground = "own lives, rule of thumb beside them"
)

// fewEnds is the number of own ends from which they, and not the rule, are named first.
const fewEnds = 5

// NewLifetime weighs a part's own lives against its band, at every number of ends: the rule of
// thumb is what is believed before (see ruleSays), and each own life moves it, so that none makes a
// jump and a few ends that happen to lie close together do not make certainty. The band's ends must
// be above nothing.
func NewLifetime(lives []Observed, band model.Band) Lifetime {
	says := rule
	says.median = (band.Low + band.High) / 2
	t := Lifetime{Band: band, By: ByRule, Life: believe(spans(lives), says)}
	for _, l := range lives {
		if !l.Censored {
			t.Ends++
		}
	}
	if own, err := FitWeibull(lives); err == nil {
		t.Own = &own
	} else {
		t.Why = err.Error()
	}
	switch {
	case t.Ends >= fewEnds:
		t.By = ByOwn
	case len(lives) > 0:
		t.By = ByBoth
	}
	return t
}

// Words sets the rule of thumb beside the own lives, in a sentence; unit stands after a life.
func (t *Lifetime) Words(unit string) string {
	s := fmt.Sprintf("rule of thumb %s–%s %s", model.Number(t.Band.Low), model.Number(t.Band.High),
		unit)
	if t.Band.Basis != "" {
		s += " (" + t.Band.Basis + ")"
	}
	if t.Own == nil {
		s += "; own lives: " + t.Why
	} else {
		s += "; own " + t.Own.Words(unit)
	}
	if t.Ends == 0 {
		return s
	}
	return s + fmt.Sprintf("; the two together: median life %s %s, eight of ten between %s and %s",
		number(t.Life.Life(0.5)), unit,
		number(t.Life.Life(0.1)), number(t.Life.Life(0.9)))
}

// What makes a part short-lived (common practice).
const (
	shortAfter = 3   // lives that came to their end
	shortBelow = 0.6 // of the band's low end
	shortOf    = 5   // the latest ends looked at, so that a cause put right is forgotten
)

// shortLived tells, in a sentence, that a part wears out before its time on a machine: of the
// latest five lives that ended worn or failed, three at least, the median lies below 60 % of the
// band's low end. A part taken off sound says nothing of that. The sentence is "" where the part is
// not short-lived; the median is that of its latest ends, and ok is false where too few ended to
// tell.
func shortLived(lives []model.Life, part string, meter model.Meter, band model.Band) (
	sentence string, median float64, ok bool) {
	var ended []float64
	for i := len(lives) - 1; i >= 0 && len(ended) < shortOf; i-- {
		if used, ok := usedIn(lives[i], meter); ok && used > 0 && realEnd(lives[i].End) {
			ended = append(ended, used)
		}
	}
	if len(ended) < shortAfter || !(band.Low > 0) {
		return "", 0, false
	}
	slices.Sort(ended)
	half := len(ended) / 2
	median = ended[half]
	if len(ended)%2 == 0 {
		median = (ended[half-1] + ended[half]) / 2
	}
	if median >= shortBelow*band.Low {
		return "", median, true
	}
	return fmt.Sprintf("%s short-lived: of the last %d ends half came before %s %s, against a rule of thumb from %s; look for a cause (filled material, chips not cleared, wrong counter) before shortening the interval",
		part, len(ended), number(median), meter.Unit(), model.Number(band.Low)), median, true
}
