package command

import (
	"github.com/spf13/cobra"

	"bench/oilcan/ui/book"
)

func machineRetireCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "retire MACHINE", Short: "take a machine off the bench; its record stays",
		Example:           "  oilcan machine retire Heron\n  oilcan machine edit Heron --in-use    (brings it back)",
		Args:              between(1, 1, "one machine"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			at, err := a.when()
			if err != nil {
				return err
			}
			m, err := findMachine(a, args[0])
			if err != nil {
				return err
			}
			fact := m.MachineFact
			fact.Retired = true
			return saveFact(a, m, at, fact, book.Changes(m.MachineFact, fact, a.now()))
		},
	}
}
