package command

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/model/plan"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/sheet"
)

func planCommand(a *app) *cobra.Command {
	var c session.Choice
	var sheetFormat string
	cmd := &cobra.Command{
		Use: "plan MACHINE", Short: "a care session in its order, before you begin",
		Long: "The session a machine needs, in the shortest order that keeps to every rule: what is due\n" +
			"or unknown, with what belongs to it; what to lay out; what the drawer lacks.",
		Example:           "  oilcan plan Heron\n  oilcan plan Heron --minutes 40\n  oilcan plan Heron --sheet > heron.html\n  oilcan plan Heron --only blade-check,rods-wipe --json",
		Args:              between(1, 1, "one machine"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if sheetFormat == "" {
				return showPlan(a, args[0], c)
			}
			if err := checkFormat(a, "a sheet", &sheetFormat, sheetFormats); err != nil {
				return err
			}
			return showSheet(a, args[0], c, sheetFormat)
		},
	}
	choiceFlags(a, cmd, &c)
	cmd.Flags().StringVar(&sheetFormat, "sheet", "",
		"as a sheet to print and tick, `how`: "+either(sheetFormats))
	cmd.Flags().Lookup("sheet").NoOptDefVal = sheetFormats[0]
	completeFlag(cmd, "sheet", words(sheetFormats...))
	return cmd
}

// planned is the machine a session is chosen for, and the desk that plans it; the choice is checked
// first.
func planned(a *app, word string, c *session.Choice) (*model.Machine, session.Desk, error) {
	if err := checkChoice(a, c); err != nil {
		return nil, session.Desk{}, err
	}
	m, err := machineInUse(a, word)
	if err != nil {
		return nil, session.Desk{}, err
	}
	d, err := deskOf(a)
	return m, d, err
}

// showSheet writes the session as a blank sheet.
func showSheet(a *app, word string, c session.Choice, format string) error {
	m, d, err := planned(a, word, &c)
	if err != nil {
		return err
	}
	chosen, err := d.Choose(m, c, a.now())
	if err != nil {
		return err
	}
	return writeSheet(a, sheet.Session(m, chosen.Plan, d.Lib, a.now()), format)
}

func showPlan(a *app, word string, c session.Choice) error {
	m, d, err := planned(a, word, &c)
	if err != nil {
		return err
	}
	chosen, err := d.Choose(m, c, a.now())
	if errors.Is(err, session.ErrNothing) && !a.flags.json {
		a.say("%s", err)
		return nil
	}
	if errors.Is(err, session.ErrNothing) {
		chosen.Plan, _, err = plan.Assemble(d.Lib.Get, model.NewFeatureSet(m.Features...),
			m.Settings, nil, plan.Request{SetUps: d.Lib.SetUps()})
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
	pg := planPage{app: a, m: m, c: chosen, drawer: b.Drawer, know: c.WhatIsDue()}
	pg.write()
	return nil
}

// planPage writes a plan for a person.
type planPage struct {
	*app
	m      *model.Machine
	c      session.Chosen
	drawer model.Drawer
	know   bool // nothing was asked for but what is due
}

func (p planPage) write() {
	pl := p.c.Plan
	title := "what is due, and what goes with it"
	if len(pl.Sequence) == 0 {
		title = "nothing fits into that time"
	}
	p.say("%s   %s   hands %s min + wait %s", p.th.Text.Strong.On(p.m.Name), title,
		model.Minutes(pl.HandsOn), model.Minutes(pl.Idle()))
	if p.m.Session != "" {
		p.say("a session is begun: oilcan walk %s --resume carries it on; this would be a new one",
			action.Typed(p.m.Name))
	}
	stopped := session.StoppedText(p.m)
	if stopped != "" {
		p.say("%s", stopped)
	}
	if n := session.UntilKnown(life.Gauges(p.m, p.library().Heads(), p.now())); p.know && n > 0 &&
		stopped == "" {
		p.say("%s", session.KnowText(n))
	}
	for _, text := range []string{session.LeaveText(pl.Leave), p.c.FollowsText()} {
		if text != "" {
			p.say("%s", text)
		}
	}
	p.chosen()
	if len(pl.Sequence) == 0 {
		return
	}
	p.order()
	p.layOut()
	p.missing()
	p.say("")
	for _, l := range pl.Left {
		p.say("%s", l.Why)
	}
	if text := session.FitText(pl); text != "" {
		p.say("%s", text)
	}
	p.say("%s", session.Proof(pl))
}

// chosen lists what is due, as the gauges say.
func (p planPage) chosen() {
	gauges := map[string]model.Gauge{}
	for _, g := range life.Gauges(p.m, p.procs(), p.now()) {
		gauges[g.Item] = g
	}
	p.say("")
	t := table{indent: "  "}
	for _, id := range p.c.IDs {
		g, ok := gauges[id]
		if !ok {
			t.add(p.title(plan.Item{ID: id}), "", "asked for")
			continue
		}
		t.add(p.title(plan.Item{ID: id}), p.th.OfState(g.Word).On(string(g.Word)), g.UsedText(),
			g.WhenLong(p.now()), g.LastingText(), lacking(&g))
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
			waiting = "+ " + model.Minutes(it.Waiting)
		}
		t.add(fmt.Sprint(i+1), it.ID, model.Minutes(it.HandsOn), waiting, p.title(it), it.Why)
	}
	t.write(p.app)
}

// title is what an item of the plan is called.
func (p planPage) title(it plan.Item) string {
	if q := p.library().Get(it.ID); q != nil {
		return q.Title
	}
	return it.ID
}

func (p planPage) layOut() {
	pl := p.c.Plan
	p.say("")
	p.say("lay out")
	for _, l := range pl.Tools {
		p.say("  %s", session.ToolText(l))
	}
	for _, l := range pl.Supplies {
		p.say("  %s", session.SupplyText(l))
	}
	if gear := session.Gear(p.library(), pl); len(gear) > 0 {
		p.say("  wear: %s", strings.Join(gear, ", "))
	}
}

// missing says what the drawer lacks for the plan, or does not know.
func (p planPage) missing() {
	lacks, uncounted := session.Missing(p.c.Plan, p.drawer)
	if len(lacks)+len(uncounted) == 0 {
		return
	}
	p.say("")
	p.say("missing")
	for _, l := range lacks {
		p.say("  %s", l)
	}
	if len(uncounted) > 0 {
		p.say("  not counted: %s", strings.Join(uncounted, ", "))
	}
}
