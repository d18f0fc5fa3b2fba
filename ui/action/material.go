package action

import (
	"fmt"
	"strings"

	"bench/oilcan/model"
)

// MaterialHours turns hours printed with polymers ("ABS=12", "PA-CF=3.5") into readings of the
// meters of styrenic and abrasive hours, by the shares of the table of materials: what the meter
// last showed, and the share of those hours on top.
func MaterialHours(m *model.Machine, table []model.Material, printed []string) ([]model.Reading,
	error) {
	grown := map[model.Meter]float64{}
	for _, p := range printed {
		name, hours, ok := strings.Cut(p, "=")
		if !ok {
			return nil, fmt.Errorf("%q does not say how long: write ABS=12, in hours", p)
		}
		x := model.FindMaterial(table, name)
		if x == nil {
			return nil,
				fmt.Errorf("there is no material %q: oilcan procedures show dry-filament lists them; hours of an unknown roll are given as unknown=N", strings.TrimSpace(name))
		}
		if x.Banned {
			return nil, fmt.Errorf("%s is never printed: see oilcan procedures show dry-filament",
				x.Name)
		}
		h, err := model.ReadAmount(hours, "h", nil)
		if err != nil {
			return nil, err
		}
		grown[model.StyrenicHours] += h * x.Styrenic
		grown[model.AbrasiveHours] += h * x.Abrasive
	}
	var out []model.Reading
	for _, k := range []model.Meter{model.StyrenicHours, model.AbrasiveHours} {
		if !(grown[k] > 0) {
			continue
		}
		was, _ := m.Shows(k)
		out = append(out, model.Reading{Meter: k, Value: was.Value + grown[k], How: "typed"})
	}
	if len(out) == 0 && len(printed) > 0 {
		return nil,
			fmt.Errorf("%s counts neither as styrenic nor as abrasive: there is nothing to log of it beside the hours", strings.Join(printed, ", "))
	}
	return out, nil
}
