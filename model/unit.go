package model

import (
	"fmt"
	"slices"
	"strings"
)

// way is one way to write a quantity: in the first unit of its kind it is (typed + shift) × by.
type way struct {
	names     []string
	by, shift float64
}

// kinds are the quantities that can be typed in more than one unit. The inch is 25.4 mm and the
// pound 0.45359237 kg by definition, standard gravity is 9.80665 m/s².
var kinds = [][]way{
	{{[]string{"mm"}, 1, 0}, {[]string{"cm"}, 10, 0}, {[]string{"m"}, 1000, 0},
		{[]string{"in", "inch", "inches", `"`}, 25.4, 0}, {[]string{"µm", "μm", "um"}, 0.001, 0}},
	{
		{[]string{"N"}, 1, 0},
		{[]string{"lbf", "lb"}, 4.4482216152605, 0},
		{[]string{"kgf"}, 9.80665, 0},
	},
	{{[]string{"Hz"}, 1, 0}, {[]string{"kHz"}, 1000, 0}},
	{{[]string{"°C"}, 1, 0}, {[]string{"°F", "F", "degF"}, 5.0 / 9, -32}},
	{
		{[]string{"ohm"}, 1, 0},
		{[]string{"kohm", "k", "kΩ"}, 1000, 0},
		{[]string{"Mohm", "MΩ"}, 1e6, 0},
	},
	{{[]string{"g"}, 1, 0}, {[]string{"kg"}, 1000, 0}, {[]string{"oz"}, 28.349523125, 0}},
	{{[]string{"h"}, 1, 0}, {[]string{"min"}, 1.0 / 60, 0}, {[]string{"d"}, 24, 0}},
}

// find gives the way a unit is written among those of a kind; nil where it is none of them.
func find(kind []way, unit string) *way {
	for i := range kind {
		if slices.ContainsFunc(
			kind[i].names,
			func(n string) bool { return oneUnit(n) == oneUnit(unit) },
		) {
			return &kind[i]
		}
	}
	return nil
}

// InUnit gives a value in another unit of its kind; ok is false where they are of different kinds.
func InUnit(v float64, from, to string) (in float64, ok bool) {
	if oneUnit(from) == oneUnit(to) {
		return v, true
	}
	for _, kind := range kinds {
		if a, b := find(kind, from), find(kind, to); a != nil && b != nil {
			return (v+a.shift)*a.by/b.by - b.shift, true
		}
	}
	return 0, false
}

// ReadIn reads a number in a unit, or in another of its kind that stands behind it: mm, cm, m, in
// and µm, N, lbf and kgf, Hz and kHz, °C and °F, ohm, k and Mohm, g, kg and oz, h, min and d. The
// value is in unit. can is as for One.
func ReadIn(text, unit string, can func(v float64) bool) (float64, error) {
	t, err := ReadNumber(text)
	if err != nil {
		return 0, err
	}
	if t.Unit != "" {
		var ok, small bool
		t.Value, ok = InUnit(t.Value, t.Unit, unit)
		t.Small, small = InUnit(t.Small, t.Unit, unit)
		if !ok || !small {
			return 0, fmt.Errorf("%q is not in %s", strings.TrimSpace(text), UnitWords(unit))
		}
	}
	return t.One(can)
}

// UnitWords are the units a value may be typed in: "mm, cm, m, in or µm".
func UnitWords(unit string) string {
	names := []string{unit}
	for _, kind := range kinds {
		own := find(kind, unit)
		for i := range kind {
			if own != nil && &kind[i] != own {
				names = append(names, kind[i].names[0])
			}
		}
	}
	switch last := len(names) - 1; {
	case unit == "":
		return "a plain number"
	case last == 0:
		return unit
	default:
		return strings.Join(names[:last], ", ") + " or " + names[last]
	}
}
