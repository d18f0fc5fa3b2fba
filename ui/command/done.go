package command

import (
	"slices"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

func (a *app) doneCommand() *cobra.Command {
	return &cobra.Command{
		Use: "done PROCEDURE MACHINE…", Short: "log care done outside a session",
		Example: "  oilcan done rods-wipe Heron\n  oilcan done fans-blow Heron Plover --at yesterday",
		Args:    between(2, -1, "a procedure and at least one machine"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return a.procedureIDs(), noFiles
			}
			return a.machineNames(args[1:]), noFiles
		},
		RunE: func(_ *cobra.Command, args []string) error { return a.done(args[0], args[1:]) },
	}
}

func (a *app) done(word string, machines []string) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	p, err := action.FindProcedure(a.procs(), word)
	if err != nil {
		return err
	}
	if p.Kind == model.Bookend {
		return misuse("%s only opens or closes a session: there is nothing to log", p.ID)
	}
	var ms []*model.Machine
	var actions []model.Action
	for _, w := range machines {
		m, err := a.inUse(w)
		if err != nil {
			return err
		}
		if slices.Contains(ms, m) {
			return misuse("%s is named twice: name it once", m.Name)
		}
		facts, err := action.Done(m, a.procs(), p)
		if err != nil {
			return err
		}
		ms = append(ms, m)
		actions = append(actions, model.Action{At: at, By: a.who(), Machine: m.ID, Facts: facts})
	}
	st, err := a.store()
	if err != nil {
		return err
	}
	entries, err := st.AppendAll(actions)
	if err != nil {
		return unusable(err)
	}
	if a.flags.json {
		return a.writeJSON(entries)
	}
	for _, m := range ms {
		i := slices.IndexFunc(entries, func(e model.Entry) bool { return e.Machine == m.ID })
		a.say("%s: %s done%s   undo: oilcan strike %s --why …", theme.Safe(m.Name), p.ID, on(at, a.now()), short(entries[i].ID))
	}
	if p.Kind == model.Swap && p.Part != "" {
		left, err := a.leftOf(p.Part)
		if err != nil {
			return err
		}
		a.say("%s renewed with it; %s", p.Part, left)
	}
	return nil
}
