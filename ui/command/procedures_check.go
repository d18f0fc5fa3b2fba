package command

import (
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"bench/oilcan/procedures"
)

func proceduresCheckCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "check FILE…", Short: "find the mistakes in procedure files",
		Long: "Read procedure files by every rule and list their mistakes with file and line. Exit 1 if\n" +
			"there are any. Your own files lie in the folder procedures beside config.toml.",
		Example: "  oilcan procedures check my-nozzle-care.toml",
		Args:    between(1, -1, "at least one file"),
		RunE: func(_ *cobra.Command, args []string) error {
			a.checks = true
			return checkProcedureFiles(a, args)
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

// fileProblem is one mistake.
type fileProblem struct {
	Line int    `json:"line"` // from 1
	Text string `json:"text"`
}

func checkProcedureFiles(a *app, paths []string) error {
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
	if err := sayReports(a, reports); err != nil {
		return err
	}
	if wrong {
		return errNo
	}
	return nil
}

func sayReports(a *app, reports []fileReport) error {
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

// readSome reads a file of at most a size in bytes.
func readSome(path string, limit int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, misuse("%s cannot be read: %v", path, reason(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	switch {
	case err != nil:
		return nil, misuse("%s cannot be read: %v", path, reason(err))
	case int64(len(data)) > limit:
		return nil,
			misuse("%s is larger than %d KiB, which no procedure is: give the path of a procedure's file", path, limit>>10)
	}
	return data, nil
}
