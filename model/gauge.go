package model

import (
	"cmp"
	"slices"
	"time"
)

// GaugeWord is the condition of a gauge as a word.
type GaugeWord string

// The words. With fraction = used / low: fresh < 0.8 <= wearing < 1 <= due (low to high) < past
// (over high). Unknown is a gauge whose last time nobody knows.
const (
	WordUnknown GaugeWord = "unknown"
	WordFresh   GaugeWord = "fresh"
	WordWearing GaugeWord = "wearing"
	WordDue     GaugeWord = "due"
	WordPast    GaugeWord = "past"
)

// WearingFrom is the fraction from which a gauge is called wearing (common practice: the shading of
// "due soon" at 80 % of the band).
const WearingFrom = 0.8

// Rank orders the words, worst first: past 0, due 1, unknown 2, wearing 3, fresh 4.
func (w GaugeWord) Rank() int {
	switch w {
	case WordPast:
		return 0
	case WordDue:
		return 1
	case WordUnknown:
		return 2
	case WordWearing:
		return 3
	}
	return 4
}

// Gauge is how much of an interval is used up on one machine: the governing limit of one procedure.
type Gauge struct {
	Machine string    `json:"machine"`   // name
	Item    string    `json:"item"`      // procedure id
	Word    GaugeWord `json:"condition"` // in words
	// of the governing limit; "" where only a trigger or a finding counts
	Meter    Meter   `json:"meter"`
	Used     float64 `json:"used"`     // in the meter's unit, >= 0; 0 where unknown
	Low      float64 `json:"low"`      // of the band: from here on it is due
	High     float64 `json:"high"`     // of the band: from here on it is past
	Fraction float64 `json:"fraction"` // Used / Low
	Basis    string  `json:"basis"`    // where the band comes from

	// When low, the middle of the band, and high are reached, or were, by whichever of the
	// procedure's limits comes first. Set by the package life, which alone dates; nil where no pace
	// is known.
	DueLow  *time.Time `json:"due_low"`
	DueMid  *time.Time `json:"due_mid"`
	DueHigh *time.Time `json:"due_high"`

	MachineID string `json:"-"`
	// unknown because the meter was never read: typing it, not the care, would tell
	Unread bool   `json:"-"`
	Title  string `json:"-"` // of the procedure
	// what the gauge is called; the id where the procedure gives none
	Short string `json:"-"`
	Part  string `json:"-"` // the part it looks at or renews; "" where none
	Known bool   `json:"-"` // the last time is known
	// Used says how far it is; false where unknown or without a limit
	Measured bool      `json:"-"`
	Last     time.Time `json:"-"` // the last time; zero where unknown
	// what Used counts from: Last, or the care that set it off; zero: the machine's first hour
	Since time.Time `json:"-"`
	Why   Reason    `json:"why,omitzero"` // what the number alone does not say
	// Used is no more than that: the last time is not known, but the machine is no older
	AtMost bool `json:"at_most,omitempty"`
	// where unknown: all the machine has used of the meter, at most so much the part has; 0 where
	// not known
	Most float64 `json:"-"`
	// of the machine's care list; what is not shows by a finding or after other care
	Care  bool    `json:"care"`
	Kind  Kind    `json:"-"` // of the procedure
	Hands float64 `json:"-"` // minutes of hands of the procedure, practised
	// of a renewal whose last time is not known: the look that tells how the part is; "" where
	// there is none
	Look string `json:"-"`
	// due not by a reading but by the pace since the last one; set by life.Gauges
	Estimated bool `json:"estimated"`
	// set by life.Gauges; nil where nothing is measured, or the band is passed
	Forecast *Forecast `json:"forecast"`
}

