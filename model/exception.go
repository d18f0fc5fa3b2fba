package model

import (
	"slices"
	"strings"
)

// Own is what a procedure does that the interlocks forbid others: its word in "owns".
type Own string

// The ways to own an exception.
const (
	OwnPower Own = "power" // it brings power onto the machine itself, and ends unplugged
	OwnHot   Own = "hot"   // hands go into a machine that is not cold
	OwnLive  Own = "live"  // hands go into a machine under power that somebody else switched on
)

// Owns lists every word of "owns".
var Owns = []Own{OwnPower, OwnHot, OwnLive}

// Exception is one block's owned exception to the interlocks: in the steps its file marks as own,
// and in no other, these rules are lifted. No axis moves with the cover off, ever.
type Exception struct {
	Block string // procedure or set-up action
	// the rules lifted: b no hands in heat, d no power on an open machine, e who brings power
	Lifts  string
	Power  bool   // it may bring power onto a machine that is open
	Cover  bool   // with the head cover off
	Heats  bool   // it heats inside itself, so the sensor must be proved and the air clear
	Limb   string // which limb may be where, and its protection
	Limits string // what holds meanwhile
	// ledger: what may be out of the machine meanwhile, beside what set-ups took out
	Out    []string
	Inside []string // ledger: what may be inside it
	Flags  []string // ledger: which flags may stand
}

// Exceptions are the owned exceptions there are (common practice); an operator's own file has one
// only where it replaces one of these blocks.
var Exceptions = []Exception{
	{Block: "unload", Lifts: "b", Limb: "hands at roll and filament, outside the head; glasses",
		Limits: "extruder motion only"},
	{Block: "gantry-free", Lifts: "d", Inside: []string{"blocks"},
		Limb:   "hands at the blocks' sides, nobody at the controls",
		Limits: "cold, queue held, card out; one jog of 10 mm up, no homing"},
	{Block: "switch-off", Lifts: "d", Inside: []string{"blocks"},
		Limb:   "hands at the blocks' sides, out before each jog",
		Limits: "cold; stands still while a block goes under"},
	{Block: "plate-wash", Lifts: "bd", Out: []string{"build plate"},
		Limb:   "hands at the plate tabs",
		Limits: "bed itself read cold; head parked high and away; no motion"},
	{Block: "cold-pull", Lifts: "b", Cover: true, Out: []string{"glass top", "head tube"},
		Limb:   "one hand on the filament above the head; heat glove, glasses",
		Limits: "no axis motion; tube drawn before heating"},
	{Block: "nozzle-swap", Lifts: "bde", Power: true, Cover: true, Heats: true,
		Out: []string{"sock", "old nozzle"}, Inside: []string{"blocks"},
		Limb:   "both hands with spanner, socket, brush; heat gloves, glasses",
		Limits: "extruder only; heat zero while brushing; ends cold and unplugged"},
	{Block: "sock-check", Lifts: "bde", Power: true, Cover: true, Heats: true,
		Inside: []string{"blocks"},
		Limb:   "one hand with peel tool; heat gloves",
		Limits: "heat zero before touching; ends cold and unplugged"},
	{Block: "screws-oil", Lifts: "de", Power: true, Out: []string{"plate"},
		Inside: []string{"block", "blocks"},
		Limb:   "one arm below the blocked bed with cloth or brush; gloves",
		Limits: "stop pressed, queue held, cold; block out before any jog"},
	{Block: "estop-check", Lifts: "bde", Power: true, Cover: true, Inside: []string{"blocks"},
		Flags:  []string{"sensor-plug"},
		Limb:   "one hand on the switch, none inside",
		Limits: "50 °C asked for 5 s at most; then unplugged"},
	{Block: "bed-tram", Lifts: "b",
		Limb:   "one hand with brush, gauge or knob from the edge; heat gloves",
		Limits: "heat zero while brushing; hand out before each jog"},
	{Block: "stub-out", Lifts: "bd",
		Limb:   "one hand with pliers or cutter on the stub, above the head; heat glove, glasses",
		Limits: "queue held, nobody at the controls while the hand is in; door shut before it feeds"},
	{Block: "leak-clear", Lifts: "bde", Power: true, Cover: true, Heats: true,
		Inside: []string{"blocks"},
		Limb:   "one hand with wooden tools; heat gloves, glasses",
		Limits: "heat zero before touching; ends cold and unplugged"},
	{Block: "heater-swap", Lifts: "bd",
		Limb:   "one hand with the contact probe at the block; heat glove",
		Limits: "60 °C asked, one at the switch, no motion"},
	{Block: "flow-check-look", Lifts: "b", Limb: "one hand at the cup's long handle; glasses",
		Limits: "extruder only"},
	{Block: "flow-check", Lifts: "bd",
		Limb:   "one hand at the cup's long handle or with the plastic tool, none at the head; glasses",
		Limits: "extruder only; box off: job ended, queue held, targets zero, no motion"},
	{Block: "first-layer", Lifts: "d", Limb: "one hand with the plastic tool, none at the head",
		Limits: "job ended, queue held, targets zero; no motion"},
}

// ExceptionOf gives the owned exception of a block, an empty one where it has none.
func ExceptionOf(block string) Exception {
	for _, e := range Exceptions {
		if e.Block == block {
			return e
		}
	}
	return Exception{}
}

// May tells whether the block's file may own this: hot where rule b is lifted, power where it
// brings power, live where rule d is lifted and the power is not its own.
func (e Exception) May(o Own) bool {
	switch o {
	case OwnPower:
		return e.Power
	case OwnHot:
		return strings.Contains(e.Lifts, "b")
	case OwnLive:
		return strings.Contains(e.Lifts, "d") && !e.Power
	}
	return false
}

// OwnersOf lists the blocks that may own this, by name.
func OwnersOf(o Own) []string {
	var out []string
	for _, e := range Exceptions {
		if e.May(o) {
			out = append(out, e.Block)
		}
	}
	slices.Sort(out)
	return out
}
