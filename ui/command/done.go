package command

import (
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

func doneCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "done PROCEDURE… MACHINE…",
		Short: "log care done outside a session, or tell when it was last done",
		Long: "Log care done outside a session, or tell when it was last done. A procedure is named by its id,\n" +
			"by what its gauge is called, or by its title; several of them come before the machines.\n\n" +
			"--at takes more here than elsewhere: " + action.LastHint + ".\n" +
			"A counter's value is no day: the calendar waits until the care is done again.",
		Example: "  oilcan done rods-wipe Heron\n  oilcan done fans-blow 'carbon filter' Heron Plover --at yesterday\n" +
			"  oilcan done blade-check Heron --at '3000 changes'\n  oilcan done belt-swap Heron --at never",
		Args: between(2, -1, "a procedure and at least one machine"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string,
			cobra.ShellCompDirective) {
			if len(args) == 0 {
				return procedureIDs(a), noFiles
			}
			left := slices.DeleteFunc(machineNames(a), func(name string) bool {
				return slices.Contains(args[1:], name)
			})
			return append(left, procedureIDs(a)...), noFiles
		},
		RunE: func(_ *cobra.Command, args []string) error { return logDone(a, args) },
	}
}

// doneWords sets the procedures of a line apart from its machines: the first word is a procedure,
// the last a machine, and of those between the machines begin where one is called so.
func doneWords(a *app, words []string) (procs []*model.Procedure, machines []*model.Machine,
	err error) {
	b, err := a.bench()
	if err != nil {
		return nil, nil, err
	}
	for i, w := range words {
		p, none := action.FindProcedure(a.procs(), w)
		if _, err := model.FindMachine(b, w); i > 0 &&
			(i == len(words)-1 || err == nil || none != nil) {
			words = words[i:]
			break
		}
		switch {
		case none != nil:
			return nil, nil, none
		case p.Kind == model.Bookend:
			return nil, nil, misuse("%q only opens or closes a session: there is nothing to log",
				p.Title)
		case slices.Contains(procs, p):
			return nil, nil, misuse("%q is named twice: name it once", p.Title)
		}
		procs = append(procs, p)
	}
	for _, w := range words {
		m, err := machineInUse(a, w)
		if err != nil {
			return nil, nil, err
		}
		if slices.Contains(machines, m) {
			return nil, nil, misuse("%s is named twice: name it once", m.Name)
		}
		machines = append(machines, m)
	}
	return procs, machines, nil
}

func logDone(a *app, words []string) error {
	at := a.flags.at
	if at == "" {
		at = "now"
	}
	procs, machines, err := doneWords(a, words)
	if err != nil {
		return err
	}
	var actions []model.Action
	var said []string
	for _, m := range machines {
		var facts []model.Fact // of all that is told of the machine: together they close what called for them
		for _, p := range procs {
			l, err := action.ReadLast(p.ID, at, a.now())
			if err != nil {
				return err
			}
			act, err := action.LastDone(m, a.procs(), l, a.now())
			if err != nil {
				return err
			}
			facts = append(facts, act.Facts...)
			if p == procs[len(procs)-1] && l.Dated() {
				act.Facts = append(act.Facts, m.Remedied(facts, l.At)...)
			}
			actions = append(actions, act)
			said = append(said, m.Name+": "+doneText(a, p, l))
		}
	}
	entries, err := appendAll(a, actions)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.writeJSON(entries)
	}
	first := 0 // of the action's entries
	for i, act := range actions {
		a.say("%s   undo: oilcan strike %s --why …", said[i], short(entries[first].ID))
		first += len(act.Facts)
	}
	return sayRenewed(a, actions)
}

// doneText is what was told of one procedure.
func doneText(a *app, p *model.Procedure, l action.Last) string {
	title := strconv.Quote(p.Title)
	switch {
	case l.Unknown:
		return title + ": last time not known"
	case l.Original:
		return title + ": never since the machine was new"
	case l.Value != nil:
		return title + " done at " + model.Number(*l.Value) +
			" by its counter; its calendar waits until it is done again"
	}
	return title + " done" + on(l.At, a.now())
}

// sayRenewed says what is left of the parts that were renewed.
func sayRenewed(a *app, actions []model.Action) error {
	var parts []string
	for _, act := range actions {
		for _, f := range act.Facts {
			if f.Swap != nil && !slices.Contains(parts, f.Swap.Part) {
				parts = append(parts, f.Swap.Part)
			}
		}
	}
	for _, part := range parts {
		left, err := leftInDrawer(a, part)
		if err != nil {
			return err
		}
		a.say("%s renewed with it; %s", part, left)
	}
	return nil
}
