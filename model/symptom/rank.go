package symptom

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Heard is a symptom and what was answered to its question.
type Heard struct {
	Symptom *Symptom
	Answer  string // one of its answers; "" not asked or not known
}

// Case is one complaint: one symptom or two, the machine they are on, and what is known of it and
// of the bench.
type Case struct {
	Table   *Table
	Heard   []Heard // one symptom or two
	Machine *model.Machine
	Procs   []*model.Procedure // all with their symptoms; set-up actions not among them
	Gauges  []model.Gauge      // of the machine
	Counts  map[string]Counted // of the bench
	Session []string           // procedures of the begun session that are still to come in it
	Now     time.Time
}

// Result is what to say, in this order: Stop or Normal alone; else Says, NotCare, then Lines.
type Result struct {
	Stop    *Symptom // fire or shock: its page, and nothing else
	Normal  *Symptom // no fault
	Says    []string // what follows from the answers and from what was done last
	NotCare []string // causes no care cures
	Outside float64  // how likely it is one of those, 0..1; the lines have the rest
	Lines   []Line   // the likeliest first
}

// Line is one care that may cure it.
type Line struct {
	Cause string // procedure id, or the id of a Hand
	Title string // of what is offered
	// the procedure to begin with: its look where there is one; "" where it needs no session
	Start   string
	HandsOn float64  // minutes of what is offered
	Grade   string   // high, medium or low, after a band passed raised it; the best of two symptoms
	Weight  float64  // after this bench's outcomes; the product of two symptoms'
	Score   float64  // weight times every factor
	Share   float64  // of all scores, what no care mends among them, 0..1
	Begun   bool     // the begun session has it, still to come
	First   bool     // comes before anything else, whatever its score
	Reasons []string // why it stands there

	base    float64 // weights before outcomes, for ties
	minutes float64 // of the whole care, for ties
}

// Rank gives what to say of a case. Machine may be nil: then every procedure counts, without
// gauges.
func Rank(c Case) Result {
	heard, stop := c.followed()
	if stop != nil {
		return Result{Stop: stop}
	}
	if len(heard) == 1 && heard[0].Symptom.Normal != "" {
		return Result{Normal: heard[0].Symptom}
	}
	r := Result{}
	for _, h := range heard {
		if h.Symptom.Normal != "" {
			r.Says = append(r.Says, h.Symptom.Normal)
		}
	}
	c.Heard = slices.DeleteFunc(heard, func(h Heard) bool { return h.Symptom.Normal != "" })
	r.Says = append(r.Says, c.says()...)
	r.NotCare = c.notCare()
	r.Lines, r.Outside = c.lines()
	return r
}

// followed replaces a symptom whose answer means another one, and gives the stop among them.
func (c Case) followed() (heard []Heard, stop *Symptom) {
	for _, h := range c.Heard {
		if a := h.Symptom.Answer(h.Answer); a != nil && a.Means != "" {
			if s := c.Table.Get(a.Means); s != nil {
				h = Heard{Symptom: s}
			}
		}
		if h.Symptom.Stop && stop == nil {
			stop = h.Symptom
		}
		heard = append(heard, h)
	}
	return heard, stop
}

// says gives what follows from answers, pairs and the latest care.
func (c Case) says() []string {
	var out []string
	for _, p := range c.pairs() {
		out = append(out, p.Say)
	}
	for _, h := range c.Heard {
		if a := h.Symptom.Answer(h.Answer); a != nil && a.Say != "" {
			out = append(out, a.Say)
		}
	}
	if s := c.lastDone(); s != "" {
		out = append(out, s)
	}
	return out
}

// lastDone names what was done on the machine in the last week: a symptom that began right after is
// likely its doing.
func (c Case) lastDone() string {
	if c.Machine == nil {
		return ""
	}
	var titles []string
	var at time.Time
	for _, p := range c.Procs {
		last := c.Machine.Care[p.ID]
		if last == nil || !last.Known || last.Memory || p.Kind == model.Look ||
			p.Kind == model.Bookend || p.Kind == model.Proof ||
			last.At.After(c.Now) || c.Now.Sub(last.At) > recently || last.At.Before(at) {
			continue
		}
		if last.At.After(at) {
			titles, at = nil, last.At
		}
		titles = append(titles, p.ID)
	}
	if len(titles) == 0 {
		return ""
	}
	if len(titles) > 3 {
		titles = append(titles[:3], "more")
	}
	return fmt.Sprintf("Done last, %s: %s. If it began right after, look that work over first.",
		daysAgo(at, c.Now), strings.Join(titles, ", "))
}

// pairs gives the pairs that hold.
func (c Case) pairs() []Pair {
	var out []Pair
	answers := map[string]string{}
	for _, h := range c.Heard {
		answers[h.Symptom.ID] = h.Answer
	}
	for _, p := range c.Table.Pairs {
		_, a := answers[p.Both[0]]
		_, b := answers[p.Both[1]]
		holds := a && b
		for id, want := range p.Answers {
			holds = holds && answers[id] == want
		}
		if holds {
			out = append(out, p)
		}
	}
	return out
}

