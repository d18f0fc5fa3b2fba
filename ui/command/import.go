package command

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
)

func importCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "import FILE", Short: "take in meter readings from a table, or a book",
		Long: "Take in a book that oilcan book --format json wrote, all of it or nothing: what is on record\n" +
			"already is known by its id and left out. Or a CSV file of meter readings: its first line names the columns: at, machine and any\n" +
			"of " + strings.Join(model.Words(model.TypedMeters), ", ") +
			"; then one line a reading,\n" +
			"empty where a meter was not read. Every line that cannot be so is named, and then nothing is\n" +
			"taken in. What is on record already is left out, so a file can be taken in again.\n" +
			"FILE - is standard input.",
		Example: "  oilcan import readings.csv\n  oilcan import book.jsonl",
		Args:    between(1, 1, "a file"),
		RunE:    func(_ *cobra.Command, args []string) error { return importFile(a, args[0]) },
	}
}

func importFile(a *app, path string) error {
	data, path, err := importSource(a, path)
	if err != nil {
		return err
	}
	if looksLikeJSON(data) {
		_, taken, err := takeRecord(a, data, path, nil)
		if err != nil {
			return err
		}
		return sayTaken(a, filepath.Base(path), path, taken)
	}
	if err := a.mustExist(); err != nil {
		return err
	}
	b, err := a.bench()
	if err != nil {
		return err
	}
	entries, err := fromJournal(a,
		store.Filter{Kinds: []model.EntryKind{model.KindReading, model.KindStrike}})
	if err != nil {
		return err
	}
	in, err := action.ReadCSV(b, data, a.now(), recorded(entries))
	if err != nil {
		return misuse("%s: %s", path, err)
	}
	if len(in.Bad) > 0 {
		for _, bad := range in.Bad {
			a.warn(fmt.Errorf("%s, %w", filepath.Base(path), bad))
		}
		return misuse(
			"%s of %s cannot be so: nothing was taken in, mend the file and import it again",
			model.Counted(len(in.Bad), "line"), filepath.Base(path))
	}
	return importAll(a, in, path)
}

func importAll(a *app, in action.Imported, path string) error {
	var entries []model.Entry
	if len(in.Actions) > 0 {
		var err error
		if entries, err = appendAll(a, in.Actions); err != nil {
			return err
		}
	}
	known := ""
	if in.Known > 0 {
		known = fmt.Sprintf("; %s on record already", model.Counted(in.Known, "line"))
	}
	return answer(a, map[string]any{"file": path, "lines": in.Lines, "known": in.Known,
		"readings": len(entries)}, "%s: %s from %s taken in%s", filepath.Base(path),
		model.Counted(len(entries), "reading"), model.Counted(in.Lines, "line"), known)
}

// recorded tells which readings are on record and not struck.
func recorded(entries []model.Entry) func(string, time.Time, model.Reading) bool {
	type key struct {
		machine string
		minute  int64
		meter   model.Meter
		value   float64
	}
	struck, have := model.Struck(entries), map[key]bool{}
	for _, e := range entries {
		if e.Reading != nil && !struck[e.Action] {
			have[key{e.Machine, e.At.Unix() / 60, e.Reading.Meter, e.Reading.Value}] = true
		}
	}
	return func(machine string, at time.Time, r model.Reading) bool {
		return have[key{machine, at.Unix() / 60, r.Meter, r.Value}]
	}
}

// looksLikeJSON tells a book from a table.
func looksLikeJSON(data []byte) bool {
	return bytes.HasPrefix(bytes.TrimSpace(bytes.TrimPrefix(data, []byte("\ufeff"))), []byte("{"))
}
