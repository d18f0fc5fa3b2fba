package command

import (
	"github.com/spf13/cobra"

	"bench/oilcan/store"
)

func restoreCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "restore FILE", Short: "put a backup in the place of the data file",
		Long:    "Put a backup in the place of the data file. It is checked first, and what lay there is\nkept beside it.",
		Example: "  oilcan restore /media/stick/bench-2026-11-25.oilcan",
		Args:    between(1, 1, "the backup to read"),
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := a.path()
			if err != nil {
				return err
			}
			seen, done := watch(a, "checking")
			aside, err := store.Restore(path, args[0], seen)
			done()
			if err != nil {
				return unusable(err)
			}
			if a.flags.json {
				return a.writeJSON(map[string]string{"file": path, "before": aside})
			}
			a.say("%s holds %s now", path, args[0])
			if aside != "" {
				a.say("what lay there before is kept as %s", aside)
			}
			return nil
		},
	}
}