// lines ranks, and gives the share of what no care mends.
func (c Case) lines() (out []Line, outside float64) {
	for _, p := range c.Procs {
		if l, ok := c.line(p); ok {
			out = append(out, l)
		}
	}
	out = append(out, c.byHand()...)
	total := c.outside().Score
	for _, l := range out {
		total += l.Score
	}
	if total > 0 {
		outside = c.outside().Score / total
	}
	for i := range out {
		out[i].Share = out[i].Score / total
	}
	slices.SortFunc(out, func(a, b Line) int {
		if a.First != b.First {
			if a.First {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(b.base, a.base),
			cmp.Compare(a.minutes, b.minutes), cmp.Compare(a.Cause, b.Cause))
	})
	return out, outside
}

// line weighs one procedure; ok is false where it cures none of the symptoms or does not fit the
// machine.
func (c Case) line(p *model.Procedure) (l Line, ok bool) {
	if !c.fits(p.Needs, p.NeedsAny) {
		return l, false
	}
	grades := map[string]string{}
	for _, s := range p.Symptoms {
		grades[s.Name] = s.Weight
	}
	g := c.gauge(p.ID)
	l = Line{Cause: p.ID, Title: p.Heading(), Start: p.ID, HandsOn: p.HandsOn, minutes: p.HandsOn}
	if !c.weigh(&l, grades, g) {
		return l, false
	}
	l.Score *= prior(g)
	if s := gaugeReason(g); s != "" {
		l.Reasons = append(l.Reasons, s)
	}
	look := c.look(p)
	c.known(&l, p, look)
	if look != nil && !c.doneWithin(look.ID, recently) {
		l.Start, l.Title, l.HandsOn = look.ID, look.Heading(), look.HandsOn
		l.Reasons = append(l.Reasons, "a look first")
	}
	c.evidence(&l)
	if slices.Contains(c.Session, p.ID) || look != nil && slices.Contains(c.Session, look.ID) {
		l.Begun = true
		l.Reasons = append([]string{"under way: the begun session has it still to come"},
			l.Reasons...)
	}
	return l, true
}

// weigh takes the weights of every symptom heard, moved by outcomes; false where none names the
// care.
func (c Case) weigh(l *Line, grade map[string]string, g *model.Gauge) bool {
	l.Score, l.Weight, l.base = 1, 1, 1
	named := false
	var said gradings
	var moved []string
	for i, h := range c.Heard {
		word, has := grade[h.Symptom.ID]
		if !has {
			l.Score, l.Weight, l.base = l.Score*unlisted, l.Weight*unlisted, l.base*unlisted
			continue
		}
		named = true
		was, tail := word, ""
		if up := raised(word); g != nil && g.Word == model.WordPast && up != word {
			word, tail = up, ", counted "+up+" as it is past"
		}
		said.add(was, nth(i), tail)
		if Weights[word] > Weights[l.Grade] {
			l.Grade = word
		}
		w, n := Weights[word], c.Counts[model.TallyKey(h.Symptom.ID, l.Cause)]
		l.base *= w
		l.Weight *= Moved(w, n)
		l.Score *= Moved(w, n)
		if s := outcomeReason(c.called(i), w, n); s != "" {
			moved = append(moved, s)
		}
	}
	l.Reasons = append(append(l.Reasons, said.reasons(len(c.Heard))...), moved...)
	return named
}

// evidence takes the factors of answers and pairs.
func (c Case) evidence(l *Line) {
	var to, away []string
	for i, h := range c.Heard {
		a := h.Symptom.Answer(h.Answer)
		if a == nil {
			continue
		}
		l.First = l.First || a.First == l.Cause
		f, has := a.Factor[l.Cause]
		switch {
		case !has || f == 1:
			continue
		case f > 1:
			to = append(to, nth(i))
		default:
			away = append(away, nth(i))
		}
		l.Score *= f
	}
	l.Reasons = append(append(l.Reasons, c.answered(to, "to it")...),
		c.answered(away, "elsewhere")...)
	for _, p := range c.pairs() {
		f, has := p.Factor[l.Cause]
		switch {
		case !has || f == 1:
			continue
		case f > 1:
			l.Reasons = append(l.Reasons, "both together point to it")
		default:
			l.Reasons = append(l.Reasons, "both together point elsewhere")
		}
		l.Score *= f
	}
}

// byHand weighs what needs no session.
func (c Case) byHand() []Line {
	var out []Line
	for _, h := range c.Heard {
		for _, x := range h.Symptom.Hand {
			if !c.fits(x.Needs, x.NeedsAny) {
				continue
			}
			l := Line{Cause: x.ID, Title: x.Do, HandsOn: x.HandsOn, minutes: x.HandsOn}
			c.weigh(&l, map[string]string{h.Symptom.ID: x.Weight}, nil)
			l.Reasons = append(l.Reasons, "by hand, no session")
			c.evidence(&l)
			out = append(out, l)
		}
	}
	return out
}

// fits tells whether the machine has what is needed; without a machine everything fits.
func (c Case) fits(needs, anyOf []model.Feature) bool {
	if c.Machine == nil {
		return true
	}
	p := model.Procedure{Needs: needs, NeedsAny: anyOf}
	return p.Fits(model.NewFeatureSet(c.Machine.Features...))
}

// look is the look part of a procedure, nil where it has none that fits: its id with -look, or a
// look it counts as whose id begins alike.
func (c Case) look(p *model.Procedure) *model.Procedure {
	stem := p.ID
	if i := strings.LastIndexByte(p.ID, '-'); i > 0 {
		stem = p.ID[:i+1]
	}
	for _, q := range c.Procs {
		if q.Kind != model.Look || !c.fits(q.Needs, q.NeedsAny) {
			continue
		}
		if q.ID == p.ID+"-look" || slices.Contains(p.CountsAs, q.ID) &&
			strings.HasPrefix(q.ID, stem) {
			return q
		}
	}
	return nil
}

// gauge is the machine's gauge of a procedure, nil where nothing counts.
func (c Case) gauge(id string) *model.Gauge {
	for i := range c.Gauges {
		if c.Gauges[i].Item == id {
			return &c.Gauges[i]
		}
	}
	return nil
}
