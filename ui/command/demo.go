package command

import "github.com/spf13/cobra"

func demoCommand(a *app) *cobra.Command {
	var print bool
	c := &cobra.Command{
		Use: "demo", Short: "an invented bench to look around in",
		Long: "Open an invented bench of six machines with some months of history, in a file that is\n" +
			"thrown away at the end. Without a terminal it prints its gauges. With --print the file\n" +
			"is made and kept, and its path printed, for --file.",
		Example: "  oilcan demo\n  oilcan gauges --file \"$(oilcan demo --print)\"",
		Args:    between(0, 0, "no name"),
		RunE:    func(*cobra.Command, []string) error { return showDemo(a, print) },
	}
	c.Flags().BoolVar(&print, "print", false, "make the file, print its path and leave it")
	return c
}
