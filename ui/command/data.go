package command

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"bench/oilcan/store"
	"bench/oilcan/ui/book"
)

// mustExist refuses to look into a data file that was never made.
func (a *app) mustExist() error {
	path, err := a.path()
	if err != nil {
		return err
	}
	if !a.exists() {
		return &coded{Unusable, fmt.Errorf("there is no data file %s yet: check --file and OILCAN_FILE, or add a machine first", path)}
	}
	return nil
}

func (a *app) backupCommand() *cobra.Command {
	return &cobra.Command{
		Use: "backup FILE", Short: "write a checked copy of the data file",
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
			if err := st.Backup(args[0]); err != nil {
				return unusable(err)
			}
			if a.flags.json {
				return a.writeJSON(map[string]string{"file": args[0]})
			}
			a.say("saved and checked: %s", args[0])
			return nil
		},
	}
}

func (a *app) restoreCommand() *cobra.Command {
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
			aside, err := store.Restore(path, args[0])
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

// checkReport is what check found, as programs read it.
type checkReport struct {
	File     string   `json:"file"`
	Entries  int      `json:"entries"`
	Machines int      `json:"machines"`
	Sessions int      `json:"sessions"`
	Texts    int      `json:"texts"`
	Problems []string `json:"problems"`
}

func (a *app) checkCommand() *cobra.Command {
	return &cobra.Command{
		Use: "check", Short: "read the whole data file and fold it again",
		Long:    "Read the whole data file, every record against its checksum, fold the journal again and\ncompare. Exit 3 if anything is wrong.",
		Example: "  oilcan check\n  oilcan check --file bench-2026-11-25.oilcan",
		Args:    between(0, 0, "no name"),
		RunE:    func(*cobra.Command, []string) error { return a.check() },
	}
}

func (a *app) check() error {
	if err := a.mustExist(); err != nil {
		return err
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	r, err := st.Check()
	if err != nil {
		return unusable(err)
	}
	if a.flags.json {
		out := checkReport{st.Path(), r.Entries, r.Machines, r.Sessions, r.Texts, r.Problems}
		if out.Problems == nil {
			out.Problems = []string{}
		}
		if err := a.writeJSON(out); err != nil {
			return err
		}
	} else {
		a.say("%s: %s, %s, %s begun", st.Path(), entriesText(r.Entries), book.Count(r.Machines, "machine"), book.Count(r.Sessions, "session"))
		for _, p := range r.Problems {
			a.say("  %s", p)
		}
	}
	if !r.OK() {
		return &coded{Unusable, fmt.Errorf("the data file has %s: put a good backup in place with oilcan restore", book.Count(len(r.Problems), "mistake"))}
	}
	if !a.flags.json {
		a.say("nothing is wrong")
	}
	if w := store.PlaceWarning(st.Path()); w != "" {
		a.warn(errors.New(w))
	}
	return nil
}

func entriesText(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}
