package command

import (
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

func swapCommand(a *app) *cobra.Command {
	ends := make([]bool, len(model.Ends))
	c := &cobra.Command{
		Use: "swap PART MACHINE [changes=N]", Short: "log a part renewed: the quick log",
		Long: "Log a renewed part. The gauges of its procedures start again, looks included, and the\n" +
			"drawer goes down by one. What a counter showed then may stand behind. Parts: " +
			strings.Join(model.RenewableParts, ", ") + ".",
		Example: "  oilcan swap blade Heron --worn\n  oilcan swap wiper Heron --early --at yesterday\n  oilcan swap hot-end-unit Heron --failed\n  oilcan swap blade Heron changes=3412 --worn",
		Args:    between(2, -1, "a part and a machine"),
		ValidArgsFunction: inTurn(a, func(*app) []string {
			return hyphened(model.RenewableParts)
		}, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			end := model.End("")
			for i, on := range ends {
				switch {
				case on && end != "":
					return misuse("--%s and --%s contradict each other: say how the old one was once", end, model.Ends[i])
				case on:
					end = model.Ends[i]
				}
			}
			return logSwap(a, args[0], args[1], args[2:], end)
		},
	}
	said := map[model.End]string{model.EndWorn: "the old one was worn",
		model.EndFailed: "the old one had failed",
		model.EndEarly:  "the old one was taken off sound", model.EndLost: "the old one was lost"}
	for i, e := range model.Ends {
		c.Flags().BoolVar(&ends[i], string(e), false, said[e])
	}
	return c
}

func logSwap(a *app, partWord, machineWord string, counts []string, end model.End) error {
	part, err := action.Find("part", partWord, model.RenewableParts)
	if err != nil {
		return err
	}
	at, m, err := toldOf(a, machineWord)
	if err != nil {
		return err
	}
	s, err := action.Swap(m, a.procs(), part, end)
	if err != nil {
		return err
	}
	readings, err := action.Counts(m, counts, model.Reading{How: "typed"}, at, a.now())
	if err != nil {
		return err
	}
	if s, err = s.With(m, readings, at, a.now()); err != nil {
		return err
	}
	entries, err := a.append(m, at, s.Facts)
	if err != nil {
		return err
	}
	how := ""
	if end != "" {
		how = ", the old one " + string(end)
	}
	left, err := leftInDrawer(a, part)
	if err != nil {
		return err
	}
	if anew := action.Anew(a.procs(), s.Resets); anew != "" {
		left += "; " + anew
	}
	if err := a.saved(entries, "%s: %s renewed%s%s; %s", m.Name, part, how, on(at, a.now()),
		left); err != nil || s.Look == "" || a.flags.json {
		return err
	}
	a.say("finding noted: %s", s.Look)
	return nil
}
