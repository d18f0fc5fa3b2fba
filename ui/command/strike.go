package command

import (
	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
)

func strikeCommand(a *app) *cobra.Command {
	var why string
	c := &cobra.Command{
		Use: "strike ENTRY", Short: "correct an entry, openly",
		Long: "Strike an entry, named by the id that book shows. It stays in the book, struck, with the\n" +
			"reason; all that was logged with it is struck too: a swap with the part it took from the\n" +
			"drawer. Striking the strike puts it back.",
		Example:           "  oilcan strike 7k3f9q --why \"wrong machine\"",
		Args:              between(1, 1, "one entry"),
		ValidArgsFunction: inTurn(a),
		RunE: func(_ *cobra.Command, args []string) error {
			return strikeEntry(a, args[0], why)
		},
	}
	c.Flags().StringVar(&why, "why", "", "what was wrong, a `text`")
	return c
}

func strikeEntry(a *app, word, why string) error {
	why, err := action.Text("what was wrong (--why)", why)
	if err != nil {
		return err
	}
	if err := a.mustExist(); err != nil {
		return err
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	e, err := findEntry(st, word)
	if err != nil {
		return err
	}
	if model.ClassOf(e.Kind) != model.Dated {
		return misuse("%s is %s, which stays on record: only dated facts can be struck",
			short(e.ID), kindWord(e.Kind))
	}
	b, err := st.Bench()
	if err != nil {
		return unusable(err)
	}
	at, err := a.when()
	if err != nil {
		return err
	}
	m := b.Machines[e.Machine]
	written, err := a.append(m, at,
		[]model.Fact{{Kind: model.KindStrike, Strike: &model.Strike{Action: e.Action, Why: why}}})
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.writeJSON(written)
	}
	entries, said, err := actionSaid(a, st, e.Action)
	if err != nil {
		return unusable(err)
	}
	for _, x := range entries {
		if model.ClassOf(x.Kind) == model.Dated {
			name := book.MachineName(b, x)
			if name != "" {
				name += ": "
			}
			a.say("struck  %s  %s%s", short(x.ID), name, said[x.ID])
		}
	}
	a.say("to put it back: oilcan strike %s --why …", short(written[0].ID))
	return nil
}

// kindWord names what cannot be struck.
func kindWord(k model.EntryKind) string {
	switch k {
	case model.KindMachine:
		return "a machine's description"
	case model.KindWalk:
		return "a step of a session"
	}
	return "a session"
}

// actionSaid gives the entries of an action, and in words, by entry id.
func actionSaid(a *app, st *store.Store, id string) (entries []model.Entry, said map[string]string, err error) {
	if entries, err = st.Entries(store.Filter{Action: id}); err != nil {
		return nil, nil, err
	}
	more, err := st.Referred(entries)
	if err != nil {
		return nil, nil, err
	}
	return entries, spoken(a, append(more, entries...)), nil
}
