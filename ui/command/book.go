package command

import (
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/theme"
)

func bookCommand(a *app) *cobra.Command {
	var format, since string
	var steps bool
	c := &cobra.Command{
		Use: "book [MACHINE]", Short: "the record: what was done, when and by whom",
		Long: "The record, one line an entry, in the order things happened: when, the entry's id, who,\n" +
			"which machine, what. Struck entries stay and are marked. The single steps of sessions are\n" +
			"left out unless --steps asks for them. As csv it is a table for a spreadsheet, as markdown\n" +
			"a page with a heading a day, as json every entry, one JSON object a line\n" +
			"(ui/book/entry.schema.json says its shape).",
		Example: "  oilcan book\n  oilcan book Heron --since 30d\n" +
			"  oilcan book --format csv > book.csv\n  oilcan book --format json > book.jsonl",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: completeMachines(a),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := checkFormat(a, "the book", &format, bookFormats); err != nil {
				return err
			}
			return showBook(a, args, format, since, steps)
		},
	}
	formatFlag(c, &format, bookFormats)
	c.Flags().StringVar(&since, "since", "", "from this `day` on: 30d, 2026-11-01")
	c.Flags().BoolVar(&steps, "steps", false, "the steps of sessions too")
	return c
}

var bookFormats = []string{"text", "csv", "markdown", "json"}

func showBook(a *app, args []string, format, since string, steps bool) error {
	var from time.Time
	if since != "" {
		t, err := action.Time(since, a.now())
		if err != nil {
			return err
		}
		y, m, d := t.Date()
		from = time.Date(y, m, d, 0, 0, 0, 0, t.Location())
	}
	var machine string
	if len(args) > 0 {
		m, err := findMachine(a, args[0])
		if err != nil {
			return err
		}
		machine = m.ID
	}
	if !a.exists() && format == "text" {
		a.say("nothing is on record yet")
		return nil
	} else if !a.exists() {
		return writeBook(a, nil, model.NewBench(), format)
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	if format == "json" {
		return bookJSON(a, st, store.Filter{Machine: machine, From: from})
	}
	b, err := st.Bench()
	if err != nil {
		return unusable(err)
	}
	entries, err := st.Entries(store.Filter{Machine: machine, NoSteps: !steps})
	if err != nil {
		return unusable(err)
	}
	lines := slices.DeleteFunc(book.Lines(entries, names(a), a.now()), func(l book.Line) bool {
		return l.Entry.At.Before(from)
	})
	return writeBook(a, lines, b, format)
}

// writeBook writes lines in a format that is not JSON.
func writeBook(a *app, lines []book.Line, b *model.Bench, format string) error {
	name := func(e model.Entry) string { return nameOf(b, e) }
	switch format {
	case "csv":
		text, err := book.CSV(lines, name, a.now())
		if err != nil {
			return err
		}
		return a.out.Rows(text)
	case "markdown":
		a.say("%s", theme.Painted(strings.TrimSpace(book.Markdown(lines, name, a.now()))))
	case "text":
		bookText(a, lines, name)
	}
	return nil
}

// bookPart is how many entries are held at a time while the whole book is written.
const bookPart = 2000

// bookJSON writes one object a line, in the journal's order; the whole journal in parts, so that
// neither it nor the lock on the file is held while a reader takes its time.
func bookJSON(a *app, st *store.Store, f store.Filter) error {
	w, err := newRecordWriter(a.out, st)
	if err != nil {
		return err
	}
	if f.Machine == "" && f.From.IsZero() {
		f.Most = bookPart
	}
	for {
		entries, err := st.Entries(f)
		if err != nil {
			return unusable(err)
		}
		for _, e := range entries {
			if err := w.entry(e); err != nil {
				return err
			}
		}
		if f.Most == 0 || len(entries) < f.Most {
			return nil
		}
		f.After = entries[len(entries)-1].Seq
	}
}

func bookText(a *app, lines []book.Line, name func(model.Entry) string) {
	if len(lines) == 0 {
		a.say("nothing is on record")
		return
	}
	var t table
	for _, l := range lines {
		e, text := l.Entry, l.Text
		if l.Struck {
			text = "(struck) " + text
		}
		t.add(model.Stamp(e.At, a.now()), short(e.ID), e.By, name(e), text)
	}
	t.write(a)
}
