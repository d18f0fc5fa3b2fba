package command

import (
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

func findingAddCommand(a *app) *cobra.Command {
	var again, part, procedure string
	var stop bool
	c := &cobra.Command{
		Use: "add MACHINE TEXT…", Short: "note something seen",
		Example: "  oilcan finding add Heron squeal at the left rod --again 7d\n" +
			"  oilcan finding add Teal nozzle on order --part nozzle --again 2026-12-01\n" +
			"  oilcan finding add Teal brown plug at the bed --stop",
		Args:              between(2, -1, "a machine and what was seen"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if stop && again+part+procedure != "" {
				return misuse("--stop stands alone: leave out --again, --part and --procedure")
			}
			if stop {
				return stopMachine(a, args[0], strings.Join(args[1:], " "))
			}
			return addFinding(a, args[0], strings.Join(args[1:], " "), again, part, procedure)
		},
	}
	c.Flags().StringVar(&again, "again", "", "`when` to look again: tomorrow, 7d, 2026-12-01")
	c.Flags().StringVar(&part, "part", "", "the `part` it waits for")
	c.Flags().StringVar(&procedure, "procedure", "", "the `care` it belongs to")
	c.Flags().BoolVar(&stop, "stop", false,
		"do not use it: care and power are locked until this is closed by name")
	completeFlag(c, "part", words(hyphened(model.SupplyNames)...))
	completeFlag(c, "procedure", every(a, procedureIDs))
	return c
}

func addFinding(a *app, word, text, again, part, procedure string) error {
	at, m, err := toldOf(a, word)
	if err != nil {
		return err
	}
	f := &model.Found{Kind: model.FoundNote}
	if f.Text, err = action.Text("what was seen", text); err != nil {
		return err
	}
	if again != "" {
		if f.Again, err = action.Ahead(again, a.now()); err != nil {
			return err
		}
	}
	if part != "" {
		f.Kind = model.FoundPart
		if f.Part, err = action.Find("part", part, model.SupplyNames); err != nil {
			return err
		}
	}
	if procedure != "" {
		p, err := action.FindProcedure(a.procs(), procedure)
		if err != nil {
			return err
		}
		f.Procedure = p.ID
	}
	entries, err := a.append(m, at, []model.Fact{{Kind: model.KindFinding, Finding: f}})
	if err != nil {
		return err
	}
	return a.saved(entries, "%s: finding %s noted", m.Name, short(entries[0].ID))
}

// stopMachine stops a machine for what was seen.
func stopMachine(a *app, word, text string) error {
	at, m, err := toldOf(a, word)
	if err != nil {
		return err
	}
	if text, err = action.Text("what was seen", text); err != nil {
		return err
	}
	entries, err := a.append(m, at, action.Stop(text))
	if err != nil {
		return err
	}
	if !a.flags.json {
		a.say("%s", model.StopNow)
	}
	return a.saved(entries, "%s is stopped: finding %s, closed by name when it is put right",
		m.Name, short(entries[0].ID))
}
