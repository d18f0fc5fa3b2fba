package measure

import (
	"maps"
	"slices"

	"bench/oilcan/model"
)

// Kept is a quantity on a machine's record that a calculator gives: a gate that asks it offers the
// calculator, and a measurement outside a session is kept under it.
type Kept struct {
	Quantity string
	By       string            // id of the calculator
	Row      string            // of its result
	Unit     string            // of the record
	Preset   map[string]string // field -> what stands in it from the start
	Fill     map[string]string // field -> quantity whose reading fills it
	Settings map[string]string // field -> setting of the machine that fills it
	// only a gate asks it: outside a session there is nothing to keep it for
	Gate    bool
	With    model.Feature // only on a machine that has it
	Without model.Feature // only on one that has it not
}

// Keeps are all of them.
var Keeps = []Kept{
	{With: "corexy", Quantity: "belt left", By: "belt", Row: "tone", Unit: "Hz",
		Fill: map[string]string{"span": "belt span", "last": "belt left"}},
	{Gate: true, Quantity: "belt left again", By: "belt", Row: "tone", Unit: "Hz",
		Fill: map[string]string{"span": "belt span"}},
	{With: "corexy", Quantity: "belt right", By: "belt", Row: "tone", Unit: "Hz",
		Fill: map[string]string{"span": "belt span", "other": "belt left", "last": "belt right"}},
	{Without: "corexy", Quantity: "belt x", By: "belt", Row: "tone", Unit: "Hz",
		Fill: map[string]string{"span": "belt span x", "last": "belt x"}},
	{Without: "corexy", Quantity: "belt y", By: "belt", Row: "tone", Unit: "Hz",
		Fill: map[string]string{"span": "belt span y", "last": "belt y"}},
	{Quantity: "map spread", By: "tilt", Row: "spread", Unit: "mm"},
	{Gate: true, Quantity: "map spread as found", By: "tilt", Row: "spread", Unit: "mm"},
	{Quantity: "frame diagonals apart", By: "square", Row: "apart", Unit: "mm"},
	{Gate: true, Quantity: "gantry out of square per 100 mm", By: "square", Row: "per 100 mm",
		Unit: "mm"},
	{Quantity: "printed diagonals apart", By: "skew", Row: "apart", Unit: "mm"},
	{Quantity: "heater resistance", By: "heater", Row: "measured", Unit: "ohm",
		Fill:     map[string]string{"leads": "meter leads"},
		Settings: map[string]string{"label": "heater-label"}},
	{Quantity: "thermistor", By: "thermistor", Row: "measured", Unit: "kohm",
		Fill: map[string]string{"temperature": "block temperature, cold"}},
	{Gate: true, Quantity: "thermistor by the table", By: "thermistor", Row: "by the table",
		Unit: "kohm", Fill: map[string]string{"temperature": "block temperature, cold"}},
	{Quantity: "platinum sensor", By: "platinum", Row: "measured", Unit: "ohm",
		Fill: map[string]string{"temperature": "block temperature, cold", "leads": "meter leads"}},
	{Gate: true, Quantity: "platinum sensor by the table", By: "platinum", Row: "by the table",
		Unit: "ohm", Fill: map[string]string{"temperature": "block temperature, cold"}},
	{Quantity: "flow", By: "flow", Row: "of what was asked", Unit: "%"},
	{Gate: true, Quantity: "metre as fed", By: "flow", Row: "mean", Unit: "g",
		Preset: map[string]string{"by": "weight"},
		Fill:   map[string]string{"weight-asked": "metre unfed"}},
	{Gate: true, Quantity: "wall as printed", By: "flow", Row: "mean", Unit: "mm",
		Preset: map[string]string{"by": "wall"},
		Fill:   map[string]string{"wall-asked": "wall as drawn"}},
	{Gate: true, Quantity: "roll loss", By: "drying", Row: "lost", Unit: "g",
		Fill: map[string]string{"before": "roll before drying"}},
}

// KeptAs gives what is kept under a quantity; nil where no calculator gives it.
func KeptAs(quantity string) *Kept {
	i := slices.IndexFunc(Keeps, func(k Kept) bool { return k.Quantity == quantity })
	if i < 0 {
		return nil
	}
	return &Keeps[i]
}

// KeptBy gives what is kept of a calculator, in the order of the table.
func KeptBy(id string) []*Kept {
	var out []*Kept
	for i := range Keeps {
		if Keeps[i].By == id {
			out = append(out, &Keeps[i])
		}
	}
	return out
}

// KeptOn gives what of a calculator is kept on a machine outside a session.
func KeptOn(id string, m *model.Machine) []*Kept {
	fs := model.NewFeatureSet(m.Features...)
	return slices.DeleteFunc(KeptBy(id), func(k *Kept) bool {
		return k.Gate || k.With != "" && !fs[k.With] || k.Without != "" && fs[k.Without]
	})
}

// Begin is what stands in the fields of a calculator from the start: what this machine's last
// measurement had in those that stay, readings of the record, and what the quantity presets.
// readings gives the last reading of a quantity, of the session before that of the record.
func (k *Kept) Begin(
	c *Calculator,
	m *model.Machine,
	readings func(string) (float64, string, bool),
) map[string]string {
	out := map[string]string{}
	for _, g := range lastWorked(c, m, k.Quantity) {
		if f := c.Field(g.Name); f != nil && f.Stays {
			out[g.Name] = g.Text
		}
	}
	for name, quantity := range k.Fill {
		f := c.Field(name)
		v, unit, ok := readings(quantity)
		if f == nil || !ok {
			continue
		}
		if in, same := model.InUnit(v, unit, f.Unit); same {
			out[name] = model.Digits(in)
		}
	}
	for name, setting := range k.Settings {
		if m != nil && m.Settings[setting] != "" {
			out[name] = m.Settings[setting]
		}
	}
	maps.Copy(out, k.Preset)
	return out
}

// lastWorked is what the last measurement of a calculator on a machine was worked out from: of the
// quantity itself, or else of any that the calculator gives.
func lastWorked(c *Calculator, m *model.Machine, quantity string) []model.Given {
	if w := m.Worked(quantity); w != nil && w.By == c.ID {
		return w.Given
	}
	for _, k := range KeptBy(c.ID) {
		if w := m.Worked(k.Quantity); w != nil && w.By == c.ID {
			return w.Given
		}
	}
	return nil
}

// Value is the result in the unit of the record; ok is false where the result has no such figure.
func (k *Kept) Value(r Result) (v float64, ok bool) {
	row, ok := r.Row(k.Row)
	if !ok || row.Unit == "" {
		return 0, false
	}
	v, ok = model.InUnit(row.Value, row.Unit, k.Unit)
	return Round(v), ok
}

// Worked is how a result was worked out, for the record.
func (c *Calculator) Worked(typed map[string]string, r Result) *model.Worked {
	w := &model.Worked{By: c.ID}
	for i := range c.Fields {
		f := &c.Fields[i]
		if text := f.text(typed); text != "" && f.Kind != Recording && c.Asks(f, typed) {
			w.Given = append(w.Given, model.Given{Name: f.Name, Text: text})
		}
	}
	for _, row := range r.Rows {
		w.Gave = append(w.Gave, model.Given{Name: row.Name, Text: row.Shown()})
	}
	return w
}
