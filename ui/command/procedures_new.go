package command

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/config"
)

func proceduresNewCommand(a *app) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use: "new ID", Short: "a commented file to begin a procedure of your own",
		Long: "Write a file that passes the checker as it is, with remarks on every part, into the folder of\n" +
			"your own procedures (beside config.toml), where it counts from the next start. Where ID is a\n" +
			"built-in procedure, its file is what you begin with, and yours replaces it. Nothing is ever\n" +
			"overwritten.",
		Example: "  oilcan procedures new hinge-oil\n  oilcan procedures new hinge-oil --out drafts",
		Args:    between(1, 1, "an id"),
		RunE: func(_ *cobra.Command, args []string) error {
			return newProcedure(a, args[0], out)
		},
	}
	c.Flags().StringVar(&out, "out", "",
		"write it to this `path`: a folder, or a file named ID.toml")
	return c
}

func newProcedure(a *app, id, out string) error {
	data, err := procedures.Start(id)
	if err != nil {
		return err
	}
	path, err := newProcedurePath(a, id, out)
	if err != nil {
		return err
	}
	if err := writeNew(path, data, "change that, or take another id"); err != nil {
		return err
	}
	return answer(a, map[string]string{"id": id, "file": path},
		"%s: change it, then oilcan procedures check %s", path, action.Typed(path))
}

// newProcedurePath is where a new procedure goes: into the folder named, or to the file named, else
// to the own ones.
func newProcedurePath(a *app, id, out string) (string, error) {
	name := id + ".toml"
	if out == "" {
		folder := config.Procedures(a.Env)
		if folder == "" {
			return "",
				misuse(
					"no home folder is known to keep your procedures in: say where with --out PATH")
		}
		if err := os.MkdirAll(folder, 0o700); err != nil {
			return "", misuse("the folder %s cannot be made (%w): say where with --out PATH",
				folder, reason(err))
		}
		return filepath.Join(folder, name), nil
	}
	if info, err := os.Stat(out); err == nil && info.IsDir() {
		return filepath.Join(out, name), nil
	}
	if filepath.Base(out) != name {
		return "",
			misuse("a procedure's file is named after its id: write --out %s, or name a folder that is there", filepath.Join(filepath.Dir(out), name))
	}
	return out, nil
}
