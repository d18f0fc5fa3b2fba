package model

import "slices"

// Meter is a count that only grows.
type Meter string

// The meters. Days is the calendar as a meter; Cuts is changes plus starts and is never typed.
const (
	Days          Meter = "days"
	Hours         Meter = "hours"
	Changes       Meter = "changes"
	Starts        Meter = "starts"
	Cuts          Meter = "cuts"
	StyrenicHours Meter = "styrenic-hours"
	AbrasiveHours Meter = "abrasive-hours"
)

// Meters lists every meter an interval may name.
var Meters = []Meter{Days, Hours, Changes, Starts, Cuts, StyrenicHours, AbrasiveHours}

// TypedMeters are those a person reads off a machine and types.
var TypedMeters = []Meter{Hours, Changes, Starts, StyrenicHours, AbrasiveHours}

// Typed tells whether a person can type the meter.
func (m Meter) Typed() bool { return slices.Contains(TypedMeters, m) }

// Unit is the word after a value of the meter.
func (m Meter) Unit() string {
	switch m {
	case Days:
		return "days"
	case Hours:
		return "h"
	case StyrenicHours:
		return "ABS/ASA h"
	case AbrasiveHours:
		return "abrasive h"
	}
	return string(m)
}

// Amount writes a value of the meter with its unit: "312 changes", "1 start", "11.2 h".
func (m Meter) Amount(v float64) string {
	unit := m.Unit()
	if v == 1 && (m.counts() || m == Days) {
		unit = unit[:len(unit)-1]
	}
	return Number(v) + " " + unit
}
