package command

import (
	"cmp"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/sheet"
)

func sheetCommand(a *app) *cobra.Command {
	var format, day string
	c := &cobra.Command{
		Use: "sheet [MACHINE]", Short: "a page to print: the bench, a machine, a session done",
		Long: "Without a machine the page for the wall: what is due on each in the next month. With one\n" +
			"that machine's page; with --session the last session held on it, or with\n" +
			"--session=DAY the last that ended by then. The blank sheet of a session to come is\n" +
			"oilcan plan MACHINE --sheet. Any browser prints the HTML, on A4 or Letter.",
		Example: "  oilcan sheet > wall.html\n  oilcan sheet Heron > heron.html\n" +
			"  oilcan sheet Heron --session > session.html\n  oilcan sheet Heron --format markdown",
		Args:              between(0, 1, "one machine, or none for the bench"),
		ValidArgsFunction: inTurn(a, machineNames),
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		if err := checkFormat(a, "a sheet", &format, sheetFormats); err != nil {
			return err
		}
		var d sheet.Doc
		var err error
		switch held := c.Flags().Changed("session"); {
		case len(args) == 0 && held:
			return misuse("--session is one of a machine: name the machine")
		case len(args) == 0:
			d, err = benchSheet(a)
		case held:
			d, err = sessionSheet(a, args[0], day)
		default:
			d, err = machineSheet(a, args[0])
		}
		if err != nil {
			return err
		}
		return writeSheet(a, d, format)
	}
	formatFlag(c, &format, sheetFormats)
	c.Flags().StringVar(&day, "session", "", "the last session held, or the last by a `day`")
	c.Flags().Lookup("session").NoOptDefVal = "now"
	return c
}

// sheetMonth is how far the page for the wall looks ahead.
const sheetMonth = 31 * 24 * time.Hour

func benchSheet(a *app) (sheet.Doc, error) {
	ms, _, err := benchMachines(a, false)
	title := cmp.Or(a.cfg.Bench, "The bench")
	return sheet.Bench(title, ms, a.heads(), sheetMonth, a.now()), err
}

// lastShown is how many entries a machine's page shows.
const lastShown = 40

func machineSheet(a *app, word string) (sheet.Doc, error) {
	m, err := findMachine(a, word)
	if err != nil {
		return sheet.Doc{}, err
	}
	entries, err := fromJournal(a, store.Filter{Machine: m.ID, NoSteps: true})
	if err != nil {
		return sheet.Doc{}, err
	}
	lines := slices.DeleteFunc(book.Lines(entries, names(a), a.now()), func(l book.Line) bool {
		return l.Entry.Stock != nil
	})
	slices.Reverse(lines)
	return sheet.Machine(m, a.heads(), lines[:min(len(lines), lastShown)], a.now()), nil
}

// sessionSheet is the sheet of the last session of a machine that ended by a day.
func sessionSheet(a *app, word, day string) (sheet.Doc, error) {
	m, err := findMachine(a, word)
	if err != nil {
		return sheet.Doc{}, err
	}
	by := a.now()
	if day != "now" {
		if _, by, err = action.Day(day, a.now()); err != nil {
			return sheet.Doc{}, err
		}
	}
	closed, err := fromJournal(a,
		store.Filter{Machine: m.ID, Kinds: []model.EntryKind{model.KindClosed}})
	if err != nil {
		return sheet.Doc{}, err
	}
	var id string
	var ended time.Time
	for _, e := range closed {
		if e.At.Before(by) && !e.At.Before(ended) {
			id, ended = e.Session, e.At
		}
	}
	if id == "" {
		return sheet.Doc{},
			misuse("no session on %s ended by then: oilcan book %s shows what is on record", m.Name,
				action.Typed(m.Name))
	}
	return recordedSheet(a, id)
}
