package command

import (
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
)

func dueCommand(a *app) *cobra.Command {
	var within string
	var check, all bool
	c := &cobra.Command{
		Use: "due [MACHINE]", Short: "what needs doing, the most pressing first",
		Long: "What is due or past, what nobody knows the last time of, and, with --within, what\n" +
			"reaches the low end of its band by then.",
		Example:           "  oilcan due\n  oilcan due --within 14d\n  oilcan due --check || echo something is due",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: completeMachines(a),
		RunE: func(_ *cobra.Command, args []string) error {
			var ahead time.Duration
			if within != "" {
				var err error
				if ahead, err = action.Span(within); err != nil {
					return err
				}
			}
			ms, err := chosenMachines(a, args)
			if err != nil {
				return err
			}
			if all {
				ms = keptByAll(ms)
			}
			return listDue(a, ms, ahead, check)
		},
	}
	c.Flags().StringVar(&within, "within", "", "look ahead this `time`: 14d, 36h, 2w")
	c.Flags().BoolVar(&all, "all", false,
		"of all that fits, not only of what the machine is kept by")
	c.Flags().BoolVar(&check, "check", false, "exit 1 if anything is due")
	return c
}

// dueRow is a gauge that needs doing, as programs read it.
type dueRow struct {
	model.Gauge
	// that its low end is reached by then; null where not known
	Probability *float64  `json:"probability"`
	By          time.Time `json:"by"` // the day looked ahead to
}

func listDue(a *app, ms []*model.Machine, within time.Duration, check bool) error {
	now := a.now()
	rows := []dueRow{}
	for _, m := range ms {
		if m.OutOfUse {
			continue
		}
		f := life.NewForecaster(m, now)
		for _, g := range model.Due(f.Gauges(a.heads()), within, now) {
			r := dueRow{Gauge: rounded(g), By: now.Add(within).Truncate(time.Second)}
			if p, ok := f.DueBy(&g, now.Add(within)); ok {
				r.Probability = &p
			}
			if certain := 1.0; g.Word.Rank() <= model.WordDue.Rank() && !g.Estimated {
				r.Probability = &certain
			}
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(x, y dueRow) int {
		return model.CompareGauges(&x.Gauge, &y.Gauge)
	})
	if err := writeDue(a, rows, now); err != nil {
		return err
	}
	if check && len(rows) > 0 {
		return errNo
	}
	return nil
}

func writeDue(a *app, rows []dueRow, now time.Time) error {
	if a.flags.json {
		return a.writeJSON(rows)
	}
	if len(rows) == 0 {
		a.say("nothing is due")
		return nil
	}
	var t table
	for _, r := range rows {
		sure := ""
		if p := r.Probability; p != nil && *p < 0.995 {
			sure = fmt.Sprintf("%.0f %% by %s", 100**p, model.Day(r.By, now))
		}
		t.add(r.Machine, r.Short, a.th.OfState(r.Word).On(string(r.Word)), r.UsedText(),
			r.WhenLong(now), sure, lacking(&r.Gauge))
	}
	t.write(a)
	return nil
}
