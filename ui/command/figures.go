package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/figures"
	"bench/oilcan/ui/figured"
	"bench/oilcan/ui/theme"
)

func figuresCommand(a *app) *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "figures [MACHINE]", Short: "what care takes, and what it is good for",
		Long: "What the care of the last twelve months took: minutes of hands and waiting, parts and their\n" +
			"cost, an hour printed; stops, care done in time, prints that failed. Of one machine by month,\n" +
			"and how often prints failed up to 100 h before care and after it, with the 95 % interval\n" +
			"(Garwood 1936): where the two overlap, nothing is shown. Prices: drawer count PART --price.",
		Example: "  oilcan figures\n  oilcan figures Heron\n" +
			"  oilcan figures --format csv > figures.csv\n  oilcan fail Heron --why layer-shift",
		Args:              between(0, 1, "one machine, or none for all"),
		ValidArgsFunction: inTurn(a, machineNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := checkFormat(a, "the table of figures", &format, figuresFormats); err != nil {
				return err
			}
			return showFigures(a, args, format)
		},
	}
	formatFlag(c, &format, figuresFormats)
	return c
}

var figuresFormats = []string{"text", "csv", "json"}

func showFigures(a *app, args []string, format string) error {
	ms, err := chosenMachines(a, args)
	if err != nil {
		return err
	}
	fs := []figures.Figures{}
	if len(ms) > 0 {
		st, err := a.store()
		if err != nil {
			return err
		}
		b, err := a.bench()
		if err != nil {
			return err
		}
		if fs, err = figured.Of(st, b, ms, a.procs(), a.now()); err != nil {
			return unusable(err)
		}
	}
	switch {
	case format == "json":
		return a.writeJSON(fs)
	case format == "csv":
		text, err := figured.CSV(fs, a.cfg.Currency)
		if err != nil {
			return err
		}
		return a.out.Rows(text)
	case len(fs) == 0:
		a.say(noMachine)
	case len(args) > 0:
		figuresPage(a, &fs[0])
	default:
		figuresTable(a, fs)
	}
	return nil
}

// figuresTable is one line a machine.
func figuresTable(a *app, fs []figures.Figures) {
	a.say("%d months up to %s; failed prints in 100 h with the 95 %% interval", figured.Months,
		model.Day(a.now(), a.now()))
	t := table{right: []int{1, 2, 3, 4, 5, 6}}
	t.add("machine", "printed", "hands", "an hour", "waited", "parts", "cost", "stops", "in time",
		"failed")
	for i := range fs {
		f := &fs[i]
		all := f.Sum()
		each, failed := "", fmt.Sprint(all.Failed)
		if u := f.Upkeep; u.Minutes != nil {
			each = model.Rough(*u.Minutes) + " min"
		}
		if all.Failed > 0 {
			failed += ", " + f.Failing.Words()
		}
		t.add(f.Machine, figured.Hours(all.Hours), figured.Minutes(all.Hands), each, figured.Minutes(all.Waited),
			fmt.Sprint(all.Renewed), model.Money(all.Cost, a.cfg.Currency), fmt.Sprint(all.Stops),
			f.InTimeWords(), failed)
	}
	t.write(a)
}

// figuresPage is one machine: its months, and what follows from them.
func figuresPage(a *app, f *figures.Figures) {
	a.say("%s", a.th.Text.Strong.On(f.Machine))
	t := table{indent: "  ", right: []int{1, 2, 3, 4, 5, 6, 7, 8}}
	t.add("month", "printed", "hands", "waited", "sessions", "parts", "cost", "stops", "failed")
	for _, m := range append(f.Lived(), f.Sum()) {
		t.add(m.Month, figured.Hours(m.Hours), figured.Minutes(m.Hands), figured.Minutes(m.Waited),
			fmt.Sprint(m.Sessions),
			fmt.Sprint(m.Renewed), model.Money(m.Cost, a.cfg.Currency), fmt.Sprint(m.Stops),
			fmt.Sprint(m.Failed))
	}
	t.write(a)
	var rows table
	say := func(head string, lines ...string) {
		for _, l := range lines {
			rows.add(head, l)
			head = ""
		}
	}
	say("parts", f.PartsWords())
	say("upkeep", f.Upkeep.Words(a.cfg.Currency)...)
	say("in time", f.InTimeWords())
	say("stops", f.StopWords(a.now())...)
	say("failed", f.FailedWords(names(a).Symptom)...)
	a.say("")
	rows.write(a)
	paysTable(a, f.Pays)
}

// paysTable sets what failed before care beside what failed after it.
func paysTable(a *app, rows []figures.Pays) {
	if len(rows) == 0 {
		return
	}
	a.say("")
	a.say("failed in 100 h, up to %d h before care and after it (95 %%)", figures.Window)
	t := table{indent: "  "}
	t.add("care", "done", "before", "after", "")
	told, tooFew := figures.Told(rows)
	for _, p := range told {
		t.add(p.Title, fmt.Sprint(p.Times), ofHours(p.Before), ofHours(p.After), string(p.Shown))
	}
	if len(told) > 0 {
		t.write(a)
	}
	for _, text := range []string{tooFew, figures.Caveat} {
		for _, l := range theme.Wrap(text, caveatWidth) {
			a.say("  %s", strings.TrimSpace(l))
		}
	}
}

// caveatWidth is that of the words below a table, in cells.
const caveatWidth = 96

// ofHours is a rate with what it is made of.
func ofHours(r figures.Rate) string {
	return fmt.Sprintf("%d in %s: %s", r.Times, figured.Hours(&r.Hours), r.Words())
}
