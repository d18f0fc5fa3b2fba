package machine

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// lines lays the page of a machine out from the top.
func (s *machine) lines() []string {
	m := s.m()
	if m == nil {
		return nil
	}
	var out []string
	for _, part := range [][]string{s.standing(m), s.learnedLines(), s.gaugeLines(m),
		s.meterLines(m), s.useLines(m), s.partLines(m), s.valueLines(m), s.aboutLines(m)} {
		if len(part) == 0 {
			continue
		}
		if len(out) > 0 {
			out = append(out, "")
		}
		out = append(out, part...)
	}
	for i, l := range out {
		out[i] = screen.Fit(s.Env.Theme, l, s.W)
	}
	return out
}

// labelled sets a word at the left and lines beside it.
func (s *machine) labelled(word string, lines ...string) []string {
	t := s.Env.Theme
	var out []string
	for _, l := range lines {
		for _, x := range theme.Wrap(t.Plain(l), max(20, s.W-16)) {
			out = append(out, "   "+t.Text.Dim.Text(t.Pad(word, 11))+" "+x)
			word = ""
		}
	}
	return out
}

// standing is what stands open on the machine.
func (s *machine) standing(m *model.Machine) []string {
	t := s.Env.Theme
	var out []string
	word := "open"
	for _, it := range book.StandingOn(s.Data.Bench, m, s.Now) {
		for _, l := range s.labelled(word, it.Text+", "+it.Label+s.day(it.At)) {
			if it.Due {
				l = l[:len(l)-len(strings.TrimLeft(l, " "))] +
					t.State.Due.Text(strings.TrimLeft(l, " "))
			}
			out = append(out, l)
		}
		word = ""
	}
	for _, p := range m.LetGo(s.Env.Library.Heads()) {
		l := s.labelled(word, "not kept by "+theme.Safe(p.Called())+
			", which guards a person: 2 keeps it")
		out, word = append(out, l...), ""
	}
	for _, x := range s.Data.Short[m.ID] {
		out = append(out, s.labelled(word, theme.Safe(x.Text))...)
		word = ""
	}
	return out
}

// gaugeLines draws every gauge: in full those there is room for, or all where asked, else one line
// each.
func (s *machine) gaugeLines(m *model.Machine) []string {
	t := s.Env.Theme
	gs := s.Data.Gauges[m.ID]
	if len(gs) == 0 {
		if m.Retired || m.OutOfUse {
			return nil
		}
		return []string{"   Nothing counts on this machine yet: say what it has (e) and what its counters show (m)."}
	}
	large := len(gs)
	if !s.large {
		large = largeGauges(s.H, gs)
	}
	w := min(s.W-6, 100)
	var out []string
	for i := range gs {
		g := &gs[i]
		if i >= large {
			out = append(out, screen.GaugeRow(t, g, s.W, s.Base))
			continue
		}
		for _, l := range t.Large(w, *g, s.Now) {
			out = append(out, "   "+l)
		}
		out = append(out, "")
	}
	return out
}

// largeGauges is how many gauges are drawn in full on a page of h lines: the most pressing ones, on
// up to half of the page; none that is fresh.
func largeGauges(h int, gs []model.Gauge) int {
	const lines = 7 // of one gauge in full, and a line of air
	n := 0
	for n < len(gs) && n < h/2/lines && gs[n].Measured && gs[n].Word != model.WordFresh {
		n++
	}
	return n
}

func (s *machine) meterLines(m *model.Machine) []string {
	var out []string
	for _, k := range model.TypedMeters {
		if x := m.Readings[k]; x != nil && x.N > 0 {
			text := model.Number(x.Last.Value-x.Offset) + " " + k.Unit() + ", read " +
				s.day(x.Last.At)
			if x.Offset != 0 {
				text += "; " + model.Number(x.Last.Value) + " in all, over a replaced counter"
			}
			out = append(out, text)
		}
	}
	if len(out) == 0 {
		out = []string{"none read yet; m types what they show"}
	}
	return s.labelled("counters", out...)
}

