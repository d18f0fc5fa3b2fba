package sheet

import (
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
)

// Bench makes the page for the wall: what each machine needs within a time, the most pressing
// first, with what stands out on it. Machines come in the order given.
func Bench(title string, ms []*model.Machine, heads []*model.Procedure, within time.Duration,
	now time.Time) Doc {
	d := Doc{Title: title, Under: []string{"care that is due from " + model.Day(now, now) + " to " +
		model.Day(now.Add(within), now)}}
	for _, m := range ms {
		p := Part{Head: m.Name, List: standing(m, now)}
		if m.OutOfUse {
			p.List = append(p.List, "out of use since "+model.Day(m.Since, now))
		} else {
			p.Gauges = due(m, heads, within, now)
		}
		if len(p.List)+len(p.Gauges) == 0 {
			p.Text = []string{"nothing is due"}
		}
		d.Parts = append(d.Parts, p)
	}
	d.Foot = []string{"Dates are forecasts by the pace of late. The bar is what is used, the dark " +
		"part of the rule the band in which it is due."}
	return d
}

// due are the gauges that need doing within a time.
func due(m *model.Machine, heads []*model.Procedure, within time.Duration, now time.Time) []Gauge {
	return shown(model.Due(life.Gauges(m, heads, now), within, now), true, now)
}

func shown(gs []model.Gauge, tick bool, now time.Time) []Gauge {
	var out []Gauge
	for _, g := range gs {
		out = append(out, Gauge{g, g.WhenLong(now), tick})
	}
	return out
}

// standing is what stands on a machine, with its days.
func standing(m *model.Machine, now time.Time) []string {
	var out []string
	for _, it := range book.Lasting(m, now) {
		out = append(out, it.Said(now))
	}
	return out
}

// Machine makes the page of one machine: what it is, its counters, what stands out, its gauges, and
// what was done of late.
func Machine(m *model.Machine, heads []*model.Procedure, lines []book.Line, now time.Time) Doc {
	d := Doc{Title: m.Name, Under: []string{"as of " + model.Stamp(now, now)}}
	is := Part{Head: "The machine", Rows: [][]string{{"duty", string(m.Duty)}}}
	if !m.Bought.IsZero() {
		is.Rows = append(is.Rows, []string{"bought new", model.Day(m.Bought, now)})
	}
	for _, f := range m.Features {
		is.Rows = append(is.Rows, []string{string(f), action.FeatureTitle(f)})
	}
	counters := Part{Head: "Counters"}
	for _, meter := range model.TypedMeters {
		if s := m.Readings[meter]; s != nil && s.N > 0 {
			counters.Rows = append(counters.Rows, []string{string(meter),
				meter.Amount(s.Last.Value - s.Offset), model.Day(s.Last.At, now)})
		}
	}
	d.Parts = append(d.Parts, counters)
	if list := standing(m, now); len(list) > 0 {
		d.Parts = append(d.Parts, Part{Head: "What stands", List: list})
	}
	d.Parts = append(d.Parts, Part{Head: "Gauges", Gauges: shown(life.Gauges(m, heads, now), false, now)},
		is, Part{Head: "Of late", Rows: rows(lines, now)})
	d.Foot = []string{notCertified}
	return d
}

// rows are lines of the book as rows of a table: when, who, what.
func rows(lines []book.Line, now time.Time) [][]string {
	var out [][]string
	for _, l := range lines {
		out = append(out, []string{model.Stamp(l.Entry.At, now), l.Entry.By, l.Said()})
	}
	return out
}
