package command

import (
	"errors"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
)

func (a *app) meterCommand() *cobra.Command {
	var fresh, correct, estimate bool
	var printed []string
	c := &cobra.Command{
		Use: "meter MACHINE hours=N changes=N …", Short: "log what a machine's counters show",
		Long: "Log meter readings: " + meterWords() + ".\nCuts are changes plus starts and are never typed. Hours by material add to the styrenic and\n" +
			"abrasive hours by their shares (procedures show dry-filament).",
		Example: "  oilcan meter Heron hours=1234 changes=3456\n  oilcan meter Heron hours=1190 --at 2026-11-20\n" +
			"  oilcan meter Heron hours=0 --new-counter\n  oilcan meter Heron hours=1250 --printed ABS=12 --printed PA-CF=3",
		Args:              between(1, -1, "a machine and at least one reading"),
		ValidArgsFunction: a.completeMeter,
		RunE: func(_ *cobra.Command, args []string) error {
			if fresh && correct {
				return misuse("--new-counter and --correct contradict each other: say one")
			}
			if len(args) < 2 && len(printed) == 0 {
				return misuse("oilcan meter takes a machine and at least one reading: oilcan meter Heron hours=1234 changes=3456")
			}
			return a.meter(args[0], args[1:], printed, model.Reading{NewMeter: fresh, Correct: correct, Estimate: estimate, How: "typed"})
		},
	}
	c.Flags().BoolVar(&fresh, "new-counter", false, "the counter was replaced and starts again at this value")
	c.Flags().BoolVar(&correct, "correct", false, "earlier readings were too high: this one holds")
	c.Flags().StringArrayVar(&printed, "printed", nil, "`MATERIAL=hours` printed since, for the styrenic and abrasive hours")
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

func (a *app) meter(word string, pairs, printed []string, as model.Reading) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	m, err := a.inUse(word)
	if err != nil {
		return err
	}
	readings, err := a.readPairs(m, pairs, as, at)
	if err != nil {
		return err
	}
	more, err := action.MaterialHours(m, procedures.Materials(), printed)
	if err != nil {
		return err
	}
	readings = append(readings, more...)
	facts, err := a.asked(m, readings, at)
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

// asked checks readings, and at a terminal asks again for each that cannot be, with the reason: another
// value, or what makes it true.
func (a *app) asked(m *model.Machine, readings []model.Reading, at time.Time) ([]model.Fact, error) {
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

// readPairs reads hours=1234, as readings of a machine's counters at that time.
func (a *app) readPairs(m *model.Machine, pairs []string, as model.Reading, at time.Time) ([]model.Reading, error) {
	if as.NewMeter || as.Correct {
		m = &model.Machine{} // its other readings say nothing of this one
	}
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
		if r.Value, err = model.ReadMeter(m, r.Meter, value, at, a.now()); err != nil {
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
	return ", on " + model.Stamp(at, now)
}
