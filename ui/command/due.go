package command

import (
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/calendar"
	"bench/oilcan/ui/theme"
)

func dueCommand(a *app) *cobra.Command {
	var within, format string
	var check, all, task bool
	c := &cobra.Command{
		Use: "due [MACHINE]", Short: "what needs doing, the most pressing first",
		Long: "What is due or past, what nobody knows the last time of, and, with --within, what\n" +
			"reaches the low end of its band by then. As ics it is a calendar file of what comes in 60\n" +
			"days, or --within: an event each, or a task with --task. Each keeps its identity, so a\n" +
			"calendar that takes the file in again moves what it has.",
		Example: "  oilcan due\n  oilcan due --within 14d\n" +
			"  oilcan due --format ics > care.ics\n  oilcan due --check || echo something is due",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: completeMachines(a),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := checkFormat(a, "what is due", &format, dueFormats); err != nil {
				return err
			}
			if task && format != "ics" {
				return misuse("--task is for a calendar: add --format ics")
			}
			var ahead time.Duration
			if format == "ics" {
				ahead = calendarAhead
			}
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
			rows := dueRows(a, ms, ahead)
			if err := writeDue(a, rows, format, task); err != nil {
				return err
			}
			if check && len(rows) > 0 {
				return errNo
			}
			return nil
		},
	}
	c.Flags().StringVar(&within, "within", "", "look ahead this `time`: 14d, 36h, 2w")
	formatFlag(c, &format, dueFormats)
	c.Flags().BoolVar(&task, "task", false, "a calendar's tasks, not its events")
	c.Flags().BoolVar(&all, "all", false,
		"of all that fits, not only of what the machine is kept by")
	c.Flags().BoolVar(&check, "check", false, "exit 1 if anything is due")
	return c
}

var dueFormats = []string{"text", "json", "ics"}

// calendarAhead is how far a calendar looks ahead unless told otherwise.
const calendarAhead = 60 * 24 * time.Hour

// dueRow is a gauge that needs doing, as programs read it.
type dueRow struct {
	model.Gauge
	// that its low end is reached by then; null where not known
	Probability *float64  `json:"probability"`
	By          time.Time `json:"by"` // the day looked ahead to
}

// dueRows gives what is due within a time, the most pressing first. Of a machine out of use nothing
// is.
func dueRows(a *app, ms []*model.Machine, within time.Duration) []dueRow {
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
	return rows
}

func writeDue(a *app, rows []dueRow, format string, task bool) error {
	now := a.now()
	switch format {
	case "json":
		return a.writeJSON(rows)
	case "ics":
		return writeCalendar(a, rows, task)
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

// writeCalendar writes what is due as a calendar file. What is due already stands on today.
func writeCalendar(a *app, rows []dueRow, task bool) error {
	now := a.now()
	kind := calendar.Event
	if task {
		kind = calendar.Task
	}
	var items []calendar.Item
	for _, r := range rows {
		it := calendar.Item{UID: "oilcan-" + theme.Safe(r.MachineID) + "-" + theme.Safe(r.Item),
			From: now, Title: theme.Safe(r.Machine + ": " + r.Title),
			Pressed: r.Word == model.WordPast}
		day := r.DueLow
		if day == nil && r.Forecast != nil {
			day = &r.Forecast.Mid
		}
		if r.Word.Rank() > model.WordUnknown.Rank() && day != nil && day.After(now) {
			it.From = *day
		}
		if r.DueHigh != nil {
			it.Until = *r.DueHigh
		}
		it.Note = theme.Safe("on " + model.Day(now, now) + ": " + string(r.Word) + ", " +
			r.UsedText())
		if lacks := theme.Safe(lacking(&r.Gauge)); lacks != "" {
			it.Note += "\n" + lacks
		}
		items = append(items, it)
	}
	return a.out.Rows(calendar.Write(items, kind, now))
}
