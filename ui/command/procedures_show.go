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
		ValidArgsFunction: completeAll(a),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := action.FindProcedure(append(a.procs(), a.library().SetUps()...), args[0])
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
			for _, l := range strings.Split(strings.TrimRight(procedures.Page(p), "\n"), "\n") {
				a.say("%s", l)
			}
			if p.ID == session.DryFilament {
				sayMaterials(a)
			}
			return nil
		},
	}
}

// completeAll completes procedures and set-up actions.
func completeAll(a *app) completion {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, noFiles
		}
		out := procedureIDs(a)
		for _, p := range a.library().SetUps() {
			out = append(out, p.ID+"\t"+theme.Safe(p.Title))
		}
		return out, noFiles
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
