package model

import (
	"math"
	"slices"
	"time"
)

// What a machine's snapshot holds at most, so that it stays under 16 KB. The journal holds it all.
const (
	maxLives    = 40  // of one part
	maxAllLives = 120 // of all parts together
	maxValues   = 6   // of one quantity
	maxNames    = 64  // quantities
	maxFindings = 40  // the rest is counted, and read by an index
	maxMet      = 10  // of one procedure
	maxText     = 200 // runes of a finding's text
)

// maxReading is beyond any counter; what is above it is not folded.
const maxReading = 1e9

func newMachine(id string) *Machine {
	m := &Machine{MachineFact: MachineFact{ID: id}}
	m.ready()
	return m
}

// ready makes the maps a stored snapshot leaves out where they are empty.
func (m *Machine) ready() {
	if m.Readings == nil {
		m.Readings = map[Meter]*Series{}
	}
	if m.Care == nil {
		m.Care = map[string]*CareLast{}
	}
	if m.Due == nil {
		m.Due = map[string]FallsDue{}
	}
	if m.DueAt == nil {
		m.DueAt = map[string]time.Time{}
	}
	if m.Parts == nil {
		m.Parts = map[string]*PartNow{}
	}
	if m.Values == nil {
		m.Values = map[string][]Recorded{}
	}
}

// RestedBy is how many days the machine was out of use, all together, up to a time not before its
// latest description.
func (m *Machine) RestedBy(t time.Time) float64 {
	if m.OutOfUse && t.After(m.Since) {
		return m.Rested + inDays(t.Sub(m.Since))
	}
	return m.Rested
}

// lately are the rests that ended within the time readings are kept for.
func lately(rests []Rest, at time.Time) (out []Rest) {
	for _, r := range rests {
		if !r.To.Before(at.AddDate(0, 0, -keptDays)) {
			out = append(out, r)
		}
	}
	return out
}

// describe takes a machine's whole description, and books time out of use.
func (m *Machine) describe(f MachineFact, at time.Time) {
	if m.Added.IsZero() {
		m.Added = at
	}
	was := m.OutOfUse
	switch {
	case f.OutOfUse && !was:
		m.Since = at
	case !f.OutOfUse && was:
		if at.After(m.Since) {
			m.Rests = append(lately(m.Rests, at), Rest{m.Since, at})
		}
		m.Rested, m.Since = m.RestedBy(at), time.Time{}
	}
	m.MachineFact = f
	m.Described = at
}

// apply folds a dated fact that is not earlier than anything dated before it.
func (m *Machine) apply(e Entry) error {
	m.ready()
	switch {
	case e.Kind == KindReading && e.Reading != nil:
		m.read(e.At, *e.Reading)
	case e.Kind == KindCare && e.Care != nil:
		m.cared(e.At, *e.Care)
	case e.Kind == KindSwap && e.Swap != nil:
		m.swapped(e.At, *e.Swap)
	case e.Kind == KindFinding && e.Finding != nil:
		m.found(e)
	case e.Kind == KindSettled && e.Settled != nil:
		m.settled(e.Settled.Finding)
	case e.Kind == KindMoved && e.Moved != nil:
		m.moved(*e.Moved)
	case e.Kind == KindValue && e.Value != nil:
		m.measured(e.At, *e.Value)
	case e.Kind == KindDue && e.Due != nil:
		m.Due[e.Due.Procedure], m.DueAt[e.Due.Procedure] = *e.Due, e.At
	case e.Kind == KindTag && e.Tag != nil:
		m.tagged(e)
	case e.Kind == KindOutcome && e.Outcome != nil:
		m.judged(e)
	case e.Kind == KindBooked && e.Booked != nil:
		m.booked(e)
	case e.Kind == KindPrinted && e.Printed != nil:
		m.printed(e.At, *e.Printed)
	case e.Kind == KindFailed && e.Failed != nil: // figures count it; it sets nothing off
	default:
		return missing(e)
	}
	m.LastAt = e.At
	return nil
}

// read takes a meter reading. Over a replaced counter the series runs on from its last value. A
// reading below the last one is no growth of a meter and counts for nothing: it is either a slip
// that stands in the book, or comes from before a correction that was struck.
func (m *Machine) read(at time.Time, r Reading) {
	if !(r.Value >= 0 && r.Value <= maxReading) {
		return
	}
	s := m.Readings[r.Meter]
	if s == nil {
		s = &Series{}
		m.Readings[r.Meter] = s
	}
	switch {
	case r.NewMeter && s.N > 0:
		s.Offset = s.Last.Value - r.Value
	case r.NewMeter:
		s.Younger = true
	}
	p := Point{At: at, Value: r.Value + s.Offset}
	if s.N > 0 && p.Value < s.Last.Value {
		return
	}
	var prev *Point
	if s.N > 0 {
		last := s.Last
		prev = &last
	}
	s.add(p)
	m.refill(r.Meter, prev, p)
}

