package printfile

import (
	"fmt"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
)

// Sum says what several prints cost together, in a few lines: changes and time, filament and hours
// by material, and hours by class of material; nil for one print.
func Sum(jobs []Job, above float64) []string {
	if len(jobs) < 2 {
		return nil
	}
	all, use := total(jobs)
	parts := []string{changesText(&all), timeText(&all)}
	if hot := all.HeldAbove(above); hot > 0 {
		parts = append(parts, fmt.Sprintf("%s above %s °C", Span(hot), model.Number(above)))
	}
	lines := []string{fmt.Sprintf("all %d prints", len(jobs)) + Gap + strings.Join(parts, " · ")}
	for i := range use.Spools {
		lines = append(lines, "  "+filamentText(&use.Spools[i])+", "+Span(all.Filament[i].Time))
	}
	if text := classes(&use); text != "" {
		lines = append(lines, "  "+text)
	}
	return lines
}

// total adds prints up; spools and filament are by material, in the order met.
func total(jobs []Job) (all job.Report, use job.Use) {
	at := map[string]int{}
	all.Timed = jobs[0].Report.Timed
	for i := range jobs {
		r, u := &jobs[i].Report, &jobs[i].Use
		all.ToolChanges, all.ManualChanges = all.ToolChanges+r.ToolChanges, all.ManualChanges+
			r.ManualChanges
		all.Moving, all.Spread = all.Moving+r.Moving, all.Spread+r.Spread
		all.Timed = min(all.Timed, r.Timed)
		all.Waits.Heats += r.Waits.Heats
		all.Waits.Dwell += r.Waits.Dwell
		all.Waits.Heating += r.Waits.Heating
		all.Waits.Changing += r.Waits.Changing
		all.Held = append(all.Held, r.Held...)
		use.StyrenicHours += u.StyrenicHours
		use.AbrasiveHours += u.AbrasiveHours
		use.Unsaid = append(use.Unsaid, u.Unsaid...)
		for k, s := range u.Spools {
			n, met := at[s.Material]
			if !met {
				n = len(use.Spools)
				at[s.Material] = n
				use.Spools = append(use.Spools, job.Spool{Material: s.Material})
				all.Filament = append(all.Filament, job.Filament{})
			}
			sum := &use.Spools[n]
			sum.Used, sum.CM3, sum.Grams = sum.Used+s.Used, sum.CM3+s.CM3, sum.Grams+s.Grams
			all.Filament[n].Time += r.Filament[k].Time
		}
	}
	return all, use
}