// Forecast is how sure the date is at which a gauge reaches the end of the band that comes next:
// low until it is reached, then high. Where a procedure has several limits it is the date of the
// first.
type Forecast struct {
	Level float64 `json:"level"` // that end, in the meter of Of
	// of the limit whose middle date comes first: the gauge's, or another's
	Of Meter `json:"meter"`
	// reached by then with 10 %; no date lies before the time it was asked for; zero where no pace
	// is known
	Early time.Time `json:"early,omitzero"`
	// with 50 %; zero where it lies more than three years off
	Mid time.Time `json:"mid,omitzero"`
	// with 90 %; zero where it lies more than three years off
	Late time.Time `json:"late,omitzero"`
	// by the machine's own readings or the calendar; false: only by its duty's usual pace, from
	// memory
	Own bool `json:"own"`
	// what it rests on, in words: "9.3 h a day by 212 days of readings"
	Pace string `json:"pace"`

	Next time.Time `json:"next_care"` // reckoned from now by the duty (see life.NextCare)
	// probability that the band's low end is reached before then, 0 … 1
	Due   float64 `json:"due"`
	Fails float64 `json:"past"` // probability that its high end is, 0 … 1
}

// Gauges gives one gauge for each procedure of the machine's care list that fits it and has a limit
// running, and for any with a trigger pending or a finding that makes it due: worst first (past,
// due, unknown, wearing, fresh), then the greatest fraction, then the id. A retired machine has
// none.
func Gauges(m *Machine, procs []*Procedure, now time.Time) []Gauge {
	if m.Retired {
		return nil
	}
	fs := NewFeatureSet(m.Features...)
	out := make([]Gauge, 0, len(procs))
	for _, p := range procs {
		if p.Kind == SetUp || !p.Fits(fs) || !m.every && !m.Keeps(p.ID) && !called(m, p, fs) {
			continue
		}
		if g, ok := gaugeOf(m, p, fs, now); ok {
			out = append(out, g)
		}
	}
	out = lookFirst(m, procs, fs, out, now)
	for i := range out {
		out[i].Why = out[i].Why.titled(procs)
	}
	SortGauges(out)
	return out
}

// SortGauges orders gauges worst first, then known before estimated, then by the greatest fraction,
// then by id and machine; so it also ranks the gauges of a whole bench. A gauge is large: each is
// moved once.
func SortGauges(gs []Gauge) {
	was, order := slices.Clone(gs), make([]*Gauge, len(gs))
	for i := range was {
		order[i] = &was[i]
	}
	slices.SortStableFunc(order, CompareGauges)
	for i, g := range order {
		gs[i] = *g
	}
}

// CompareGauges is the order of SortGauges: below 0 where a comes first.
func CompareGauges(a, b *Gauge) int {
	return cmp.Or(cmp.Compare(a.Word.Rank(), b.Word.Rank()),
		cmp.Compare(estimated(a), estimated(b)), cmp.Compare(b.Fraction, a.Fraction),
		cmp.Compare(a.Item, b.Item), cmp.Compare(a.Machine, b.Machine))
}

// estimated puts what is due by a reading or by the calendar before what only the pace says.
func estimated(g *Gauge) int {
	if g.Estimated {
		return 1
	}
	return 0
}

// Due gives those gauges that need doing: past, due, unknown (but for those whose meter was never
// read, and renewals that are looked at first), and any that reaches its low end within the time
// given from now, by the duty's usual pace where the machine has no history. The order is kept.
func Due(gauges []Gauge, within time.Duration, now time.Time) []Gauge {
	var out []Gauge
	until := now.Add(within)
	for _, g := range gauges {
		soon := g.DueLow != nil && !g.DueLow.After(until) || within > 0 && g.fromMemory(until)
		if g.wanted() || soon {
			out = append(out, g)
		}
	}
	return out
}

// fromMemory tells whether a gauge without history reaches its low end by a day at the duty's usual
// pace.
func (g Gauge) fromMemory(until time.Time) bool {
	f := g.Forecast
	return g.DueLow == nil && g.Used < g.Low && f != nil && !f.Mid.IsZero() && !f.Mid.After(until)
}

