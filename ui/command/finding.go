package command

import (
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

func (a *app) findingCommand() *cobra.Command {
	return group("finding", "what was seen and must be looked at again",
		"  oilcan finding list\n  oilcan finding add Heron squeal at the left rod --again 7d",
		a.findingListCommand(), a.findingAddCommand(), a.findingCloseCommand())
}

func (a *app) findingListCommand() *cobra.Command {
	return &cobra.Command{
		Use: "list [MACHINE]", Short: "the findings that stand",
		Example:           "  oilcan finding list\n  oilcan finding list Heron --json",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: a.completeMachines,
		RunE: func(_ *cobra.Command, args []string) error {
			ms, err := a.chosenMachines(args)
			if err != nil {
				return err
			}
			return a.findings(ms)
		},
	}
}

// findingRow is a finding as programs read it.
type findingRow struct {
	Machine string `json:"machine"`
	model.Finding
}

func (a *app) findings(ms []*model.Machine) error {
	rows := []findingRow{}
	for _, m := range ms {
		for _, f := range m.Findings {
			rows = append(rows, findingRow{m.Name, f})
		}
	}
	if a.flags.json {
		return a.writeJSON(rows)
	}
	if len(rows) == 0 {
		a.say("no finding stands")
		return nil
	}
	var t table
	for _, r := range rows {
		again := ""
		if !r.Again.IsZero() {
			again = "look again " + model.Day(r.Again, a.now())
			if !r.Again.After(a.now()) {
				again = "look again now, since " + model.Day(r.Again, a.now())
			}
		}
		t.add(short(r.ID), r.Machine, model.Day(r.At, a.now()), string(r.Kind), r.Text, again)
	}
	t.write(a)
	return nil
}

func (a *app) findingAddCommand() *cobra.Command {
	var again, part, procedure string
	var stop bool
	c := &cobra.Command{
		Use: "add MACHINE TEXT…", Short: "note something seen",
		Example: "  oilcan finding add Heron squeal at the left rod --again 7d\n" +
			"  oilcan finding add Teal nozzle on order --part nozzle --again 2026-12-01\n" +
			"  oilcan finding add Teal brown plug at the bed --stop",
		Args:              between(2, -1, "a machine and what was seen"),
		ValidArgsFunction: a.completeMachines,
		RunE: func(_ *cobra.Command, args []string) error {
			if stop && again+part+procedure != "" {
				return misuse("--stop stands alone: leave out --again, --part and --procedure")
			}
			if stop {
				return a.findingStop(args[0], strings.Join(args[1:], " "))
			}
			return a.findingAdd(args[0], strings.Join(args[1:], " "), again, part, procedure)
		},
	}
	c.Flags().StringVar(&again, "again", "", "`when` to look again: tomorrow, 7d, 2026-12-01")
	c.Flags().StringVar(&part, "part", "", "the `part` it waits for")
	c.Flags().StringVar(&procedure, "procedure", "", "the `care` it belongs to")
	c.Flags().BoolVar(&stop, "stop", false, "do not use it: care and power are locked until this is closed by name")
	a.completeFlag(c, "part", words(hyphened(model.SupplyNames)...))
	a.completeFlag(c, "procedure", a.completeProcedures)
	return c
}

func (a *app) findingAdd(word, text, again, part, procedure string) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	f := &model.Found{Kind: model.FoundNote}
	if f.Text, err = action.Text("what was seen", text); err != nil {
		return err
	}
	if again != "" {
		if f.Again, err = action.Ahead(again, a.now()); err != nil {
			return err
		}
	}
	if part != "" {
		f.Kind = model.FoundPart
		if f.Part, err = action.Find("part", part, model.SupplyNames); err != nil {
			return err
		}
	}
	if procedure != "" {
		p, err := action.FindProcedure(a.procs(), procedure)
		if err != nil {
			return err
		}
		f.Procedure = p.ID
	}
	m, err := a.inUse(word)
	if err != nil {
		return err
	}
	entries, err := a.append(m, at, []model.Fact{{Kind: model.KindFinding, Finding: f}})
	if err != nil {
		return err
	}
	return a.saved(entries, "%s: finding %s noted", m.Name, short(entries[0].ID))
}

// findingStop stops a machine for what was seen.
func (a *app) findingStop(word, text string) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	if text, err = action.Text("what was seen", text); err != nil {
		return err
	}
	m, err := a.inUse(word)
	if err != nil {
		return err
	}
	entries, err := a.append(m, at, action.Stop(text))
	if err != nil {
		return err
	}
	if !a.flags.json {
		a.say("%s", action.StopNow)
	}
	return a.saved(entries, "%s is stopped: finding %s, closed by name when it is put right", m.Name, short(entries[0].ID))
}

func (a *app) findingCloseCommand() *cobra.Command {
	var why string
	c := &cobra.Command{
		Use: "close FINDING", Short: "a finding is settled; what it locked is free again",
		Long: "Close a finding, named by the id that finding list shows. Closing the finding of a stop\n" +
			"clears its tag, so that power may return: it is for the person who put it right.",
		Example: "  oilcan finding close 7k3f9q --why \"rod cleaned, squeal gone\"",
		Args:    between(1, 1, "one finding"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return a.findingIDs(), noFiles
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.findingClose(args[0], why) },
	}
	c.Flags().StringVar(&why, "why", "", "how it was settled, a `text`")
	return c
}

// findingIDs gives the short ids of what stands, with its text, for the shell.
func (a *app) findingIDs() []string {
	if !a.exists() {
		return nil
	}
	ms, _, err := a.machines(false)
	if err != nil {
		return nil
	}
	var out []string
	for _, m := range ms {
		for _, f := range m.Findings {
			out = append(out, short(f.ID)+"\t"+theme.Safe(m.Name+": "+f.Text))
		}
	}
	return out
}

func (a *app) findingClose(word, why string) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	if why, err = action.Text("how it was settled (--why)", why); err != nil {
		return err
	}
	m, f, err := a.findFinding(word)
	if err != nil {
		return err
	}
	if at.Before(f.At) {
		at = f.At
	}
	entries, err := a.append(m, at, action.Settling(m, f, why))
	if err != nil {
		return err
	}
	said := "finding closed: " + f.Text
	if len(entries) > 1 {
		said += "; its tag is cleared"
	}
	return a.saved(entries, "%s: %s", m.Name, said)
}

// findFinding finds a standing finding by its id or the end of it.
func (a *app) findFinding(word string) (*model.Machine, model.Finding, error) {
	ms, _, err := a.machines(true)
	if err != nil {
		return nil, model.Finding{}, err
	}
	var on *model.Machine
	var found []model.Finding
	for _, m := range ms {
		for _, f := range m.Findings {
			if endsWith(f.ID, word) {
				on, found = m, append(found, f)
			}
		}
	}
	switch len(found) {
	case 1:
		return on, found[0], nil
	case 0:
		return nil, model.Finding{}, misuse("no finding %q stands: oilcan finding list shows them", word)
	}
	return nil, model.Finding{}, misuse("%q may be %d findings: type more of the id", word, len(found))
}