// sameVisit is how long before the first reading of a meter care still counts as done at it: whoever
// reads a counter for the first time at the end of a session has not printed meanwhile. A session
// takes no longer (from memory).
const sameVisit = 4 * time.Hour

// refill sets the bases of care and parts that lie after the reading before this one: until now
// they held that reading's value, from now on they lie on the line between the two. Before the
// first reading they are known only in the same visit.
func (m *Machine) refill(meter Meter, prev *Point, now Point) {
	value := func(t time.Time) (float64, bool) {
		switch {
		case t.IsZero():
			return 0, false
		case prev == nil:
			return now.Value, !t.Before(now.At.Add(-sameVisit))
		}
		return between(*prev, now, t), t.After(prev.At)
	}
	for _, c := range m.Care {
		if v, ok := value(c.At); ok && c.Known && !c.Told && !c.Original {
			c.Base = with(c.Base, meter, v)
		}
	}
	for _, p := range m.Parts {
		if v, ok := value(p.Since); ok {
			p.Base = with(p.Base, meter, v)
		}
		for i := range p.Lives {
			p.Lives[i].refill(meter, prev, value)
		}
	}
}

// refill mends the use of a life that ended after the reading before this one.
func (l *Life) refill(meter Meter, prev *Point, value func(time.Time) (float64, bool)) {
	end, ok := value(l.To)
	if !ok || prev == nil {
		return
	}
	if from, late := value(l.From); late {
		l.Used = with(l.Used, meter, end-from)
	} else if used, known := l.Used[meter]; known {
		l.Used[meter] = used + end - prev.Value
	}
}

// UsedOf is how far a meter went in the part's life. Cuts are changes and starts, changes alone
// where starts were not read.
func (l Life) UsedOf(meter Meter) (float64, bool) {
	if meter == Cuts {
		changes, ok := l.Used[Changes]
		return changes + l.Used[Starts], ok
	}
	used, ok := l.Used[meter]
	return used, ok
}

func with(m map[Meter]float64, k Meter, v float64) map[Meter]float64 {
	if m == nil {
		m = map[Meter]float64{}
	}
	m[k] = v
	return m
}

// meters gives every meter's value as last read; nil where none was.
func (m *Machine) meters() map[Meter]float64 {
	var out map[Meter]float64
	for k, s := range m.Readings {
		if s.N > 0 {
			out = with(out, k, s.Last.Value)
		}
	}
	return out
}

// cared books care. Only what was done whole sets the gauge back; part of it leaves the gauge as it
// was. "Unknown" is on record only while nothing better is.
func (m *Machine) cared(at time.Time, c CareDone) {
	switch c.Outcome {
	case OutcomeDone:
		m.met(at, c)
		m.reset(at, c.Procedure, true)
		for _, id := range c.CountsAs {
			if id != c.Procedure {
				m.reset(at, id, true)
				m.told(m.Care[id], c)
			}
		}
		m.told(m.Care[c.Procedure], c)
		m.Care[c.Procedure].ProofOwed = c.ProofOwed
	case OutcomeProved:
		if last := m.Care[c.Procedure]; last != nil {
			last.ProofOwed = false
		}
	case OutcomeOriginal:
		m.Care[c.Procedure] = &CareLast{Known: true, Original: true}
		delete(m.Due, c.Procedure)
		delete(m.DueAt, c.Procedure)
	case OutcomeUnknown:
		if m.Care[c.Procedure] == nil {
			m.Care[c.Procedure] = &CareLast{At: at}
		}
	}
}

// met keeps how care met its part, where it is known since when nobody had looked.
func (m *Machine) met(at time.Time, c CareDone) {
	last := m.Care[c.Procedure]
	if c.Found == "" || last == nil || !last.Known || last.At.IsZero() || !at.After(last.At) {
		return
	}
	if m.Met == nil {
		m.Met = map[string][]Met{}
	}
	all := append(m.Met[c.Procedure], Met{last.At, at, c.Found, c.Together})
	m.Met[c.Procedure] = slices.Clone(all[max(0, len(all)-maxMet):])
}

// told takes over what was said of care from memory: meters as they then showed, of the counters
// that were in.
func (m *Machine) told(last *CareLast, c CareDone) {
	last.Memory = c.Memory
	if c.Undated {
		last.At, last.Base, last.Undated = time.Time{}, nil, true
	}
	for k, v := range c.Base {
		if s := m.Readings[k]; s != nil {
			v += s.Offset
		}
		last.Base, last.Told = with(last.Base, k, v), true
	}
}

// reset starts a procedure's gauge again.
func (m *Machine) reset(at time.Time, id string, count bool) {
	times := 0
	if old := m.Care[id]; old != nil {
		times = old.Times
	}
	if count {
		times++
	}
	m.Care[id] = &CareLast{At: at, Known: true, Base: m.meters(), Rested: m.RestedBy(at),
		Times: times}
	delete(m.Due, id)
	delete(m.DueAt, id)
}