func (s *machine) day(at time.Time) string { return model.Day(at, s.Now) }

// partLines say since when the parts are in, and how long those before them lasted.
func (s *machine) partLines(m *model.Machine) []string {
	var out []string
	for _, name := range screen.Sorted(m.Parts) {
		p := m.Parts[name]
		if p.Since.IsZero() {
			continue
		}
		text := theme.Safe(name) + " in since " + s.day(p.Since)
		var lives []string
		for i := len(p.Lives) - 1; i >= 0 && len(lives) < 3; i-- {
			lives = append(lives, lifeText(p.Lives[i], s.lifeMeter(name)))
		}
		switch {
		case len(lives) == 1:
			text += "; the one before: " + lives[0]
		case len(lives) > 1:
			text += "; those before: " + strings.Join(lives, ", ")
		}
		if l := s.more.lives[name]; l != nil {
			text += ". " + l.Short()
		}
		out = append(out, text)
	}
	return s.labelled("parts", out...)
}

// lifeMeter is what a part's life is counted in.
func (s *machine) lifeMeter(part string) model.Meter {
	if l := s.more.lives[part]; l != nil {
		return l.Band.Meter
	}
	return model.Changes
}

// lifeText is how long a part lasted, by a meter or what else there is, and how it ended: "2 900
// changes worn".
func lifeText(l model.Life, meter model.Meter) string {
	end := theme.Safe(string(l.End))
	if l.End == model.EndUnknown {
		end = "end not known"
	}
	for _, k := range []model.Meter{meter, model.Changes, model.Hours} {
		if v, ok := l.UsedOf(k); ok && v > 0 && meter != model.Days {
			return model.Number(math.Round(v)) + " " + k.Unit() + " " + end
		}
	}
	if !l.From.IsZero() {
		return strconv.Itoa(int(l.To.Sub(l.From).Hours()/24)) + " days " + end
	}
	return end
}

// aboutLines are the last session, what the machine has, its settings and its own bands.
func (s *machine) aboutLines(m *model.Machine) []string {
	var out []string
	if lines := s.sessionLines(); len(lines) > 0 {
		out = append(out, s.labelled("sessions", lines...)...)
	} else if l := m.LastSession; l != nil {
		text := theme.Safe(l.Title) + ", " + s.day(l.At)
		if l.State != "" {
			text += ", " + theme.Safe(l.State)
		}
		out = append(out, s.labelled("last session", text)...)
	}
	has := action.Said(m.Features)
	if len(has) == 0 {
		has = []string{"nothing said yet: e"}
	}
	out = append(out, s.labelled("has", has...)...)
	var set []string
	names := action.Names{Procs: slices.Concat(s.Env.Library.All(), s.Env.Library.SetUps())}
	for _, k := range screen.Sorted(m.Settings) {
		if !model.Aside(k) {
			set = append(set, theme.Safe(names.Setting(k)+": "+m.Settings[k]))
		}
	}
	if len(set) > 0 {
		out = append(out, s.labelled("settings", set...)...)
	}
	for i, k := range screen.Sorted(m.Bands) {
		word := ""
		if i == 0 {
			word = "own bands"
		}
		out = append(out, s.labelled(word, theme.Safe(names.Procedure(k))+" "+
			bandText(m.Bands[k]))...)
	}
	out = append(out, s.labelled("kept by", s.keptBy(m))...)
	return append(out, s.labelled("added", s.day(m.Added))...)
}

// keptBy says what a machine is kept by; one from before there were lists is offered the one to
// start with.
func (s *machine) keptBy(m *model.Machine) string {
	all := strconv.Itoa(
		len(model.FullList(s.Env.Library.Heads(), model.NewFeatureSet(m.Features...))))
	if m.CareList == nil {
		return "all " + all + " that fit it; i offers a list to start with"
	}
	return strconv.Itoa(len(m.CareList)) + " of the " + all +
		" that fit it; 2 keeps more or lets go, and takes when each was last done"
}
