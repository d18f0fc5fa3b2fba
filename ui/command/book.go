package command

import (
	"slices"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
)

func bookCommand(a *app) *cobra.Command {
	var format, since string
	var steps bool
	c := &cobra.Command{
		Use: "book [MACHINE]", Short: "the record: what was done, when and by whom",
		Long: "The record, one line an entry, in the order things happened: when, who, which machine,\n" +
			"what, and the entry's id. Struck entries stay and are marked. The single steps of\n" +
			"sessions are left out unless --steps asks for them. As json it is every entry, one\n" +
			"JSON object a line.",
		Example:           "  oilcan book\n  oilcan book Heron --since 30d\n  oilcan book --format json > book.jsonl",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: completeMachines(a),
		RunE: func(_ *cobra.Command, args []string) error {
			return showBook(a, args, format, since, steps)
		},
	}
	c.Flags().StringVar(&format, "format", "text", "`how`: text or json")
	c.Flags().StringVar(&since, "since", "", "from this `day` on: 30d, 2026-11-01")
	c.Flags().BoolVar(&steps, "steps", false, "the steps of sessions too")
	completeFlag(c, "format", words("text", "json"))
	return c
}

func showBook(a *app, args []string, format, since string, steps bool) error {
	if a.flags.json {
		format = "json"
	}
	if format != "text" && format != "json" {
		return misuse("the book is written as text or json, not %q", format)
	}
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
	if !a.exists() {
		if format == "text" {
			a.say("nothing is on record yet")
		}
		return nil
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	struck, err := st.Struck()
	if err != nil {
		return unusable(err)
	}
	if format == "json" {
		return bookJSON(a, st, store.Filter{Machine: machine, From: from}, struck)
	}
	b, err := st.Bench()
	if err != nil {
		return unusable(err)
	}
	entries, err := st.Entries(store.Filter{Machine: machine, NoSteps: !steps})
	if err != nil {
		return unusable(err)
	}
	wanted := slices.DeleteFunc(slices.Clone(entries), func(e model.Entry) bool {
		return e.At.Before(from)
	})
	bookText(a, wanted, struck, spoken(a, entries), b)
	return nil
}

// bookEntry is an entry as programs read it.
type bookEntry struct {
	model.Entry
	Struck bool `json:"struck,omitempty"`
}

func isStruck(e model.Entry, struck map[string]bool) bool {
	return struck[e.Action] && model.ClassOf(e.Kind) == model.Dated
}

// bookPart is how many entries are held at a time while the whole book is written.
const bookPart = 2000

// bookJSON writes one object a line, in the journal's order; the whole journal in parts, so that
// neither it nor the lock on the file is held while a reader takes its time.
func bookJSON(a *app, st *store.Store, f store.Filter, struck map[string]bool) error {
	if f.Machine == "" && f.From.IsZero() {
		f.Most = bookPart
	}
	for {
		entries, err := st.Entries(f)
		if err != nil {
			return unusable(err)
		}
		for _, e := range entries {
			if err := a.out.JSON(bookEntry{e, isStruck(e, struck)}, ""); err != nil {
				return err
			}
		}
		if f.Most == 0 || len(entries) < f.Most {
			return nil
		}
		f.After = entries[len(entries)-1].Seq
	}
}

func bookText(a *app, entries []model.Entry, struck map[string]bool, said map[string]string,
	b *model.Bench) {
	if len(entries) == 0 {
		a.say("nothing is on record")
		return
	}
	slices.SortStableFunc(entries, func(x, y model.Entry) int { return x.At.Compare(y.At) })
	var t table
	for _, e := range entries {
		text := said[e.ID]
		if isStruck(e, struck) {
			text = "(struck) " + text
		}
		t.add(model.Stamp(e.At, a.now()), short(e.ID), e.By, nameOf(b, e), text)
	}
	t.write(a)
}
