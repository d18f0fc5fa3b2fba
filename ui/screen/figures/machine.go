package figures

import (
	"fmt"
	"strconv"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/figures"
	"bench/oilcan/ui/figured"
	"bench/oilcan/ui/theme"
)

// machine is the page of one machine: its months drawn, what follows from them, and whether care
// pays.
func (s *page) machine(f *figures.Figures) []string {
	out := append(s.months(f), "")
	out = append(out, s.labelled("parts", f.PartsWords())...)
	out = append(out, s.labelled("upkeep", f.Upkeep.Words(theme.Safe(s.Env.Currency))...)...)
	out = append(out, s.labelled("in time", f.InTimeWords())...)
	out = append(out, s.labelled("stops", f.StopWords(s.Now)...)...)
	return append(out, s.failed(f)...)
}

// labelled sets a word at the left and lines beside it.
func (s *page) labelled(word string, lines ...string) []string {
	t := s.Env.Theme
	var out []string
	for _, l := range lines {
		for _, x := range theme.Wrap(t.Plain(theme.Safe(l)), max(20, min(s.W, 110)-16)) {
			out = append(out, "   "+t.Text.Dim.Text(t.Pad(word, 11))+" "+x)
			word = ""
		}
	}
	return out
}

// months draws each quantity month by month, with what it came to in all.
func (s *page) months(f *figures.Figures) []string {
	t := s.Env.Theme
	all := f.Sum()
	var axis strings.Builder
	for _, m := range f.Months {
		axis.WriteString(m.Month[len("2026-"):] + " ")
	}
	line := func(label, drawn, total string) string {
		return "   " + t.Text.Dim.Text(t.Pad(label, 18)) + " " + t.Pad(drawn, 3*figured.Months) + " " +
			t.PadLeft(t.Plain(total), 14)
	}
	out := []string{line("", t.Text.Dim.Text(strings.TrimRight(axis.String(), " ")), "in all")}
	for _, q := range []struct {
		label, total string
		of           func(m figures.Month) *float64
	}{
		{"printed, h", figured.Hours(all.Hours), func(m figures.Month) *float64 { return m.Hours }},
		{"hands, min", figured.Minutes(all.Hands), func(m figures.Month) *float64 { return &m.Hands }},
		{"waited, min", figured.Minutes(all.Waited), func(m figures.Month) *float64 { return &m.Waited }},
		{"parts renewed", strconv.Itoa(all.Renewed), func(m figures.Month) *float64 { return count(m.Renewed) }},
		{"cost", model.Money(all.Cost, theme.Safe(s.Env.Currency)),
			func(m figures.Month) *float64 { return m.Cost }},
		{"failed prints", strconv.Itoa(all.Failed), func(m figures.Month) *float64 { return count(m.Failed) }},
	} {
		if q.label == "cost" && all.Cost == nil {
			continue
		}
		out = append(out, line(q.label, s.drawn(f, q.of), q.total))
	}
	return out
}

func count(n int) *float64 {
	v := float64(n)
	return &v
}

// drawn draws a quantity month by month; a month before anything was on record stays empty.
func (s *page) drawn(f *figures.Figures, of func(figures.Month) *float64) string {
	before := len(f.Months) - len(f.Lived())
	var values []float64
	for i, m := range f.Months {
		v := of(m)
		if i < before || v == nil {
			values = append(values, -1)
		} else {
			values = append(values, *v)
		}
	}
	return s.Env.Theme.Columns(values)
}

// failed says why prints failed, how often, and whether care makes them fewer.
func (s *page) failed(f *figures.Figures) []string {
	if len(f.Failed) == 0 {
		return s.labelled("failed", "no print on record; 9 on the machine's page logs one")
	}
	out := s.labelled("failed", f.FailedWords(s.Env.Names().Symptom)...)
	if len(f.Pays) == 0 {
		return out
	}
	t := s.Env.Theme
	out = append(out, "", "   "+t.Text.Strong.Text("does care pay?")+"  failed in 100 h, up to "+
		strconv.Itoa(figures.Window)+" h before it and after", "")
	told, tooFew := figures.Told(f.Pays)
	out = append(out, s.pays(told)...)
	for _, text := range []string{tooFew, figures.Caveat} {
		for _, l := range theme.Wrap(t.Plain(theme.Safe(text)), min(s.W-6, 96)) {
			out = append(out, "   "+l)
		}
	}
	return out
}

// Cells of a row before and after care.
const (
	paysName  = 9  // before, after
	paysCount = 20 // 24 in 1 222 h
	paysRate  = 17 // 0.82 (0.37–1.5)
)

// pays draws the rates before and after each care on one scale, a line each.
func (s *page) pays(rows []figures.Pays) []string {
	most := 0.0
	for _, p := range rows {
		for _, r := range []figures.Rate{p.Before, p.After} {
			if r.High != nil {
				most = max(most, *r.High)
			}
		}
	}
	t := s.Env.Theme
	w := max(10, min(50, s.W-3-paysName-paysCount-paysRate-8))
	var out []string
	for _, p := range rows {
		out = append(out, "   "+t.Plain(theme.Safe(p.Title))+", "+model.Times(p.Times)+"   "+
			t.Text.Strong.Text(string(p.Shown)))
		for _, x := range []struct {
			name string
			rate figures.Rate
		}{{"before", p.Before}, {"after", p.After}} {
			drawn := strings.Repeat(" ", w)
			if r := x.rate; r.High != nil && most > 0 {
				drawn = t.Span(w, *r.Low/most, *r.Per100/most, *r.High/most)
			}
			of := fmt.Sprintf("%d in %s", x.rate.Times, figured.Hours(&x.rate.Hours))
			out = append(out, "     "+t.Text.Dim.Text(t.Pad(x.name, paysName))+
				t.Pad(t.Plain(of), paysCount)+drawn+"  "+t.Plain(x.rate.Words()))
		}
		out = append(out, "")
	}
	return out
}
