package command

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/calendar"
	"bench/oilcan/ui/theme"
)

func dueCommand(a *app) *cobra.Command {
	var within, format string
	var check, all, task bool
	c := &cobra.Command{
		Use: "due [MACHINE]", Short: "what needs doing, the most pressing first",
		Long: "What is due or past, what nobody knows the last time of, and, with --within, what\n" +
			"reaches the low end of its band by then; below it what stands: tags, parts waited for,\n" +
			"what is owed, and findings whose day has come. As ics it is a calendar file of what comes\n" +
			"in 60 days, or --within: an event each, or a task with --task. Each keeps its identity, so\n" +
			"a calendar that takes the file in again moves what it has.",
		Example: "  oilcan due\n  oilcan due --within 14d\n" +
			"  oilcan due --format ics > care.ics\n  oilcan due --check || echo something is due",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: inTurn(a, machineNames),
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
			d := due{rows: dueRows(a, ms, ahead), ahead: ahead}
			for _, m := range ms {
				d.stands = append(d.stands, book.Reminders(m, ahead, a.now())...)
			}
			if err := d.write(a, format, task); err != nil {
				return err
			}
			if check && d.any() {
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

// due is what needs doing by a time, and below it what stands.
type due struct {
	rows   []dueRow
	stands []book.Standing
	ahead  time.Duration
}

// any tells whether something is due; what only waits is not.
func (d *due) any() bool {
	return len(d.rows) > 0 || slices.ContainsFunc(d.stands, func(s book.Standing) bool {
		return s.Due
	})
}

// standsRow is what stands on a machine, as programs read it: behind the gauges, with "stands" for
// its condition.
type standsRow struct {
	Machine   string         `json:"machine"`
	Item      string         `json:"item"` // the procedure it came of; "" where it came of none
	Condition string         `json:"condition"`
	Text      string         `json:"text"`
	Since     time.Time      `json:"since,omitzero"` // of a tag, and where it is no finding
	Due       bool           `json:"due"`            // its day has come, or it holds the machine
	Finding   *model.Finding `json:"finding,omitempty"`
}

func (d *due) write(a *app, format string, task bool) error {
	switch format {
	case "json":
		return d.writeJSON(a)
	case "ics":
		return d.writeCalendar(a, task)
	}
	if len(d.rows)+len(d.stands) == 0 {
		a.say("nothing is due")
		return nil
	}
	d.table(a)
	now := a.now()
	var t table
	for _, s := range d.stands {
		id, when := "", s.Label+model.Day(s.At, now)
		if s.Finding != nil {
			id = short(s.Finding.ID)
		}
		if s.Due && s.Finding != nil && !s.Finding.Again.IsZero() {
			when += ", now"
		}
		t.add(s.Machine, "stands", s.Text, when, id)
	}
	t.write(a)
	return nil
}

func (d *due) writeJSON(a *app) error {
	out := []any{}
	for _, r := range d.rows {
		out = append(out, r)
	}
	for _, s := range d.stands {
		r := standsRow{Machine: s.Machine, Condition: "stands", Text: s.Text, Due: s.Due,
			Finding: s.Finding}
		if s.Finding != nil {
			r.Item = s.Finding.Procedure
		}
		if s.Tag || s.Finding == nil {
			r.Since = cmp.Or(s.Since, s.At)
		}
		out = append(out, r)
	}
	return a.writeJSON(out)
}

// table writes the gauges that need doing.
func (d *due) table(a *app) {
	now := a.now()
	var t table
	for _, r := range d.rows {
		sure := ""
		if p := r.Probability; p != nil && *p < 0.995 {
			sure = fmt.Sprintf("%.0f %% by %s", 100**p, model.Day(r.By, now))
		}
		t.add(r.Machine, r.Short, a.th.OfState(r.Word).On(string(r.Word)), r.UsedText(),
			r.WhenLong(now), sure, lacking(&r.Gauge))
	}
	t.write(a)
}

// writeCalendar writes what is due as a calendar file, and what stands on a day. What is due
// already stands on today.
func (d *due) writeCalendar(a *app, task bool) error {
	now := a.now()
	kind := calendar.Event
	if task {
		kind = calendar.Task
	}
	var items []calendar.Item
	for _, r := range d.rows {
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
	for _, s := range d.stands {
		if f := s.Finding; f != nil && !f.Again.IsZero() && !f.Again.After(now.Add(d.ahead)) {
			items = append(items, reminder(s.Machine, f, now))
		}
	}
	return a.out.Rows(calendar.Write(items, kind, now))
}

// reminder is a finding on the day it is to be looked at again, a reminder on that it is for.
func reminder(machine string, f *model.Finding, now time.Time) calendar.Item {
	it := calendar.Item{UID: "oilcan-finding-" + theme.Safe(f.ID), From: now,
		Title: theme.Safe(machine + ": " + f.DayWord() + ": " + f.Text), Pressed: f.Holds(),
		Note: theme.Safe(f.AtWord() + " " + model.Day(f.At, now))}
	if f.Again.After(now) {
		it.From = f.Again
	}
	if f.Part != "" {
		it.Note += theme.Safe(", waits for " + f.Part)
	}
	return it
}
