package action

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Last is when care was last done, as a person tells it: a day, a counter's value then, never since
// the machine was new, or not known.
type Last struct {
	Procedure string
	At        time.Time
	Value     *float64 // what a counter showed; At is then when it was told
	Unit      string   // behind the value, "" where none was typed: the procedure's own counter
	Unknown   bool
	Original  bool // never since the machine was new
}

// Dated tells whether a day was told.
func (l Last) Dated() bool { return l.Value == nil && !l.Unknown && !l.Original }

// LastHint says what can be answered to "last done".
const LastHint = "today, 2026-10-20, 3d, 2w or 2026-10; what its counter showed then (900 h); never; not known"

// pointedMonth is a number that is a month as well.
var pointedMonth = regexp.MustCompile(`^(0?[1-9]|1[0-2])\.((19|20)[0-9]{2})$`)

// ParseLast reads rods-wipe=2026-10-20, blade-check=3000 (its meter then) or gears-blow=unknown.
func ParseLast(text string, now time.Time) (Last, error) {
	id, when, ok := strings.Cut(text, "=")
	if !ok || strings.TrimSpace(id) == "" || strings.TrimSpace(when) == "" {
		return Last{},
			fmt.Errorf("%q does not say when care was last done: write rods-wipe=2026-10-20, blade-check=3000 or gears-blow=unknown", text)
	}
	return ReadLast(strings.TrimSpace(id), when, now)
}

// ReadLast reads when a procedure was last done. A counter's value is no day, and a text that can
// be two things is asked about.
func ReadLast(procedure, when string, now time.Time) (Last, error) {
	l := Last{Procedure: procedure, At: now}
	when = strings.TrimSpace(when)
	switch strings.ToLower(when) {
	case "unknown", "not known", "don't know", "dont know", "?":
		l.Unknown = true
		return l, nil
	case "never", "original":
		l.Original = true
		return l, nil
	}
	if m := pointedMonth.FindStringSubmatch(when); m != nil {
		return l,
			fmt.Errorf("%q can be a month or what a counter showed: type %s-%02s for the month, or the number with its unit", when, m[2], m[1])
	}
	at, err := Time(when, now)
	if err == nil {
		l.At = at
		return l, nil
	}
	n, notNumber := model.ReadNumber(when)
	if _, two := errors.AsType[TwoDays](err); two || notNumber != nil ||
		errors.Is(err, ErrFuture) || errors.Is(err, errShortYear) {
		return l, err
	}
	if _, err := model.ReadAmount(n.Text, "", nil); err != nil &&
		!errors.As(err, &model.TwoWays{}) {
		return l, err
	}
	if strings.ContainsAny(n.Unit, "0123456789") {
		return l, fmt.Errorf("%q is no last time: write %s", when, LastHint)
	}
	v, err := n.One(nil)
	l.Value, l.Unit = &v, n.Unit
	return l, err
}

// Facts gives the fact of a last time told, for a machine with these features. Booked apart, each
// can be struck alone.
func (l Last) Facts(procs []*model.Procedure, f model.MachineFact) ([]model.Fact, error) {
	p, err := FindProcedure(procs, l.Procedure)
	if err != nil {
		return nil, err
	}
	fs := model.NewFeatureSet(f.Features...)
	if !p.Fits(fs) {
		return nil, fmt.Errorf(
			"%q needs %s, which %s does not have: leave it out, or add the feature",
			p.Title, strings.ReplaceAll(lacking(p, fs), ",+", " and "), f.Name)
	}
	c := &model.CareDone{Procedure: p.ID, Outcome: model.OutcomeDone,
		CountsAs: slices.Clone(p.CountsAs), Memory: true}
	switch {
	case l.Unknown:
		c = &model.CareDone{Procedure: p.ID, Outcome: model.OutcomeUnknown}
	case l.Original:
		c = &model.CareDone{Procedure: p.ID, Outcome: model.OutcomeOriginal}
	case l.Value != nil:
		meter, err := l.meter(p, fs, f.Settings)
		if err != nil {
			return nil, err
		}
		c.Base, c.Undated = map[model.Meter]float64{meter: *l.Value}, true
	}
	return []model.Fact{{Kind: model.KindCare, Care: c}}, nil
}

// meter is the counter in which a person tells when care was last done: of those the procedure
// counts on this machine, the one whose unit was typed, else the first. Cuts are told in changes.
func (l Last) meter(p *model.Procedure, fs model.FeatureSet, settings map[string]string) (
	model.Meter, error) {
	var units []string
	for _, iv := range p.Intervals {
		meter := iv.Meter
		if meter == model.Cuts {
			meter = model.Changes
		}
		if iv.Once || !meter.Typed() || !iv.Only.OnMachine(fs, settings) {
			continue
		}
		if meter.In(l.Unit) {
			return meter, nil
		}
		units = append(units, meter.Unit())
	}
	if len(units) == 0 {
		return "", fmt.Errorf("%q counts no meter: give the day it was last done, or unknown",
			p.Title)
	}
	return "", fmt.Errorf("%q does not count %s: give what it counts (%s), a day, or unknown",
		p.Title, l.Unit, strings.Join(units, ", "))
}

// LastDone gives the action that tells when care was last done on a machine of the bench. A day
// takes its place among those on record; what has no day and contradicts the record is refused, and
// the entry named, so that it can be struck.
func LastDone(m *model.Machine, procs []*model.Procedure, l Last, now time.Time) (model.Action,
	error) {
	a := model.Action{At: l.At, Machine: m.ID}
	p, err := FindProcedure(procs, l.Procedure)
	if err != nil {
		return a, err
	}
	if l.Dated() {
		a.Facts, err = Done(m, procs, p)
		for i := range a.Facts {
			if c := a.Facts[i].Care; c != nil {
				c.Memory = now.Sub(l.At) > fromMemory
			}
		}
		return a, err
	}
	if a.Facts, err = l.Facts(procs, m.MachineFact); err != nil {
		return a, err
	}
	if err := Beyond(l, a.Facts, shown(m)); err != nil {
		return a, err
	}
	base := a.Facts[0].Care.Base
	return a, onRecord(m, p, now, func(last *model.CareLast) bool {
		for meter, v := range base {
			was, known := last.Base[meter]
			return !known || was > v+offset(m, meter)
		}
		return true
	})
}

// fromMemory is how old care must be to be told from memory rather than logged: it then sets off
// nothing else.
const fromMemory = 7 * 24 * time.Hour

// onRecord refuses a last time without a day where what is on record is later.
func onRecord(m *model.Machine, p *model.Procedure, now time.Time,
	later func(*model.CareLast) bool) error {
	last := m.Care[p.ID]
	if last == nil || !last.Known || last.Original || !later(last) {
		return nil
	}
	when := "by its counter"
	if !last.At.IsZero() {
		when = "on " + model.Day(last.At, now)
	}
	return fmt.Errorf("%q is on record as done %s, later than that: strike that entry in the book first if it is wrong", p.Title, when)
}

// shown are the counters of a machine as they last showed.
func shown(m *model.Machine) []model.Reading {
	var out []model.Reading
	for _, meter := range model.TypedMeters {
		if p, ok := m.Shows(meter); ok {
			out = append(out, model.Reading{Meter: meter, Value: p.Value})
		}
	}
	return out
}

// offset is what a counter's values run on over, where it replaced another.
func offset(m *model.Machine, meter model.Meter) float64 {
	if s := m.Readings[meter]; s != nil {
		return s.Offset
	}
	return 0
}
