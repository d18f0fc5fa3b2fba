package command

import (
	"fmt"
	"slices"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// Lengths of a steel rule in printed output, in cells, and the width from which a line has room for how
// sure a date is.
const (
	ruleWidth  = 20
	ruleNarrow = 9
	usedNarrow = 22
	roomy      = 108
)

// narrow tells that output goes to a terminal too narrow for the long lines.
func (a *app) narrow() bool {
	if a.terminal == nil {
		return false
	}
	w, _, err := term.GetSize(a.terminal.Fd())
	return err == nil && w > 0 && w < roomy
}

func (a *app) gaugesCommand() *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use: "gauges [MACHINE]", Short: "how much of every interval is used up",
		Long: "The gauges of what a machine is kept by, and of what a finding or other care calls for;\n" +
			"--all adds whatever else fits it. A part nobody knows the last time of is at most as old\n" +
			"as its machine.",
		Example:           "  oilcan gauges\n  oilcan gauges Heron --all --json",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: a.completeMachines,
		RunE: func(_ *cobra.Command, args []string) error {
			ms, err := a.chosenMachines(args)
			if err != nil {
				return err
			}
			if all {
				ms = keptByAll(ms)
			}
			return a.gauges(ms)
		},
	}
	c.Flags().BoolVar(&all, "all", false, "all that fits, not only what the machine is kept by")
	return c
}

// keptByAll is the machines as if each were kept by all that fits it.
func keptByAll(ms []*model.Machine) []*model.Machine {
	out := make([]*model.Machine, len(ms))
	for i, m := range ms {
		out[i] = m.KeptByAll()
	}
	return out
}

// chosenMachines gives the machine named, or all of them.
func (a *app) chosenMachines(args []string) ([]*model.Machine, error) {
	if a.flags.file != "" { // a path that was typed is meant to be there
		if err := a.mustExist(); err != nil {
			return nil, err
		}
	}
	if len(args) == 0 {
		ms, _, err := a.machines(false)
		return ms, err
	}
	m, err := a.machine(args[0])
	if err != nil {
		return nil, err
	}
	return []*model.Machine{m}, nil
}

func (a *app) gauges(ms []*model.Machine) error {
	now := a.now()
	if a.flags.json {
		rows := []model.Gauge{}
		for _, m := range ms {
			for _, g := range life.Gauges(m, a.heads(), now) {
				rows = append(rows, toTheSecond(g))
			}
		}
		return a.writeJSON(rows)
	}
	if len(ms) == 0 {
		a.say("no machine yet: oilcan machine add NAME --features …, or oilcan demo to look around first")
		return nil
	}
	for i, m := range ms {
		if i > 0 {
			a.say("")
		}
		a.gaugesOf(m, now)
	}
	return nil
}

// toTheSecond rounds the dates of a gauge: parts of a second would feign a certainty nobody has.
func toTheSecond(g model.Gauge) model.Gauge {
	for _, t := range []**time.Time{&g.DueLow, &g.DueMid, &g.DueHigh} {
		if *t != nil {
			r := (*t).Round(time.Second)
			*t = &r
		}
	}
	return g
}

// gaugesOf writes one machine's gauges, worst first.
func (a *app) gaugesOf(m *model.Machine, now time.Time) {
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
		a.say("  no care fits it: say what it has with oilcan machine edit %s --features", action.Typed(m.Name))
		return
	}
	t := table{indent: "  "}
	rule, used, when := ruleWidth, roomy, model.Gauge.WhenLong
	if a.narrow() {
		rule, used, when = ruleNarrow, usedNarrow, model.Gauge.WhenText
	}
	for _, g := range gs {
		t.add(g.Short, theme.Painted(a.th.Rule(rule, g)), g.UsedWithin(used), a.th.OfState(g.Word).On(string(g.Word)), when(g, now))
	}
	t.write(a)
}

func (a *app) dueCommand() *cobra.Command {
	var within string
	var check, all bool
	c := &cobra.Command{
		Use: "due [MACHINE]", Short: "what needs doing, the most pressing first",
		Long: "What is due or past, what nobody knows the last time of, and, with --within, what\n" +
			"reaches the low end of its band by then.",
		Example:           "  oilcan due\n  oilcan due --within 14d\n  oilcan due --check || echo something is due",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: a.completeMachines,
		RunE: func(_ *cobra.Command, args []string) error {
			var ahead time.Duration
			if within != "" {
				var err error
				if ahead, err = action.Span(within); err != nil {
					return err
				}
			}
			ms, err := a.chosenMachines(args)
			if err != nil {
				return err
			}
			if all {
				ms = keptByAll(ms)
			}
			return a.due(ms, ahead, check)
		},
	}
	c.Flags().StringVar(&within, "within", "", "look ahead this `time`: 14d, 36h, 2w")
	c.Flags().BoolVar(&all, "all", false, "of all that fits, not only of what the machine is kept by")
	c.Flags().BoolVar(&check, "check", false, "exit 1 if anything is due")
	return c
}

// dueRow is a gauge that needs doing, as programs read it.
type dueRow struct {
	model.Gauge
	Probability *float64  `json:"probability"` // that its low end is reached by then; null where not known
	By          time.Time `json:"by"`          // the day looked ahead to
}

func (a *app) due(ms []*model.Machine, within time.Duration, check bool) error {
	now := a.now()
	rows := []dueRow{}
	for _, m := range ms {
		if m.OutOfUse {
			continue
		}
		f := life.NewForecaster(m, now)
		for _, g := range model.Due(f.Gauges(a.heads()), within, now) {
			r := dueRow{Gauge: toTheSecond(g), By: now.Add(within).Truncate(time.Second)}
			if p, ok := f.PassBefore(&g, g.Low, now.Add(within)); ok {
				r.Probability = &p
			}
			if certain := 1.0; g.Word.Rank() <= model.WordDue.Rank() && !g.Estimated {
				r.Probability = &certain
			}
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(x, y dueRow) int { return model.CompareGauges(&x.Gauge, &y.Gauge) })
	if err := a.writeDue(rows, now); err != nil {
		return err
	}
	if check && len(rows) > 0 {
		return errNo
	}
	return nil
}

func (a *app) writeDue(rows []dueRow, now time.Time) error {
	if a.flags.json {
		return a.writeJSON(rows)
	}
	if len(rows) == 0 {
		a.say("nothing is due")
		return nil
	}
	var t table
	for _, r := range rows {
		sure := ""
		if p := r.Probability; p != nil && *p < 0.995 {
			sure = fmt.Sprintf("%.0f %% by %s", 100**p, model.Day(r.By, now))
		}
		t.add(r.Machine, r.Short, a.th.OfState(r.Word).On(string(r.Word)), r.UsedText(), r.WhenLong(now), sure)
	}
	t.write(a)
	return nil
}
