package command

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

func (a *app) planCommand() *cobra.Command {
	var c sitting.Choice
	cmd := &cobra.Command{
		Use: "plan MACHINE", Short: "a care session in its order, before you begin",
		Long: "The session a machine needs, in the shortest order that keeps to every rule: what is due\n" +
			"or unknown, with what belongs to it; what to lay out; what the drawer lacks.",
		Example:           "  oilcan plan Heron\n  oilcan plan Heron --minutes 40\n  oilcan plan Heron --only blade-check,rods-wipe --json",
		Args:              between(1, 1, "one machine"),
		ValidArgsFunction: a.completeMachines,
		RunE:              func(_ *cobra.Command, args []string) error { return a.plan(args[0], c) },
	}
	a.choiceFlags(cmd, &c)
	return cmd
}

func (a *app) plan(word string, c sitting.Choice) error {
	if err := a.checkChoice(&c); err != nil {
		return err
	}
	m, err := a.inUse(word)
	if err != nil {
		return err
	}
	d, err := a.desk()
	if err != nil {
		return err
	}
	chosen, err := d.Choose(m, c, a.now())
	if errors.Is(err, sitting.ErrNothing) && !a.flags.json {
		a.say("%s", err)
		return nil
	}
	if errors.Is(err, sitting.ErrNothing) {
		chosen.Plan, _, err = plan.Assemble(d.Lib.Get, model.NewFeatureSet(m.Features...), m.Settings, nil, plan.Request{SetUps: d.Lib.SetUps()})
	}
	if err != nil {
		return err
	}
	chosen.Plan.Machine = m.Name
	if a.flags.json {
		return a.writeJSON(chosen.Plan)
	}
	b, err := a.bench()
	if err != nil {
		return err
	}
	pg := planPage{app: a, m: m, c: chosen, drawer: b.Drawer}
	pg.write()
	return nil
}

// planPage writes a plan for a person.
type planPage struct {
	*app
	m      *model.Machine
	c      sitting.Chosen
	drawer model.Drawer
}

func (p planPage) write() {
	pl := p.c.Plan
	title := "what is due, and what goes with it"
	if len(pl.Sequence) == 0 {
		title = "nothing fits into that time"
	}
	p.say("%s   %s   hands %s min + wait %s", p.th.Text.Strong.Text(theme.Safe(p.m.Name)), title, inMinutes(pl.HandsOn), inMinutes(pl.Waiting))
	if p.m.Session != "" {
		p.say("a session is begun: oilcan walk %s --resume carries it on; this would be a new one", typed(p.m.Name))
	}
	if sitting.Stopped(p.m) {
		p.say("stopped: %s; the plan ends without power", theme.Safe(p.m.Tag.Why))
	}
	p.chosen()
	if len(pl.Sequence) == 0 {
		return
	}
	p.order()
	p.layOut()
	p.missing()
	p.say("")
	p.say("%s · %s · %s", proven(pl), count(pl.SetUpActions, "set-up action"), count(pl.ToolPickups, "pick-up"))
}

// chosen lists what is due, as the gauges say.
func (p planPage) chosen() {
	gauges := map[string]model.Gauge{}
	for _, g := range model.Gauges(p.m, p.procs(), p.now()) {
		gauges[g.Item] = g
	}
	p.say("")
	t := table{indent: "  "}
	for _, id := range p.c.IDs {
		g, ok := gauges[id]
		if !ok {
			t.add(id, "", "asked for")
			continue
		}
		t.add(id, p.th.Word(g.Word), theme.Safe(g.UsedText()), g.WhenLong(p.now()))
	}
	t.write(p.app)
}

func (p planPage) order() {
	p.say("")
	p.say("in this order, minutes of hands and waiting")
	t := table{indent: "  ", right: []int{0, 2, 3}}
	for i, it := range p.c.Plan.Sequence {
		waiting := ""
		if it.Waiting > 0 {
			waiting = "+ " + inMinutes(it.Waiting)
		}
		t.add(fmt.Sprint(i+1), it.ID, inMinutes(it.HandsOn), waiting, p.title(it), theme.Safe(it.Why))
	}
	t.write(p.app)
}

// title is what an item of the plan is called.
func (p planPage) title(it plan.Item) string {
	if q := p.library().Get(it.ID); q != nil {
		return theme.Safe(q.Title)
	}
	return it.ID
}

func (p planPage) layOut() {
	pl := p.c.Plan
	p.say("")
	p.say("lay out")
	for _, l := range pl.Tools {
		var fits []string
		for _, f := range l.Fits {
			fits = append(fits, fitText(f))
		}
		line := l.Name
		if len(fits) > 0 {
			line += " (" + strings.Join(fits, "; ") + ")"
		}
		p.say("  %s", theme.Safe(line+maybe(l)))
	}
	for _, l := range pl.Supplies {
		p.say("  %s", theme.Safe(supplyText(l)+maybe(l)))
	}
	if gear := p.gear(); len(gear) > 0 {
		p.say("  wear: %s", theme.Safe(strings.Join(gear, ", ")))
	}
}

// gear is the protective gear of everything in the plan, each named once.
func (p planPage) gear() []string {
	var out []string
	for _, it := range p.c.Plan.Sequence {
		q := p.library().Get(it.ID)
		if q == nil {
			continue
		}
		for _, g := range q.Gear {
			if !slices.Contains(out, g) {
				out = append(out, g)
			}
		}
	}
	return out
}

func maybe(l plan.Lay) string {
	if l.Maybe {
		return ", perhaps"
	}
	return ""
}

func fitText(f model.Fit) string {
	text := f.Size + " " + f.Head
	if f.For != "" {
		text += ": " + f.For
	}
	return text
}

func supplyText(l plan.Lay) string {
	unit := ""
	if l.Unit != "" && l.Unit != "piece" {
		unit = " " + l.Unit
	}
	if unit == "" && l.Quantity == 1 {
		return l.Name
	}
	return l.Name + " " + model.Number(l.Quantity) + unit
}

// missing says what the drawer lacks for the plan, or does not know.
func (p planPage) missing() {
	var lines []string
	var unknown []string
	for _, l := range p.c.Plan.Supplies {
		s := p.drawer[l.Name]
		counted := s != nil && s.Count != nil
		pieces := l.Unit == "" || l.Unit == "piece"
		switch {
		case !counted:
			unknown = append(unknown, l.Name)
		case *s.Count == 0:
			lines = append(lines, l.Name+": none in the drawer"+maybe(l))
		case pieces && *s.Count < l.Quantity:
			lines = append(lines, fmt.Sprintf("%s: %s in the drawer, %s needed%s", l.Name, model.Number(*s.Count), model.Number(l.Quantity), maybe(l)))
		}
	}
	if len(lines)+len(unknown) == 0 {
		return
	}
	p.say("")
	p.say("missing")
	for _, l := range lines {
		p.say("  %s", theme.Safe(l))
	}
	if len(unknown) > 0 {
		p.say("  not counted: %s", theme.Safe(strings.Join(slices.Compact(unknown), ", ")))
	}
}

// proven says how good the order is.
func proven(pl *plan.Plan) string {
	if pl.Optimal {
		return "shortest order, proven"
	}
	return fmt.Sprintf("not proven shortest: at most %s of %s min of changing over could be saved", inMinutes(pl.Cost-pl.Bound), inMinutes(pl.Cost))
}

// inMinutes writes minutes to the quarter.
func inMinutes(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
}
