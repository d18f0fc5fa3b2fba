package printfile

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/model/verdict"
)

// Doubts say, a sentence each without its end, why the figures of a print cannot be right, or why
// it cannot run on the machine, where one is given.
func (j *Job) Doubts(m *model.Machine) []string {
	r := &j.Report
	if r.Partial && r.Moves == 0 {
		return nil
	}
	filament, nozzle := 0.0, 0.0
	if m != nil {
		filament, nozzle = m.PrintSetting(model.FilamentSize), m.PrintSetting(model.NozzleBore)
	}
	out := job.Doubts(r, filament, nozzle)
	used := 0
	for _, f := range r.Filament {
		if f.Pushed > 0 {
			used++
		}
	}
	switch {
	case m == nil || r.ToolChanges == 0:
	case !slices.Contains(m.Features, "changer"):
		out = append(
			out,
			fmt.Sprintf("it changes its filament by tool %s, and %s has no changer on record",
				model.Times(r.ToolChanges), m.Name),
		)
	default:
		if slots := m.PrintSetting("slots"); slots > 0 && float64(used) > slots {
			out = append(
				out,
				fmt.Sprintf(
					"it prints with %d tools, and %s holds %s",
					used,
					m.Name,
					model.Number(slots),
				),
			)
		}
	}
	if idle := j.idle; len(idle) > 0 {
		out = append(out, "a material is said for "+andWords(idle)+", which never prints in it")
	}
	return out
}

// idleTools are the tools for which a material was said and that push no filament.
func idleTools(l Loaded, r *job.Report) (out []string) {
	prints := map[int]bool{}
	for _, f := range r.Filament {
		prints[f.Tool] = f.Pushed > 0
	}
	for tool := range l.Tools {
		if !prints[tool] {
			out = append(out, fmt.Sprintf("T%d", tool))
		}
	}
	slices.Sort(out)
	return out
}

// Spares say which parts the drawer gives for what prints make due, where it then holds none, or
// too few: "blade: 2 needed, 1 in the drawer".
func Spares(results []verdict.Result, d model.Drawer) (out []string) {
	need := map[string]int{}
	var parts []string
	for n := range results {
		for _, r := range results[n].Rows {
			last := n == len(results)-1
			if r.Spare == "" || r.Swap != verdict.Before && !(r.Swap == verdict.After && last) {
				continue
			}
			if need[r.Spare]++; need[r.Spare] == 1 {
				parts = append(parts, r.Spare)
			}
		}
	}
	for _, part := range parts {
		s := d[part]
		if s == nil || s.Count == nil {
			continue
		}
		switch left := *s.Count - float64(need[part]); {
		case *s.Count == 0:
			out = append(out, fmt.Sprintf("%s: %d needed, none in the drawer", part, need[part]))
		case left < 0:
			out = append(
				out,
				fmt.Sprintf(
					"%s: %d needed, %s in the drawer",
					part,
					need[part],
					model.Number(*s.Count),
				),
			)
		case left == 0:
			out = append(
				out,
				fmt.Sprintf("%s: %d needed, the last in the drawer", part, need[part]),
			)
		case left < s.Minimum:
			out = append(
				out,
				fmt.Sprintf(
					"%s: %d needed, which leaves %s, below its minimum of %s",
					part,
					need[part],
					model.Number(left),
					model.Number(s.Minimum),
				),
			)
		}
	}
	return out
}

// Nothing says why no part is judged: nobody can say, or none wears. To say is whether something
// has to be told first.
func Nothing(rows []verdict.Row, machine string) (text string, toSay bool) {
	if slices.ContainsFunc(rows, func(r verdict.Row) bool { return r.Word == verdict.Unknown }) {
		return "nothing can be said of the parts of " + machine + " yet", true
	}
	return "no part of " + machine + " that is counted wears in this print", false
}
