package command

import (
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

func proceduresShowCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "show PROCEDURE", Short: "one procedure, whole",
		Example:           "  oilcan procedures show belts-reset\n  oilcan procedures show unplug --json",
		Args:              between(1, 1, "one procedure"),
		ValidArgsFunction: inTurn(a, allIDs),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := action.FindProcedure(procsAndSetUps(a), args[0])
			if err != nil {
				return err
			}
			if a.flags.json {
				row, err := procedureJSON(p)
				if err != nil {
					return err
				}
				if p.ID == session.DryFilament {
					row["materials"] = procedures.Materials()
				}
				return a.writeJSON(row)
			}
			for l := range strings.SplitSeq(strings.TrimRight(procedures.Page(p), "\n"), "\n") {
				a.say("%s", l)
			}
			if p.ID == session.DryFilament {
				sayMaterials(a)
			}
			return nil
		},
	}
}

func sayMaterials(a *app) {
	a.say("")
	a.say("Materials")
	for _, l := range theme.Wrap(session.MaterialHead, 74) {
		a.say("  %s", l)
	}
	a.say("")
	for _, l := range session.MaterialLines(procedures.Materials(), 76) {
		a.say("%s", l)
	}
}