// wanted tells whether the care should be done now. What is renewed only because nobody knows is
// looked at first.
func (g Gauge) wanted() bool {
	return g.Word.Rank() <= WordUnknown.Rank() && !g.Unread &&
		!(g.Word == WordUnknown && g.Look != "")
}

// Preselect gives the procedure ids a session starts from: what is past, due or unknown, in the
// order of the gauges. What is unknown only because its meter was never read is left out, and so is
// a renewal nobody knows the last time of that has a look.
func Preselect(gauges []Gauge) []string {
	var out []string
	for _, g := range gauges {
		if g.wanted() {
			out = append(out, g.Item)
		}
	}
	return out
}

// OwnBandMeter is the meter in which a machine's own band for this procedure is given: that of the
// first interval in the procedure's file that holds on the machine and is no one-off. "" where none
// is.
func OwnBandMeter(p *Procedure, fs FeatureSet, settings map[string]string) Meter {
	if i := OwnInterval(p, fs, settings); i >= 0 {
		return p.Intervals[i].Meter
	}
	return ""
}

// OwnInterval is the place of the interval an own band replaces, -1 where there is none.
func OwnInterval(p *Procedure, fs FeatureSet, settings map[string]string) int {
	for i, iv := range p.Intervals {
		if !iv.Once && iv.Only.OnMachine(fs, settings) {
			return i
		}
	}
	return -1
}

// gaugeOf finds the governing limit of one procedure; ok is false where nothing counts at all.
func gaugeOf(m *Machine, p *Procedure, fs FeatureSet, now time.Time) (g Gauge, ok bool) {
	g = Gauge{Machine: m.Name, MachineID: m.ID, Item: p.ID, Title: p.Heading(), Short: p.Called(),
		Part: p.Part, Kind: p.Kind, Care: m.Keeps(p.ID), Word: WordFresh}
	if last := m.Care[p.ID]; last != nil && last.Known {
		g.Known, g.Last = true, last.At
		if last.Original {
			g.Last = m.Bought
		}
	}
	g.Hands, _ = p.Minutes(fs, m.Settings)
	pend := pending(m, p, fs)
	limits, counted := limitsOf(m, p, fs, pend, now)
	if best := governing(limits); best != nil {
		g.fill(best)
		ok = true
	}
	if len(pend) > 0 && !counted {
		g.raise(Reason{AfterCare, pend[0].id})
		ok = true
	}
	if because, due := fallenDue(m, p.ID); due {
		g.raise(Reason{ByFinding, because})
		ok = true
	}
	return g, ok
}

// called tells whether a finding or other care calls for a procedure, whatever the machine is kept
// by.
func called(m *Machine, p *Procedure, fs FeatureSet) bool {
	_, due := fallenDue(m, p.ID)
	return due || len(pending(m, p, fs)) > 0
}

// fill makes the gauge show a limit: its meter, how much is used, and the word for it.
func (g *Gauge) fill(l *limit) {
	g.Word, g.Meter, g.Used, g.Low, g.High, g.Basis, g.Why = l.word, l.meter, l.used, l.low, l.high, l.basis, l.why
	g.AtMost, g.Most = l.atMost, l.most
	if l.since != nil {
		g.Since = l.since.At
	}
	g.Unread = l.word == WordUnknown && l.unread
	if g.Measured = l.word != WordUnknown; g.Measured {
		g.Fraction = l.used / l.low
	}
}

// raise makes the gauge due, whatever its meters say, unless it is past.
func (g *Gauge) raise(why Reason) {
	if g.Word.Rank() > WordDue.Rank() {
		g.Word, g.Why, g.Unread = WordDue, why, false
	}
}

// fallenDue tells whether a finding has made the procedure due since it was last done.
func fallenDue(m *Machine, id string) (because string, due bool) {
	f, ok := m.Due[id]
	if !ok {
		return "", false
	}
	at, dated := m.DueAt[id]
	if last := m.Care[id]; dated && last != nil && last.Known && last.At.After(at) {
		return "", false
	}
	return f.Because, true
}
