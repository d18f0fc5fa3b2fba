package demo

import (
	"math"
	"strings"

	"bench/oilcan/model"
)

// values are what a procedure's measures may have read; temperatures are no record worth keeping
// here.
func (k *keeper) values(p *model.Procedure) []model.Fact {
	var out []model.Fact
	read := map[string]float64{} // by step, in this visit
	for _, s := range p.Steps {
		if s.Gate != model.Measure || s.Meter != "" || s.Unit == "°C" || s.Only.Step != "" ||
			!s.Only.OnMachine(model.NewFeatureSet(k.m.Features...), nil) {
			continue
		}
		name := s.Record
		if name == "" {
			name = s.Quantity
		}
		v := k.near(s, name, read)
		if s.Name == "thickest" {
			v = max(v, read["thinnest"])
		}
		read[s.Name] = v
		out = append(out, model.Fact{Kind: model.KindValue,
			Value: &model.Measured{Name: name, Unit: s.Unit,
				Value: v, Procedure: p.ID, Step: s.Name, Low: s.Low, High: s.High}})
	}
	return out
}

// near is what a measure reads: close to what its file holds it against, else to what this machine
// read before.
func (k *keeper) near(s model.Step, name string, read map[string]float64) float64 {
	aim, spread := k.own(s, name), 0.02
	if s.Near != nil {
		if v, has := read[s.Near.Ref]; has {
			aim = v
		}
		if spread = s.Near.Share; aim != 0 && s.Near.Plus > 0 {
			spread = s.Near.Plus / aim
		}
		spread *= 0.7
	}
	v := aim * k.between(1-spread, 1+spread)
	if s.Low != nil {
		v = max(v, *s.Low)
	}
	if s.High != nil {
		v = min(v, *s.High)
	}
	digits := math.Pow(10, 2-math.Floor(math.Log10(max(v, 0.01)))) // three that count
	return math.Round(v*digits) / digits
}

// own is the value round which this machine's readings lie, drawn once.
func (k *keeper) own(s model.Step, name string) float64 {
	if v, has := k.usual[name]; has {
		return v
	}
	v := 10.0
	switch known, has := usualIn[strings.TrimSpace(s.Unit)]; {
	case name == "z offset": // its range is what a display can show, not what a machine has
		v = -0.2 * k.between(0.3, 0.7)
	case s.Low != nil && s.High != nil:
		v = *s.Low + (*s.High-*s.Low)*k.between(0.3, 0.7)
	case s.High != nil:
		v = *s.High * k.between(0.4, 0.8)
	case s.Low != nil:
		v = *s.Low*k.between(1.05, 1.3) + 0.1
	case has:
		v = known * k.between(0.97, 1.03)
	}
	k.usual[name] = v
	return v
}

// usualIn is a plausible value by unit, where a file gives no range.
var usualIn = map[string]float64{"Hz": 110, "ohm": 14.4, "mm": 0.2, "%": 24, "%RH": 24, "g": 3,
	"N": 12}
