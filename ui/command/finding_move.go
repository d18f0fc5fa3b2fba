package command

import (
	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

func findingMoveCommand(a *app) *cobra.Command {
	var why string
	c := &cobra.Command{
		Use: "move FINDING DAY", Short: "a finding is looked at again on another day",
		Long: "Give a finding, named by the id that finding list shows, another day to be looked at.\n" +
			"The book keeps the day it had.",
		Example: "  oilcan finding move 7k3f9q 7d\n" +
			"  oilcan finding move 7k3f9q 2026-12-01 --why \"the part comes then\"",
		Args:              between(2, 2, "one finding and a day"),
		ValidArgsFunction: inTurn(a, findingIDs),
		RunE: func(_ *cobra.Command, args []string) error {
			return moveFinding(a, args[0], args[1], why)
		},
	}
	c.Flags().StringVar(&why, "why", "", "why it is put off, a `text`")
	return c
}

func moveFinding(a *app, word, day, why string) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	m, f, err := findFinding(a, word)
	if err != nil {
		return err
	}
	again, err := action.Ahead(day, a.now())
	if err != nil {
		return err
	}
	if why != "" {
		if why, err = action.Text("why it is put off (--why)", why); err != nil {
			return err
		}
	}
	facts, err := action.Moving(f, again, why)
	if err != nil {
		return err
	}
	if at.Before(f.At) {
		at = f.At
	}
	entries, err := a.append(m, at, facts)
	if err != nil {
		return err
	}
	return a.saved(entries, "%s: %s %s: %s", m.Name, f.DayWord(), model.Day(again, a.now()), f.Text)
}
