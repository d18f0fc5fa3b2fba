package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// UsedText is the number a person reads beside a gauge: "2,410 of 3,000" towards the low end, "8 of
// 7–10 days" within the band, "102 of 90 days" past its high end. Counts go without a unit. Where no
// limit is measured it says why instead.
func (g Gauge) UsedText() string {
	switch {
	case g.Word == WordUnknown:
		if g.Why == "" || !g.Known {
			return "not known"
		}
		return g.Why
	case !g.Measured:
		return g.Why
	}
	of := Number(g.Low)
	used := math.Floor(g.Used)
	switch {
	case g.Used > g.High:
		of = Number(g.High)
		if used <= g.High { // "90 of 90 days" would not read as past
			used = math.Ceil(g.Used*10) / 10
		}
	case g.Used >= g.Low && g.High > g.Low:
		of += "–" + Number(g.High)
	case g.Used < g.Low && g.Low < 10 && g.Meter.shortUnit() != "":
		used = math.Floor(g.Used*10) / 10
	}
	text := Number(used) + " of " + of
	if u := g.Meter.shortUnit(); u != "" {
		text += " " + u
	}
	return text
}

// WhenText says in few cells when a gauge is due: "now", "12 Dec" ("Dec 2028" where more than ten
// months away), "12 d ago" since its high end was passed, "about now" where the pace says the low end
// is reached and no reading has shown it; "" where nothing is known.
func (g Gauge) WhenText(now time.Time) string {
	return g.when(now, func(t time.Time) string {
		if t.Sub(now) > 300*24*time.Hour {
			return t.Format("Jan 2006")
		}
		return t.Format("2 Jan")
	})
}

// WhenLong is WhenText with the date in full: 2026-12-12.
func (g Gauge) WhenLong(now time.Time) string {
	return g.when(now, func(t time.Time) string { return t.Format(time.DateOnly) })
}

func (g Gauge) when(now time.Time, date func(time.Time) string) string {
	switch g.Word {
	case WordUnknown:
		return ""
	case WordDue:
		return "now"
	case WordPast:
		if g.DueHigh == nil {
			return "now"
		}
		if d := int(inDays(now.Sub(*g.DueHigh))); d >= 1 {
			return fmt.Sprintf("%d d ago", d)
		}
		return "now"
	}
	if g.DueLow == nil {
		return ""
	}
	t := g.DueLow.In(now.Location())
	if !t.After(now) {
		return "about now"
	}
	return date(t)
}

// shortUnit is the unit beside a gauge: none for counts, which the item itself names.
func (m Meter) shortUnit() string {
	switch m {
	case Changes, Starts, Cuts:
		return ""
	case StyrenicHours, AbrasiveHours:
		return "h"
	}
	return m.Unit()
}

// Number writes a value with thousands marked and at most one decimal: 2,410 and 6.5.
func Number(v float64) string {
	s := strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
	whole, rest, _ := strings.Cut(s, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		whole += "." + rest
	}
	return sign + whole
}
