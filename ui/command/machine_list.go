package command

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
)

func machineListCommand(a *app) *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use: "list", Short: "the machines of the bench",
		Example: "  oilcan machine list\n  oilcan machine list --all --json",
		Args:    between(0, 0, "no name"),
		RunE:    func(*cobra.Command, []string) error { return listMachines(a, all) },
	}
	c.Flags().BoolVar(&all, "all", false, "retired ones too")
	return c
}

// machineRow is a machine as programs read it.
type machineRow struct {
	ID       string            `json:"id"`
	Name     string            `json:"name"`
	Features []model.Feature   `json:"features"`
	Settings map[string]string `json:"settings"`
	Duty     model.Duty        `json:"duty"`
	Care     []string          `json:"care"` // what it is kept by; null: all that fits it
	// what its counters last showed, by meter; {} where none was read
	Meters   map[model.Meter]meterRow `json:"meters"`
	Session  *string                  `json:"session"`
	Tag      *model.Tag               `json:"tag"`
	OutOfUse bool                     `json:"out_of_use,omitempty"`
	Retired  bool                     `json:"retired,omitempty"`
}

// meterRow is a counter as programs read it.
type meterRow struct {
	Value float64   `json:"value"` // as its display shows it
	Unit  string    `json:"unit"`
	At    time.Time `json:"at"`
}

// metersOf gives what each counter of a machine last showed.
func metersOf(m *model.Machine) map[model.Meter]meterRow {
	out := map[model.Meter]meterRow{}
	for _, meter := range model.TypedMeters {
		if p, ok := m.Shows(meter); ok {
			out[meter] = meterRow{p.Value, meter.Unit(), p.At}
		}
	}
	return out
}

func listMachines(a *app, all bool) error {
	ms, b, err := benchMachines(a, all)
	if err != nil {
		return err
	}
	if a.flags.json {
		rows := make([]machineRow, 0, len(ms))
		for _, m := range ms {
			r := machineRow{ID: m.ID, Name: m.Name, Features: m.Features, Settings: m.Settings,
				Duty: m.Duty, Care: m.CareList, Meters: metersOf(m),
				Tag: m.Tag, OutOfUse: m.OutOfUse, Retired: m.Retired}
			if r.Features == nil {
				r.Features = []model.Feature{}
			}
			if r.Settings == nil {
				r.Settings = map[string]string{}
			}
			if m.Session != "" {
				r.Session = &m.Session
			}
			rows = append(rows, r)
		}
		return a.writeJSON(rows)
	}
	return list(a, ms, noMachine, table{}, func(m *model.Machine) []any {
		return []any{m.Name, m.Duty, readingsText(m), standing(m, b, a.now())}
	})
}

// readingsText says what a machine's counters last showed.
func readingsText(m *model.Machine) string {
	var out []string
	meters := metersOf(m)
	for _, meter := range model.TypedMeters {
		if r, ok := meters[meter]; ok {
			out = append(out, meter.Amount(r.Value))
		}
	}
	if len(out) == 0 {
		return "no counter read"
	}
	return strings.Join(out, ", ")
}

// standing says what is out of the ordinary with a machine.
func standing(m *model.Machine, b *model.Bench, now time.Time) string {
	var out []string
	if s := b.Sessions[m.Session]; s != nil {
		word := "begun"
		if s.Paused {
			word = "paused"
		}
		at := ""
		if s.Position != "" {
			at = " at " + s.Position
		}
		out = append(out, s.Title+" "+word+at)
	}
	if m.Tag != nil {
		out = append(out, strings.TrimSuffix("tag "+string(m.Tag.Kind)+": "+m.Tag.Why, ": "))
	}
	if n := len(m.Findings); n > 0 {
		out = append(out, model.Counted(n, "finding"))
	}
	switch {
	case m.Retired:
		out = append(out, "retired")
	case m.OutOfUse:
		out = append(out, "out of use since "+model.Day(m.Since, now))
	}
	return strings.Join(out, " · ")
}
