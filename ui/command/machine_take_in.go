package command

import (
	"slices"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
)

func machineTakeInCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "take-in FILE", Short: "put a machine with its whole record on this bench",
		Long: "Put a machine on this bench by the file that oilcan machine hand-over wrote on its old one.\n" +
			"All or nothing is taken in, each entry judged as if it were typed here. Entries keep their\n" +
			"ids: what is on record already is left out, so a machine can come back, too.\n" +
			"FILE - is standard input.",
		Example: "  oilcan machine take-in heron.jsonl",
		Args:    between(1, 1, "a file"),
		RunE:    func(_ *cobra.Command, args []string) error { return takeIn(a, args[0]) },
	}
}

func takeIn(a *app, path string) error {
	data, path, err := importSource(a, path)
	if err != nil {
		return err
	}
	r, taken, err := takeRecord(a, data, path, oneMachine)
	if err != nil {
		return err
	}
	b, err := a.bench()
	if err != nil {
		return err
	}
	m := b.Machines[r.Entries[0].Machine]
	if err := sayTaken(a, m.Name, path, taken); err != nil || a.flags.json {
		return err
	}
	if m.Retired {
		a.say("it was retired there: oilcan machine edit %s --in-use brings it back", m.Name)
	}
	return nil
}

// oneMachine wants the record of one machine, and nothing of a drawer.
func oneMachine(entries []model.Entry) error {
	id := entries[0].Machine
	if id == "" || slices.ContainsFunc(entries, func(e model.Entry) bool {
		return e.Machine != id || e.Kind == model.KindStock
	}) {
		return misuse("the file holds more than one machine's record: oilcan import takes in a whole book")
	}
	return nil
}