// swapped ends the life of the part that was in, and begins that of the new one.
func (m *Machine) swapped(at time.Time, s Swapped) {
	p := m.Parts[s.Part]
	if p == nil {
		p = &PartNow{}
		m.Parts[s.Part] = p
	}
	now := m.meters()
	life := Life{From: p.Since, To: at, End: s.End}
	for k, v := range now {
		if base, ok := p.Base[k]; ok {
			life.Used = with(life.Used, k, v-base)
		}
	}
	p.Lives = append(p.Lives, life)
	if n := len(p.Lives) - maxLives; n > 0 {
		p.Lives = append([]Life(nil), p.Lives[n:]...)
	}
	p.Since, p.Base = at, now
	m.forgetLives()
	for _, id := range s.Resets {
		m.reset(at, id, false)
	}
}

// forgetLives drops the oldest lives beyond what a snapshot holds; of two that ended together, that
// of the part whose name comes first.
func (m *Machine) forgetLives() {
	n := 0
	for _, p := range m.Parts {
		n += len(p.Lives)
	}
	for ; n > maxAllLives; n-- {
		oldest := ""
		for name, p := range m.Parts {
			if len(p.Lives) == 0 {
				continue
			}
			if oldest == "" {
				oldest = name
				continue
			}
			d := p.Lives[0].To.Compare(m.Parts[oldest].Lives[0].To)
			if d < 0 || d == 0 && name < oldest {
				oldest = name
			}
		}
		m.Parts[oldest].Lives = append([]Life(nil), m.Parts[oldest].Lives[1:]...)
	}
}

func (m *Machine) found(e Entry) {
	f := Finding{ID: e.ID, At: e.At, Found: *e.Finding}
	if r := []rune(f.Text); len(r) > maxText {
		f.Text = string(r[:maxText-1]) + "…"
	}
	m.Findings = append(m.Findings, f)
}

// putBy keeps the findings a snapshot holds and counts the others, which stand all the same: the
// oldest first, and none that holds the machine while there is another.
func (m *Machine) putBy() {
	if n := len(m.Findings) - maxFindings; n > 0 {
		m.Findings, m.More = dropNotes(m.Findings, n), m.More+n
	}
}

func (m *Machine) settled(id string) {
	kept := m.Findings[:0:0]
	for _, f := range m.Findings {
		if f.ID != id {
			kept = append(kept, f)
		}
	}
	m.Findings = kept
}

// moved gives a finding that stands another day.
func (m *Machine) moved(x Moved) {
	m.Findings = slices.Clone(m.Findings)
	for i := range m.Findings {
		if m.Findings[i].ID == x.Finding {
			m.Findings[i].Again = x.Again
		}
	}
}

func (m *Machine) measured(at time.Time, v Measured) {
	vs, known := m.Values[v.Name]
	if math.IsNaN(v.Value) || math.IsInf(v.Value, 0) || !known && len(m.Values) >= maxNames {
		return
	}
	if n := len(vs); n > 0 && vs[n-1].From != nil {
		vs = append([]Recorded(nil), vs...)
		vs[n-1].From = nil
	}
	last := Recorded{At: at, Value: v.Value, Unit: v.Unit}
	if v.From != nil {
		last.From = &Worked{By: v.From.By, Given: v.From.Given}
	}
	vs = append(vs, last)
	if n := len(vs) - maxValues; n > 0 {
		vs = append([]Recorded(nil), vs[n:]...)
	}
	m.Values[v.Name] = vs
}

// tagged sets a tag, or clears it by name; a clearing that names another tag than the one set
// leaves that one.
func (m *Machine) tagged(e Entry) {
	t := e.Tag
	if !t.Clear && t.Kind != "" {
		m.Tag = &Tag{Kind: t.Kind, Why: t.Why, At: e.At, By: e.By}
		return
	}
	if m.Tag != nil && (t.Kind == "" || t.Kind == m.Tag.Kind) {
		m.Tag = nil
	}
}

// dropNotes leaves out n findings, the oldest first, and of those that hold a tag, or that a piece
// is lost, none while there is another.
func dropNotes(fs []Finding, n int) []Finding {
	out := make([]Finding, 0, len(fs))
	for _, f := range fs {
		if n > 0 && !f.Holds() {
			n--
			continue
		}
		out = append(out, f)
	}
	return out[max(0, n):]
}

// Holds tells whether the finding keeps a machine from being used as it is meant to be: it must not
// be overlooked for being old.
func (f Finding) Holds() bool {
	switch f.Kind {
	case FoundStop, FoundLost, FoundPart, FoundLimits, FoundOutOfUse:
		return true
	case FoundOwed:
		return f.Hash != "" // a check asked for at the next power
	}
	return false
}
