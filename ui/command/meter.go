package command

import (
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
)

func meterCommand(a *app) *cobra.Command {
	var fresh, correct, estimate bool
	var printed []string
	c := &cobra.Command{
		Use: "meter MACHINE hours=N changes=N …", Short: "log what a machine's counters show",
		Long: "Log meter readings: " + strings.Join(model.Words(model.TypedMeters), ", ") +
			".\nCuts are changes plus starts and are never typed. Hours by material add to the styrenic and\n" +
			"abrasive hours by their shares (procedures show dry-filament).",
		Example: "  oilcan meter Heron hours=1234 changes=3456\n  oilcan meter Heron hours=1190 --at 2026-11-20\n" +
			"  oilcan meter Heron hours=0 --new-counter\n  oilcan meter Heron hours=1250 --printed ABS=12 --printed PA-CF=3",
		Args:              between(1, -1, "a machine and at least one reading"),
		ValidArgsFunction: completeMeter(a),
		RunE: func(_ *cobra.Command, args []string) error {
			if fresh && correct {
				return misuse("--new-counter and --correct contradict each other: say one")
			}
			if len(args) < 2 && len(printed) == 0 {
				return misuse("oilcan meter takes a machine and at least one reading: oilcan meter Heron hours=1234 changes=3456")
			}
			return logMeters(a, args[0], args[1:], printed,
				model.Reading{NewMeter: fresh, Correct: correct, Estimate: estimate, How: "typed"})
		},
	}
	c.Flags().BoolVar(&fresh, "new-counter", false,
		"the counter was replaced and starts again at this value")
	c.Flags().BoolVar(&correct, "correct", false, "earlier readings were too high: this one holds")
	c.Flags().StringArrayVar(&printed, "printed", nil,
		"`MATERIAL=hours` printed since, for the styrenic and abrasive hours")
	c.Flags().BoolVar(&estimate, "estimate", false, "not read but estimated")
	return c
}

// completeMeter completes a machine, then readings.
func completeMeter(a *app) completion {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return machineNames(a), noFiles
		}
		var out []string
		for _, m := range model.TypedMeters {
			given := slices.ContainsFunc(args[1:], func(s string) bool {
				return strings.HasPrefix(s, string(m)+"=")
			})
			if !given {
				out = append(out, string(m)+"=")
			}
		}
		return out, noFiles | cobra.ShellCompDirectiveNoSpace
	}
}

func logMeters(a *app, word string, pairs, printed []string, as model.Reading) error {
	at, m, err := toldOf(a, word)
	if err != nil {
		return err
	}
	readings, err := action.Counts(m, pairs, as, at, a.now())
	if err != nil {
		return err
	}
	more, err := action.MaterialHours(m, procedures.Materials(), printed)
	if err != nil {
		return err
	}
	readings = append(readings, more...)
	facts, err := askReadings(a, m, readings, at)
	if err != nil {
		return err
	}
	entries, err := a.append(m, at, facts)
	if err != nil {
		return err
	}
	var said []string
	for _, r := range readings {
		said = append(said, string(r.Meter)+" "+model.Number(r.Value))
	}
	return a.saved(entries, "%s: %s%s", m.Name, strings.Join(said, ", "), on(at, a.now()))
}

// askReadings checks readings, and at a terminal asks again for each that cannot be, with the
// reason: another value, or what makes it true.
func askReadings(a *app, m *model.Machine, readings []model.Reading, at time.Time) ([]model.Fact,
	error) {
	var facts []model.Fact
	for i := range readings {
		r := &readings[i]
		for {
			fact, err := action.Readings(m, []model.Reading{*r}, at, a.now())
			if err == nil {
				facts = append(facts, fact...)
				break
			}
			if !a.talks() && errors.Is(err, model.ErrBelowLast) {
				return nil, misuse("%s (--correct, --new-counter)", err)
			} else if !a.talks() {
				return nil, err
			}
			a.say("%s", err)
			flags := model.Flaggable(r.Meter, r.Value, at, a.now())
			question := "type it again, or enter to leave:"
			if flags {
				question = "type it again, " + model.SayTrue + ", or enter to leave:"
			}
			answer, err := a.ask(question)
			if err != nil {
				return nil, err
			}
			switch {
			case answer == "":
				return nil, misuse("nothing was saved")
			case flags && answer == "c":
				r.Correct = true
			case flags && answer == "n":
				r.NewMeter = true
			default:
				if v, err := model.ReadMeter(m, r.Meter, answer, at, a.now()); err == nil {
					r.Value = v
				} else {
					a.say("%s", err)
				}
			}
		}
	}
	return facts, nil
}
