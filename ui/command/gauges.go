package command

import "github.com/spf13/cobra"

func gaugesCommand(a *app) *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use: "gauges [MACHINE]", Short: "how much of every interval is used up",
		Long: "The gauges of what a machine is kept by, and of what a finding or other care calls for;\n" +
			"--all adds whatever else fits it. A part nobody knows the last time of is at most as old\n" +
			"as its machine.",
		Example:           "  oilcan gauges\n  oilcan gauges Heron --all --json",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			ms, err := chosenMachines(a, args)
			if err != nil {
				return err
			}
			if all {
				ms = keptByAll(ms)
			}
			return printGauges(a, ms)
		},
	}
	c.Flags().BoolVar(&all, "all", false, "all that fits, not only what the machine is kept by")
	return c
}
