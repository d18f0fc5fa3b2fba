package command

import (
	"cmp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// bookAsked is which entries of the book are asked for, and how they are written.
type bookAsked struct {
	format, since, until, kind, part, find, session string
	steps                                           bool
}

func bookCommand(a *app) *cobra.Command {
	var q bookAsked
	c := &cobra.Command{
		Use: "book [MACHINE]", Short: "the record: what was done, when and by whom",
		Long: "The record, one line an entry, in the order things happened: when, the entry's id, who,\n" +
			"which machine, what. Struck entries stay, with the reason. What is asked for must all hold:\n" +
			"days, a kind (" + strings.Join(book.KindWords(), ", ") + "),\n" +
			"a part, who (--by), words. The single steps of sessions are left out unless --steps asks\n" +
			"for them; --session shows a session on a page, by the id of any entry of it. As csv it is a\n" +
			"table for a spreadsheet, as markdown a page with a heading a day, as json every entry, one\n" +
			"JSON object a line (ui/book/entry.schema.json says its shape).",
		Example: "  oilcan book\n  oilcan book Heron --since 30d --kind swap\n" +
			"  oilcan book --session 7k3f9q\n" +
			"  oilcan book --format csv > book.csv\n  oilcan book --format json > book.jsonl",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: inTurn(a, machineNames),
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		if err := checkFormat(a, "the book", &q.format, bookFormats); err != nil {
			return err
		}
		if q.session != "" {
			return showSession(a, c, args, q)
		}
		f, err := q.filter(a, args)
		if err != nil {
			return err
		}
		return showBook(a, f, q)
	}
	formatFlag(c, &q.format, bookFormats)
	fs := c.Flags()
	fs.StringVar(&q.since, "since", "", "from this `day` on: 30d, 2026-11-01")
	fs.StringVar(&q.until, "until", "", "up to this `day`, which is in it")
	fs.StringVar(&q.kind, "kind", "", "of one `kind`: swap, care, finding")
	fs.StringVar(&q.part, "part", "", "about one `part`: renewed, in the drawer, cared for")
	fs.StringVar(&q.find, "find", "", "with these `words` in them")
	fs.StringVar(&q.session, "session", "", "the session that the entry with this `id` belongs to")
	fs.BoolVar(&q.steps, "steps", false, "the steps of sessions too")
	completeFlag(c, "kind", words(book.KindWords()...))
	completeFlag(c, "part", words(hyphened(model.SupplyNames)...))
	return c
}

var bookFormats = []string{"text", "csv", "markdown", "json"}

// filter reads what is asked for.
func (q bookAsked) filter(a *app, args []string) (f book.Filter, err error) {
	f = book.Filter{By: strings.TrimSpace(a.flags.by), Words: q.find}
	if q.since != "" {
		if f.From, _, err = action.Day(q.since, a.now()); err != nil {
			return f, err
		}
	}
	if q.until != "" {
		if _, f.To, err = action.Day(q.until, a.now()); err != nil {
			return f, err
		}
		if !f.To.After(f.From) {
			return f, misuse("--until is before --since: give a later day")
		}
	}
	if q.kind != "" {
		if f.Kind, err = action.Find("kind", q.kind, book.KindWords()); err != nil {
			return f, err
		}
	}
	if q.part != "" {
		if f.Part, err = action.Find("part", q.part, model.SupplyNames); err != nil {
			return f, err
		}
	}
	if len(args) > 0 {
		m, err := findMachine(a, args[0])
		if err != nil {
			return f, err
		}
		f.Machine = m.ID
	}
	return f, nil
}

// showBook writes what a filter wants of the book.
func showBook(a *app, f book.Filter, q bookAsked) error {
	if !a.exists() && q.format == "text" {
		a.say("nothing is on record yet")
		return nil
	} else if !a.exists() {
		return writeBook(a, nil, model.NewBench(), q.format)
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	if simple := (book.Filter{Machine: f.Machine, From: f.From, To: f.To}); q.format == "json" &&
		f == simple {
		return bookJSON(a, st, store.Filter{Machine: f.Machine, From: f.From, To: f.To})
	}
	b, err := st.Bench()
	if err != nil {
		return unusable(err)
	}
	entries, err := st.Entries(store.Filter{Machine: f.Machine, NoSteps: !q.steps && q.format != "json"})
	if err != nil {
		return unusable(err)
	}
	lines := book.Lines(entries, names(a), a.now())
	if f != (book.Filter{Machine: f.Machine}) {
		seek, wanted := book.NewSeeker(names(a), b, a.now()), f.Wanted()
		lines = slices.DeleteFunc(lines, func(l book.Line) bool { return !wanted(seek.Of(l)) })
	}
	if q.format == "json" {
		return linesJSON(a, st, lines)
	}
	return writeBook(a, lines, b, q.format)
}

// showSession writes the session that an entry belongs to: on a page, or its entries for programs.
func showSession(a *app, c *cobra.Command, args []string, q bookAsked) error {
	for _, other := range []string{"since", "until", "kind", "part", "find"} {
		if c.Flags().Changed(other) || len(args) > 0 {
			return misuse(
				"--session shows a session whole: leave out the machine and what narrows the book")
		}
	}
	if err := a.mustExist(); err != nil {
		return err
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	e, err := findEntry(st, q.session)
	if err != nil {
		return err
	}
	if e.Session == "" {
		return misuse(
			"entry %s belongs to no session: take the id of a line that says begun or closed",
			short(e.ID))
	}
	switch q.format {
	case "json":
		return bookJSON(a, st, store.Filter{Session: e.Session})
	case "csv":
		r, err := session.Record(st, e.Session, names(a), a.now())
		if err != nil {
			return unusable(err)
		}
		b, err := st.Bench()
		if err != nil {
			return unusable(err)
		}
		return writeBook(a, r.Lines, b, q.format)
	}
	d, err := recordedSheet(a, e.Session)
	if err != nil {
		return err
	}
	if q.format == "markdown" {
		return writeSheet(a, d, q.format)
	}
	a.say("%s", d.Title)
	for _, l := range d.Text(textWidth) {
		a.say("%s", l.Text)
	}
	return nil
}

// textWidth is how wide a page of text is written.
const textWidth = 78

// writeBook writes lines in a format that is not JSON.
func writeBook(a *app, lines []book.Line, b *model.Bench, format string) error {
	name := func(e model.Entry) string { return book.MachineName(b, e) }
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
	if f.Machine == "" && f.Session == "" && f.From.IsZero() && f.To.IsZero() {
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

// linesJSON writes the entries of lines, in the journal's order.
func linesJSON(a *app, st *store.Store, lines []book.Line) error {
	w, err := newRecordWriter(a.out, st)
	if err != nil {
		return err
	}
	slices.SortFunc(lines, func(x, y book.Line) int {
		return cmp.Compare(x.Entry.Seq, y.Entry.Seq)
	})
	for _, l := range lines {
		if err := w.entry(l.Entry); err != nil {
			return err
		}
	}
	return nil
}

func bookText(a *app, lines []book.Line, name func(model.Entry) string) {
	if len(lines) == 0 {
		a.say("no entry is so")
		return
	}
	var t table
	for _, l := range lines {
		e := l.Entry
		t.add(model.Stamp(e.At, a.now()), short(e.ID), e.By, name(e), l.Said())
	}
	t.write(a)
	a.say("")
	a.say("%s", book.NoCertificate)
}
