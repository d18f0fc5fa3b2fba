package command

import (
	"strings"
	"time"

	"bench/oilcan/model"
)

// bookedRow is a print booked ahead as programs read it.
type bookedRow struct {
	Machine string                  `json:"machine"`
	File    string                  `json:"file"`
	Need    map[model.Meter]float64 `json:"need"`
	At      time.Time               `json:"at"`
	Entry   string                  `json:"entry"`
}

// bookedJobs lists the prints booked, on one machine or on all.
func bookedJobs(a *app, f jobFlags) error {
	if f.record || f.book || f.counts || f.unattended || f.material != "" {
		return misuse("no print file is given: oilcan job FILE --on MACHINE")
	}
	var words []string
	if f.on != "" {
		words = []string{f.on}
	}
	ms, err := chosenMachines(a, words)
	if err != nil {
		return err
	}
	var rows []bookedRow
	for _, m := range ms {
		for _, b := range m.Booked {
			rows = append(rows, bookedRow{m.Name, b.File, b.Need, b.At, b.ID})
		}
	}
	return list(a, rows, "no print is booked: oilcan job FILE --on MACHINE --book", table{},
		func(r bookedRow) []any {
			return []any{r.Machine, r.File, needWords(r.Need), "booked " + model.Day(r.At, a.now()),
				"take back: oilcan strike " + short(r.Entry) + " --why …"}
		})
}

// needWords says what a print uses: 312 changes, 11.2 h.
func needWords(need map[model.Meter]float64) string {
	var out []string
	for _, meter := range model.TypedMeters {
		if n := need[meter]; n > 0 {
			out = append(out, meter.Amount(n))
		}
	}
	return strings.Join(out, ", ")
}
