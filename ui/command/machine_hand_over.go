package command

import (
	"bytes"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

func machineHandOverCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use: "hand-over MACHINE FILE", Short: "write a machine's whole record into one file",
		Long: "Write all that is on record of a machine into one file, for the bench it goes to: there\n" +
			"oilcan machine take-in FILE puts it on. The drawer stays here, and so does the machine\n" +
			"until you retire it. What lies at FILE is left as it is.",
		Example:           "  oilcan machine hand-over Heron heron.jsonl\n  oilcan machine retire Heron",
		Args:              between(2, 2, "one machine and the file to write"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			m, err := findMachine(a, args[0])
			if err != nil {
				return err
			}
			if m.Session != "" {
				return misuse("a care session is begun on %s: close it or give it up before the machine is handed over", m.Name)
			}
			return handOver(a, m, args[1])
		},
	}
}

func handOver(a *app, m *model.Machine, path string) error {
	st, err := a.store()
	if err != nil {
		return err
	}
	entries, err := st.Entries(store.Filter{Machine: m.ID})
	if err != nil {
		return unusable(err)
	}
	var file bytes.Buffer
	w, err := newRecordWriter(theme.NewWriter(&file), st)
	if err != nil {
		return err
	}
	entries = withoutDrawer(entries)
	for _, e := range entries {
		if err := w.entry(e); err != nil {
			return err
		}
	}
	if err := writeNew(path, file.Bytes(), "give another name"); err != nil {
		return err
	}
	if a.flags.json {
		return a.writeJSON(map[string]any{"file": path, "entries": len(entries)})
	}
	a.say("%s: %s written to %s; on its new bench: oilcan machine take-in FILE", m.Name,
		model.Counted(len(entries), "entry"), path)
	if !m.Retired {
		a.say("it stays on this bench until: oilcan machine retire %s", action.Typed(m.Name))
	}
	return nil
}

// withoutDrawer leaves out what was taken from the drawer of this bench, and strikes of nothing
// else.
func withoutDrawer(entries []model.Entry) []model.Entry {
	kept := map[string]bool{} // actions with dated facts that go along
	var out []model.Entry
	for _, e := range entries {
		if e.Kind == model.KindStock || e.Strike != nil && !kept[e.Strike.Action] {
			continue
		}
		if model.ClassOf(e.Kind) == model.Dated {
			kept[e.Action] = true
		}
		out = append(out, e)
	}
	return out
}
