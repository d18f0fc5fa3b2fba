package figures

import (
	"fmt"
	"math"
	"strings"

	"bench/oilcan/model"
)

// Figure writes a rate or a share of an hour with two digits that say something: 0.52, 1.2, 14.
func Figure(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return model.Figure(0)
	}
	scale := math.Pow10(max(0, 1-int(math.Floor(math.Log10(math.Abs(v))))))
	return model.Figure(math.Round(v*scale) / scale)
}

// Words writes a rate per 100 hours with its interval: "1.2 (0.4–2.9)"; "no hours" without.
func (r Rate) Words() string {
	if r.Per100 == nil {
		return "no hours"
	}
	return Figure(*r.Per100) + " (" + Figure(*r.Low) + "–" + Figure(*r.High) + ")"
}

// InTimeWords says how much care was done in time.
func (f *Figures) InTimeWords() string {
	if f.Done == 0 {
		return "none measured yet"
	}
	return fmt.Sprintf("%d of %d, %.0f %%", f.InTime, f.Done, 100*float64(f.InTime)/float64(f.Done))
}

// Sum adds the months up; its hours are those known of, nil where none are.
func (f *Figures) Sum() Month {
	all := Month{Month: "all", Used: map[string]float64{}}
	add := func(to **float64, v *float64) {
		if v != nil {
			if *to == nil {
				*to = new(float64)
			}
			**to += *v
		}
	}
	for _, m := range f.Months {
		all.Hands += m.Hands
		all.Waited += m.Waited
		all.Sessions += m.Sessions
		all.Renewed += m.Renewed
		all.Stops += m.Stops
		all.Failed += m.Failed
		add(&all.Hours, m.Hours)
		add(&all.Cost, m.Cost)
		for part, n := range m.Used {
			all.Used[part] += n
		}
	}
	return all
}

// Lived are the months from the first in which anything was on record.
func (f *Figures) Lived() []Month {
	for i, m := range f.Months {
		if m.Hours != nil || m.Sessions+m.Renewed+m.Stops+m.Failed+len(m.Used) > 0 {
			return f.Months[i:]
		}
	}
	return f.Months[len(f.Months)-1:]
}

// mostNamed is how many things without a price are named.
const mostNamed = 5

// Words says what an hour printed takes, a sentence each: hands, and parts in a currency, which may
// be "".
func (u Upkeep) Words(currency string) []string {
	if u.Minutes == nil {
		return []string{"no hours were read, so nothing is said of an hour printed"}
	}
	out := []string{Figure(*u.Minutes) + " min of hands an hour printed"}
	parts := ""
	if u.Cost != nil {
		parts = "parts " + strings.TrimSpace(Figure(*u.Cost)+" "+currency) + " an hour printed"
	}
	if n := len(u.Unpriced); n > 0 {
		if parts != "" {
			parts += "; "
		}
		parts += "without a price: " + strings.Join(u.Unpriced[:min(n, mostNamed)], ", ")
		if n > mostNamed {
			parts += fmt.Sprintf(" and %d more", n-mostNamed)
		}
	}
	if parts != "" {
		out = append(out, parts)
	}
	return out
}

// Words says why prints failed: how often, by what name calls the reasons, and what was noted.
func (r Reason) Words(name func(symptom string) string) string {
	text := fmt.Sprintf("%d × ", r.Times)
	if r.Symptom != "" {
		text += name(r.Symptom)
	} else {
		text += "other"
	}
	if len(r.Notes) > 0 {
		text += ": " + strings.Join(r.Notes, "; ")
	}
	return text
}

// Caveat is what must be known of the rows before and after care.
const Caveat = "Not shown: the intervals overlap. Of a procedure the failures count that it may cure. Care is often done because prints failed, so that before looks worse than it is; and one of many rows may stand apart by chance."
