package model

import (
	"fmt"
	"math"
	"strings"
	"time"
	"unicode/utf8"
)

// UsedText is the number a person reads beside a gauge: "2 410 of 3 000" towards the low end, "8 of
// 7–10 days" within the band, "102 of 90 days" past its high end, "at most 1 200 of 2 000 h" where
// the machine is no older and nobody knows more. Where no limit is measured it says why instead.
func (g Gauge) UsedText() string { return g.usedText(true) }

// UsedWithin is UsedText in n cells where it can be so: within the band it then leaves the low end
// out, which the word says is reached, "2 410 of 2 500 changes", and "at most" is "max".
func (g Gauge) UsedWithin(n int) string {
	if s := g.UsedText(); utf8.RuneCountInString(s) <= n {
		return s
	}
	return g.usedText(false)
}

// usedText writes the whole band, or only its high end, where the use lies within it.
func (g Gauge) usedText(whole bool) string {
	switch {
	case g.Word == WordUnknown:
		if g.Why == (Reason{}) || !g.Known {
			return "not known"
		}
		return g.Why.String()
	case !g.Measured:
		return g.Why.String()
	}
	of := Number(g.Low)
	used := math.Floor(g.Used)
	switch {
	case g.Used > g.High:
		of = Number(g.High)
		if used <= g.High { // "90 of 90 days" would not read as past
			used = math.Ceil(g.Used*10) / 10
		}
	case g.Used >= g.Low && g.High > g.Low && !whole:
		of = Number(g.High)
	case g.Used >= g.Low && g.High > g.Low:
		of += "–" + Number(g.High)
	case g.Used < g.Low && g.Low < 10 && !g.Meter.counts():
		used = math.Floor(g.Used*10) / 10
	}
	text := Number(used) + " of " + of
	switch {
	case g.AtMost && whole:
		text = "at most " + text
	case g.AtMost:
		text = "max " + text
	}
	if u := g.Meter.shortUnit(); u != "" {
		text += " " + u
	}
	return text
}

// WhenText says in 11 cells at most when a gauge is due: "now", "2026-12-12", "12 d ago" since its
// high end was passed, "a finding" or "after care" where that makes it due before its number does,
// "by estimate" where only the pace since the last reading says so, "no history" where no reading
// tells a pace; "" where nothing is known.
func (g Gauge) WhenText(now time.Time) string {
	switch g.Word {
	case WordUnknown:
		return ""
	case WordDue:
		switch {
		case g.Estimated:
			return "by estimate"
		case g.Used >= g.Low && g.Measured:
			return "now"
		case g.Why.Kind == ByFinding:
			return "a finding"
		case g.Why.Kind == AfterCare:
			return "after care"
		}
		return "now"
	case WordPast:
		if g.DueHigh == nil {
			return "now"
		}
		if d := int(DaysBetween(*g.DueHigh, now, now)); d >= 1 {
			return fmt.Sprintf("%d d ago", d)
		}
		return "now"
	}
	switch {
	case g.DueLow != nil && !g.DueLow.After(now):
		return "about now"
	case g.DueLow != nil:
		return Day(*g.DueLow, now)
	case g.Forecast != nil && !g.Forecast.Own:
		return "no history"
	}
	return ""
}

// WhenLong is WhenText with how sure the date is: "2026-12-12 (12-05 to 12-21)", between which it
// lies with 80 %. Where the machine has no history it gives the date of the duty's usual pace,
// marked as such: "about 2026-12-12, from memory".
func (g Gauge) WhenLong(now time.Time) string {
	fc := g.Forecast
	switch {
	case g.Word != WordFresh && g.Word != WordWearing || fc == nil || fc.Early.IsZero():
		return g.WhenText(now)
	case fc.Own:
		return strings.TrimSpace(g.WhenText(now) + " " + fc.Spread(now))
	case fc.Mid.IsZero():
		return "no history"
	}
	return "about " + Day(fc.Mid, now) + ", from memory"
}

// Spread is between which dates the forecast lies with 80 %, in brackets: "(12-05 to 12-21)", with
// the year where one of them has another than the middle; "" for a date that is certain to the day.
func (f *Forecast) Spread(now time.Time) string {
	if f.Early.IsZero() || f.Mid.IsZero() {
		return ""
	}
	early, mid, late := f.Early.In(now.Location()), f.Mid.In(now.Location()), f.Late.In(
		now.Location())
	layout := "01-02"
	if early.Year() != mid.Year() || late.Year() != mid.Year() {
		layout = time.DateOnly
	}
	from, to := early.Format(layout), late.Format(layout)
	switch {
	case f.Late.IsZero():
		return "(" + early.Format(time.DateOnly) + " or much later)"
	case from == to:
		return ""
	}
	return "(" + from + " to " + to + ")"
}

// LastingText says how likely the gauge is past the high end of its band by the next care: "62 %
// past its band by the next care"; "" where that is unlikely (less than one in ten), already so, or
// not known. It is a question of the band alone; how likely a part fails goes by the lives of such
// parts.
func (g Gauge) LastingText() string {
	f := g.Forecast
	switch {
	case f == nil || f.Fails < 0.1:
		return ""
	case f.Fails > 0.995:
		return "past its band by the next care"
	}
	return fmt.Sprintf("%.0f %% past its band by the next care", 100*f.Fails)
}

// counts tells that a meter goes up in whole steps.
func (m Meter) counts() bool { return m == Changes || m == Starts || m == Cuts }

// In tells whether a typed unit can be one of the meter's; "" always can.
func (m Meter) In(unit string) bool {
	return SameUnit(unit, m.shortUnit()) || SameUnit(unit, m.Unit()) || SameUnit(unit, string(m))
}

// shortUnit is the unit beside a gauge.
func (m Meter) shortUnit() string {
	switch m {
	case StyrenicHours, AbrasiveHours:
		return "h"
	}
	return m.Unit()
}
