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
	var rows []findingRow
	for _, m := range ms {
		for _, f := range m.Findings {
			rows = append(rows, findingRow{m.Name, f})
		}
	}
	return list(a, rows, "no finding stands", table{}, func(r findingRow) []any {
		again := ""
		if !r.Again.IsZero() {
			again = r.DayWord() + " " + model.Day(r.Again, a.now())
			if !r.Again.After(a.now()) {
				again = r.DayWord() + " now, since " + model.Day(r.Again, a.now())
			}
		}
		return []any{short(r.ID), r.Machine, model.Day(r.At, a.now()), r.Kind, r.Text, again}
	})
}
