package command

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

func (a *app) meterCommand() *cobra.Command {
	var fresh, correct, estimate bool
	c := &cobra.Command{
		Use: "meter MACHINE hours=N changes=N …", Short: "log what a machine's counters show",
		Long: "Log meter readings: " + meterWords() + ".\nCuts are changes plus starts and are never typed.",
		Example: "  oilcan meter Heron hours=1234 changes=3456\n  oilcan meter Heron hours=1190 --at 2026-11-20\n" +
			"  oilcan meter Heron hours=0 --new-counter",
		Args:              between(2, -1, "a machine and at least one reading"),
		ValidArgsFunction: a.completeMeter,
		RunE: func(_ *cobra.Command, args []string) error {
			if fresh && correct {
				return misuse("--new-counter and --correct contradict each other: say one")
			}
			return a.meter(args[0], args[1:], model.Reading{NewMeter: fresh, Correct: correct, Estimate: estimate, How: "typed"})
		},
	}
	c.Flags().BoolVar(&fresh, "new-counter", false, "the counter was replaced and starts again at this value")
	c.Flags().BoolVar(&correct, "correct", false, "earlier readings were too high: this one holds")
	c.Flags().BoolVar(&estimate, "estimate", false, "not read but estimated")
	return c
}

func meterWords() string {
	var out []string
	for _, m := range model.TypedMeters {
		out = append(out, string(m))
	}
	return strings.Join(out, ", ")
}

func (a *app) meter(word string, pairs []string, as model.Reading) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	readings, err := readPairs(pairs, as)
	if err != nil {
		return err
	}
	m, err := a.inUse(word)
	if err != nil {
		return err
	}
	facts, err := action.Readings(m, readings, at, a.now())
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

// readPairs reads hours=1234.
func readPairs(pairs []string, as model.Reading) ([]model.Reading, error) {
	var out []model.Reading
	names := make([]string, 0, len(model.TypedMeters)+1)
	for _, m := range append(model.TypedMeters[:len(model.TypedMeters):len(model.TypedMeters)], model.Cuts) {
		names = append(names, string(m))
	}
	for _, p := range pairs {
		name, value, ok := strings.Cut(p, "=")
		if !ok {
			return nil, misuse("%q is no reading: write hours=1234 or changes=3456", p)
		}
		found, err := action.Find("meter", name, names)
		if err != nil {
			return nil, err
		}
		r := as
		r.Meter = model.Meter(found)
		if r.Value, err = action.Number(value); err != nil {
			return nil, err
		}
		for _, o := range out {
			if o.Meter == r.Meter {
				return nil, misuse("%s is given twice: give it once", r.Meter)
			}
		}
		out = append(out, r)
	}
	return out, nil
}

// on says when something happened where it was not now.
func on(at, now time.Time) string {
	if at.Equal(now) {
		return ""
	}
	return ", on " + at.In(now.Location()).Format("2006-01-02 15:04")
}
