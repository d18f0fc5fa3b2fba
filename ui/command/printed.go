package command

import (
	"math"
	"time"

	"github.com/charmbracelet/x/term"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// Lengths of a steel rule in printed output, in cells, and the width from which a line has room for
// how sure a date is.
const (
	ruleWidth  = 20
	ruleNarrow = 9
	usedNarrow = 22
	roomy      = 108
)

// narrowTerminal tells that output goes to a terminal too narrow for the long lines.
func narrowTerminal(a *app) bool {
	if a.terminal == nil {
		return false
	}
	w, _, err := term.GetSize(a.terminal.Fd())
	return err == nil && w > 0 && w < roomy
}

// printBench prints the gauges of every machine.
func printBench(a *app) error {
	ms, _, err := benchMachines(a, false)
	if err != nil {
		return err
	}
	return printGauges(a, ms)
}

// gaugeRow is a gauge as programs read it, and the band that the machine's own looks suggest; null
// where that is nothing new.
type gaugeRow struct {
	model.Gauge
	Learned *life.Learned `json:"learned"`
}

func printGauges(a *app, ms []*model.Machine) error {
	now := a.now()
	if a.flags.json {
		rows := []gaugeRow{}
		for _, m := range ms {
			learned := map[string]*life.Learned{}
			for _, l := range life.LearnOn(m, a.heads(), now) {
				learned[l.Item] = &l
			}
			for _, g := range life.Gauges(m, a.heads(), now) {
				rows = append(rows, gaugeRow{rounded(g), learned[g.Item]})
			}
		}
		return a.writeJSON(rows)
	}
	if len(ms) == 0 {
		a.say(noMachine)
		return nil
	}
	for i, m := range ms {
		if i > 0 {
			a.say("")
		}
		printGaugesOf(a, m, now)
	}
	return nil
}

// printGaugesOf writes one machine's gauges, worst first.
func printGaugesOf(a *app, m *model.Machine, now time.Time) {
	head := a.th.Text.Strong.On(m.Name)
	switch {
	case m.Retired:
		head += "   retired"
	case m.OutOfUse:
		head += "   out of use since " + theme.Painted(model.Day(m.Since, now))
	}
	a.say("%s", head)
	gs := life.Gauges(m, a.heads(), now)
	if len(gs) == 0 {
		a.say("  no care fits it: say what it has with oilcan machine edit %s --features",
			action.Typed(m.Name))
		return
	}
	t := table{indent: "  "}
	rule, used, when := ruleWidth, roomy, model.Gauge.WhenLong
	if narrowTerminal(a) {
		rule, used, when = ruleNarrow, usedNarrow, model.Gauge.WhenText
	}
	for _, g := range gs {
		t.add(g.Short, theme.Painted(a.th.Rule(rule, g)), g.UsedWithin(used),
			a.th.OfState(g.Word).On(string(g.Word)), when(g, now), lacking(&g))
	}
	t.write(a)
	for _, l := range life.LearnOn(m, a.heads(), now) {
		a.say("  %s: %s; to take it:", l.Item, l.Words())
		a.say("    oilcan machine edit %s --band %s=%s-%s", action.Typed(m.Name), l.Item,
			model.Digits(l.Take.Low), model.Digits(l.Take.High))
	}
}

// keptByAll is the machines as if each were kept by all that fits it.
func keptByAll(ms []*model.Machine) []*model.Machine {
	out := make([]*model.Machine, len(ms))
	for i, m := range ms {
		out[i] = m.KeptByAll()
	}
	return out
}

// rounded rounds the dates of a gauge to seconds and its chances to a hundredth of a percent: more
// would feign a certainty nobody has.
func rounded(g model.Gauge) model.Gauge {
	for _, t := range []**time.Time{&g.DueLow, &g.DueMid, &g.DueHigh} {
		if *t != nil {
			r := (*t).Round(time.Second)
			*t = &r
		}
	}
	if g.Forecast != nil {
		f := *g.Forecast
		for _, t := range []*time.Time{&f.Early, &f.Mid, &f.Late, &f.Next} {
			*t = t.Round(time.Second)
		}
		f.Due, f.Fails = math.Round(f.Due*1e4)/1e4, math.Round(f.Fails*1e4)/1e4
		g.Forecast = &f
	}
	return g
}

// lacking says what a number that is measured leaves out.
func lacking(g *model.Gauge) string {
	if g.Measured && g.Why.Kind == model.WithoutStarts {
		return g.Why.String()
	}
	return ""
}
