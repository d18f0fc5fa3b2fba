package command

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

func (a *app) proceduresCommand() *cobra.Command {
	return group("procedures", "the library of care, and your own files",
		"  oilcan procedures list\n  oilcan procedures show belts-reset",
		a.proceduresListCommand(), a.proceduresShowCommand(), a.proceduresCheckCommand(), a.proceduresNewCommand())
}

func (a *app) proceduresListCommand() *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "every procedure and set-up action, with the features it needs and its bands",
		Long: "Every procedure with its kind, minutes of hands and title; below, the features a machine must\n" +
			"have, and the bands that make it due: home, and production where that differs. What counts on some\n" +
			"machines only says so; oilcan procedures show tells on which, and where a figure comes from.",
		Example: "  oilcan procedures list\n  oilcan procedures list --json",
		Args:    between(0, 0, "no name"),
		RunE: func(*cobra.Command, []string) error {
			all := append(a.procs(), a.library().SetUps()...)
			if a.flags.json {
				rows := make([]any, 0, len(all))
				for _, p := range all {
					row, err := procedureJSON(p)
					if err != nil {
						return err
					}
					rows = append(rows, row)
				}
				return a.writeJSON(rows)
			}
			a.listProcedures(all)
			return nil
		},
	}
}

func (a *app) proceduresShowCommand() *cobra.Command {
	return &cobra.Command{
		Use: "show PROCEDURE", Short: "one procedure, whole",
		Example:           "  oilcan procedures show belts-reset\n  oilcan procedures show unplug --json",
		Args:              between(1, 1, "one procedure"),
		ValidArgsFunction: a.completeAll,
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
				if p.ID == sitting.DryFilament {
					row["materials"] = procedures.Materials()
				}
				return a.writeJSON(row)
			}
			for _, l := range strings.Split(strings.TrimRight(procedures.Page(p), "\n"), "\n") {
				a.say("%s", l)
			}
			if p.ID == sitting.DryFilament {
				a.sayMaterials()
			}
			return nil
		},
	}
}

// completeAll completes procedures and set-up actions.
func (a *app) completeAll(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, noFiles
	}
	out := a.procedureIDs()
	for _, p := range a.library().SetUps() {
		out = append(out, p.ID+"\t"+theme.Safe(p.Title))
	}
	return out, noFiles
}

func (a *app) proceduresCheckCommand() *cobra.Command {
	return &cobra.Command{
		Use: "check FILE…", Short: "find the mistakes in procedure files",
		Long: "Read procedure files by every rule and list their mistakes with file and line. Exit 1 if\n" +
			"there are any. Your own files lie in the folder procedures beside config.toml.",
		Example: "  oilcan procedures check my-nozzle-care.toml",
		Args:    between(1, -1, "at least one file"),
		RunE: func(_ *cobra.Command, args []string) error {
			a.checks = true
			return a.checkFiles(args)
		},
	}
}

// maxProcedureFile is far beyond any procedure, in bytes.
const maxProcedureFile = 1 << 20

// fileReport is what the checker says of one file, as programs read it.
type fileReport struct {
	File     string        `json:"file"`
	Problems []fileProblem `json:"problems"`
}

type fileProblem struct {
	Line int    `json:"line"`
	Text string `json:"text"`
}

func (a *app) checkFiles(paths []string) error {
	sources := make([]procedures.Source, len(paths))
	for i, path := range paths {
		data, err := readSome(path, maxProcedureFile)
		if err != nil {
			return err
		}
		sources[i] = procedures.Source{Name: filepath.Base(path), Data: data}
	}
	reports := make([]fileReport, len(paths))
	wrong := false
	for i, problems := range a.library().CheckFiles(sources) {
		reports[i] = fileReport{File: paths[i], Problems: []fileProblem{}}
		for _, p := range problems {
			reports[i].Problems = append(reports[i].Problems, fileProblem{p.Line, p.Text})
		}
		wrong = wrong || len(problems) > 0
	}
	if err := a.sayReports(reports); err != nil {
		return err
	}
	if wrong {
		return errNo
	}
	return nil
}

func (a *app) sayReports(reports []fileReport) error {
	if a.flags.json {
		return a.writeJSON(reports)
	}
	for _, r := range reports {
		if len(r.Problems) == 0 {
			a.say("%s: no mistakes", r.File)
		}
		for _, p := range r.Problems {
			a.say("%s", procedures.Problem{File: r.File, Line: p.Line, Text: p.Text}.String())
		}
	}
	return nil
}

// readSome reads a file up to a size in bytes.
func readSome(path string, limit int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, misuse("%s cannot be read: %v", path, reason(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit))
	if err != nil {
		return nil, misuse("%s cannot be read: %v", path, reason(err))
	}
	return data, nil
}

// reason is a file error without the path, which the sentence names already.
func reason(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
