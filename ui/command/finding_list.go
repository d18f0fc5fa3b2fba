package command

import (
	"github.com/spf13/cobra"

	"bench/oilcan/model"
)

func findingListCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "list [MACHINE]", Short: "the findings that stand",
		Example:           "  oilcan finding list\n  oilcan finding list Heron --json",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			ms, err := chosenMachines(a, args)
			if err != nil {
				return err
			}
			return listFindings(a, ms)
		},
	}
}

// findingRow is a finding as programs read it.
type findingRow struct {
	Machine string `json:"machine"`
	model.Finding
}

func listFindings(a *app, ms []*model.Machine) error {
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
