package figures

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Words writes a rate per 100 hours with its interval: "1.2 (0.4–2.9)"; "no hours" without.
func (r Rate) Words() string {
	if r.Per100 == nil {
		return "no hours"
	}
	return model.Rough(*r.Per100) + " (" + model.Rough(*r.Low) + "–" + model.Rough(*r.High) + ")"
}

// InTimeWords says how much care was done in time, and what is past its band now.
func (f *Figures) InTimeWords() string {
	text := "none measured yet"
	if f.Done > 0 {
		text = fmt.Sprintf("%d of %d, %.0f %%", f.InTime, f.Done,
			100*float64(f.InTime)/float64(f.Done))
	}
	if f.Past > 0 {
		text += fmt.Sprintf("; %d past now", f.Past)
	}
	return text
}

// FailingWords says how often prints fail, and what is in no rate.
func (f *Figures) FailingWords() string {
	text := f.Failing.Words() + " in 100 h, with the 95 % interval"
	if f.Late > 0 {
		text += fmt.Sprintf("; %d since the hours were last read not in it", f.Late)
	}
	return text
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

// PartsWords names the parts renewed with their number, the most often first; "none" without.
func (f *Figures) PartsWords() string {
	used := f.Sum().Used
	parts := slices.DeleteFunc(slices.Clone(model.RenewableParts), func(part string) bool {
		return used[part] == 0
	})
	if len(parts) == 0 {
		return "none renewed"
	}
	slices.SortStableFunc(parts, func(a, b string) int { return cmp.Compare(used[b], used[a]) })
	for i, part := range parts {
		parts[i] = part + " " + model.Number(used[part])
	}
	return strings.Join(parts, ", ")
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

// mostNamed is how many things of a list are named.
const mostNamed = 5

// named names the first of a list, and counts the others.
func named(list []string) string {
	text := strings.Join(list[:min(len(list), mostNamed)], ", ")
	if n := len(list) - mostNamed; n > 0 {
		text += fmt.Sprintf(" and %d more", n)
	}
	return text
}

// Words says what an hour printed takes, a sentence each: hands, parts in a currency, which may be
// "", and of what time that is.
func (u Upkeep) Words(currency string) []string {
	if u.Minutes == nil {
		return []string{"no hours were read, so nothing is said of an hour printed"}
	}
	out := []string{model.Rough(*u.Minutes) + " min of hands an hour printed"}
	parts := ""
	if u.Cost != nil {
		parts = "parts " + model.Money(u.Cost, currency) + " an hour printed"
	}
	if len(u.Unpriced) > 0 {
		if parts != "" {
			parts += "; "
		}
		parts += "without a price: " + named(u.Unpriced)
	}
	if parts != "" {
		out = append(out, parts)
	}
	return append(out, "over "+model.Hours.Amount(math.Round(u.Hours))+", "+
		model.Day(u.From, u.From)+" to the reading of "+model.Day(u.To, u.To))
}

// Words says why prints failed: how often, by what name calls the reasons, and what was noted,
// each note once.
func (r Reason) Words(name func(symptom string) string) string {
	text := fmt.Sprintf("%d × ", r.Times)
	if r.Symptom != "" {
		text += name(r.Symptom)
	} else {
		text += "other"
	}
	if len(r.Notes) > 0 {
		text += ": " + strings.Join(slices.Compact(slices.Sorted(slices.Values(r.Notes))), "; ")
	}
	return text
}

// StopWords says when the machine was stopped and why, a line each, with days in the zone of now.
func (f *Figures) StopWords(now time.Time) []string {
	var out []string
	for _, x := range f.Stops {
		out = append(out, model.Day(x.At, now)+"  "+x.Text)
	}
	return out
}

// FailedWords says why prints failed, a line each, by what name calls the reasons, and how often
// they do; none where none failed.
func (f *Figures) FailedWords(name func(symptom string) string) []string {
	var out []string
	for _, r := range f.Failed {
		out = append(out, r.Words(name))
	}
	if len(out) > 0 {
		out = append(out, f.FailingWords())
	}
	return out
}

// Told parts the rows in which something can be told from those with too few failures yet, which it
// names with their number; "" for none.
func Told(rows []Pays) (told []Pays, tooFew string) {
	var few []string
	for _, p := range rows {
		if p.CanTell() {
			told = append(told, p)
		} else {
			few = append(few, fmt.Sprintf("%s %d", p.Title, p.Before.Times+p.After.Times))
		}
	}
	if len(few) > 0 {
		tooFew = "too few failures yet to tell: " + named(few)
	}
	return told, tooFew
}

// Caveat is what must be known of the rows before and after care.
const Caveat = "Not shown: the intervals overlap. Of a procedure the failures count that it may cure. Care is often done because prints failed, so that before looks worse than it is; and one of many rows may stand apart by chance."
