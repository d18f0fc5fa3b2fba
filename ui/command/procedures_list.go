package command

import (
	"strings"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

func proceduresListCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "list",
		Short: "every procedure and set-up action, with the features it needs and its bands",
		Long: "Every procedure with its kind, minutes of hands and title; below, the features a machine must\n" +
			"have, and the bands that make it due: home, and production where that differs. What counts on some\n" +
			"machines only says so; oilcan procedures show tells on which, and where a figure comes from.",
		Example: "  oilcan procedures list\n  oilcan procedures list --json",
		Args:    between(0, 0, "no name"),
		RunE: func(*cobra.Command, []string) error {
			all := procsAndSetUps(a)
			if a.flags.json {
				rows := make([]any, 0, len(all))
				for _, p := range all {
					row, err := procedureJSON(p)
					if err != nil {
						return err
					}
					rows = append(rows, row)
				}
				return a.writeJSON(rows)
			}
			listProcedures(a, all)
			return nil
		},
	}
}

// listProcedures says every procedure in a line, and below it what it needs and when it is due.
func listProcedures(a *app, all []*model.Procedure) {
	wide := 0
	for _, p := range all {
		wide = max(wide, theme.Width(p.ID))
	}
	t := table{right: []int{2}}
	below := make([]string, len(all))
	for i, p := range all {
		yours := ""
		if p.Yours {
			yours = "yours"
		}
		t.add(p.ID, string(p.Kind), model.Minutes(p.HandsOn)+" min", p.Title, yours)
		below[i] = needsText(p)
		if bands := bandsText(p); below[i] != "" && bands != "" {
			below[i] += " · " + bands
		} else {
			below[i] += bands
		}
	}
	for i, l := range t.lines(a) {
		a.say("%s", l)
		for _, part := range theme.Wrap(below[i], max(20, 78-wide)) {
			a.say("%s%s", strings.Repeat(" ", wide+2), a.th.Text.Dim.On(part))
		}
	}
}

// needsText names the features a machine must have.
func needsText(p *model.Procedure) string {
	out := model.Words(p.Needs)
	if len(p.NeedsAny) > 0 {
		out = append(out, strings.Join(model.Words(p.NeedsAny), " or "))
	}
	return strings.Join(out, ", ")
}

// bandsText says the bands of every interval: "30–38 days, in production 14–18; 200–250 h".
func bandsText(p *model.Procedure) string {
	var out []string
	for _, v := range p.Intervals {
		text := bandText(v.Low, v.High) + " " + v.Meter.Unit()
		if v.Production != nil {
			text += ", in production " + bandText(v.Production.Low, v.Production.High)
		}
		if v.Once {
			text = "once at " + text
		}
		if v.When != nil || !v.Only.Zero() {
			text += " (on some)"
		}
		out = append(out, text)
	}
	for _, tr := range p.Triggers {
		out = append(out, "after "+strings.Join(tr.Done, " or "))
	}
	return strings.Join(out, "; ")
}

func bandText(low, high float64) string {
	if low == high {
		return model.Number(low)
	}
	return model.Number(low) + "–" + model.Number(high)
}
