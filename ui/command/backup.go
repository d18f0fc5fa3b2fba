package command

import "github.com/spf13/cobra"

func backupCommand(a *app) *cobra.Command {
	var force bool
	c := &cobra.Command{
		Use: "backup FILE", Short: "write a checked copy of the data file",
		Long:    "Write a checked copy of the data file. What lies at FILE is left as it is, unless it is an\nolder backup and --force says to write over it.",
		Example: "  oilcan backup /media/stick/bench-2026-11-25.oilcan",
		Args:    between(1, 1, "the file to write"),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := a.mustExist(); err != nil {
				return err
			}
			st, err := a.store()
			if err != nil {
				return err
			}
			if err := st.Backup(args[0], force); err != nil {
				return unusable(err)
			}
			return answer(a, map[string]string{"file": args[0]}, "saved and checked: %s", args[0])
		},
	}
	c.Flags().BoolVar(&force, "force", false, "write over an older backup")
	return c
}
