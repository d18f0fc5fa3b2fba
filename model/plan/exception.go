package plan

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Exception is one block's owned exception to the interlocks: in the steps its file marks as own,
// and in no other, these rules are lifted. No axis moves with the cover off, ever.
type Exception struct {
	Block  string   // procedure or set-up action
	Lifts  string   // letters of the rules lifted, "bde"
	Power  bool     // it may bring power onto a machine that is open
	Cover  bool     // with the head cover off
	Heats  bool     // it heats inside itself, so the sensor must be proved and the air clear
	Limb   string   // which limb may be where, and its protection
	Limits string   // what holds meanwhile
	Out    []string // ledger: what may be out of the machine meanwhile, beside what set-ups took out
	Inside []string // ledger: what may be inside it
	Flags  []string // ledger: which flags may stand
}

// Exceptions are the owned exceptions there are (common practice); an operator's own file has one
// only where it replaces one of these blocks.
var Exceptions = []Exception{
	{Block: "unload", Lifts: "b", Limb: "hands at roll and strand, outside the head; glasses", Limits: "extruder motion only"},
	{Block: GantryFree, Lifts: "d", Inside: []string{"blocks"}, Limb: "hands at the blocks' sides, nobody at the controls",
		Limits: "cold, queue held, card out; one jog of 10 mm up, no homing"},
	{Block: "switch-off", Lifts: "d", Inside: []string{"blocks"}, Limb: "hands at the blocks' sides, out before each jog", Limits: "cold; stands still while a block goes under"},
	{Block: "plate-wash", Lifts: "bd", Out: []string{"build plate"}, Limb: "hands at the plate tabs", Limits: "bed itself read cold; head parked high and away; no motion"},
	{Block: "cold-pull", Lifts: "b", Cover: true, Limb: "one hand on the strand above the head; heat glove, glasses", Limits: "no axis motion; tube drawn before heating"},
	{Block: "nozzle-swap", Lifts: "bde", Power: true, Cover: true, Heats: true, Out: []string{"sock", "old nozzle"}, Inside: []string{"blocks"},
		Limb: "both hands with spanner, socket, brush; heat gloves, glasses", Limits: "extruder only; heat zero while brushing; ends cold and unplugged"},
	{Block: "sock-check", Lifts: "bde", Power: true, Cover: true, Heats: true, Inside: []string{"blocks"},
		Limb: "one hand with peel tool; heat gloves", Limits: "heat zero before touching; ends cold and unplugged"},
	{Block: "screws-oil", Lifts: "de", Power: true, Out: []string{"plate"}, Inside: []string{"block", "blocks"},
		Limb: "one arm below the blocked bed with cloth or brush; gloves", Limits: "stop pressed, queue held, cold; block out before any jog"},
	{Block: "estop-check", Lifts: "bde", Power: true, Cover: true, Inside: []string{"blocks"}, Flags: []string{"sensor-plug"},
		Limb: "one hand on the switch, none inside", Limits: "50 °C asked for 5 s at most; then unplugged"},
	{Block: "bed-tram", Lifts: "b", Limb: "one hand with brush, gauge or knob from the edge; heat gloves", Limits: "heat zero while brushing; hand out before each jog"},
	{Block: "flow-check-look", Lifts: "b", Limb: "one hand at the cup's long handle; glasses", Limits: "extruder only"},
	{Block: "flow-check", Lifts: "b", Limb: "one hand at the cup's long handle; glasses", Limits: "extruder only"},
}

// ExceptionOf gives the owned exception of a block; ok is false where it has none.
func ExceptionOf(block string) (e Exception, ok bool) {
	i := slices.IndexFunc(Exceptions, func(e Exception) bool { return e.Block == block })
	if i < 0 {
		return Exception{}, false
	}
	return Exceptions[i], true
}

// lifts tells whether the block has an exception to a rule.
func lifts(block, rule string) bool {
	e, ok := ExceptionOf(block)
	return ok && slices.Contains(letters(e.Lifts), rule)
}

func letters(s string) []string {
	var out []string
	for _, r := range s {
		out = append(out, string(r))
	}
	return out
}

// allowed says why a resolved procedure cannot own what it says it owns.
func allowed(p *model.Procedure) error {
	e, _ := ExceptionOf(p.ID)
	for _, o := range p.Owns {
		switch {
		case o == "power" && !e.Power:
			return fmt.Errorf("%s owns power, and only nozzle-swap, sock-check, screws-oil and estop-check may: take owns out of its file", p.ID)
		case o == "hot" && !lifts(p.ID, "b"):
			return fmt.Errorf("%s owns hot, and has no exception to hands out of a hot machine: take owns out of its file", p.ID)
		}
	}
	return nil
}

// guard is what the interlocks demand before a procedure, whatever its file requires; the planner
// adds it to the file's require. Verify says the same in its own words.
func guard(p *model.Procedure, fs model.FeatureSet) model.Condition {
	g := model.Condition{}
	e, _ := ExceptionOf(p.ID)
	if slices.Contains(p.Owns, "power") {
		g[model.Power], g[model.Vapour] = "unplugged", "clear"
		if !e.Cover {
			g[model.Cover] = "on"
		}
		if e.Heats {
			g[model.Sensor] = "proved"
		}
	}
	if p.ID == "filter-swap" {
		g[model.Vapour] = "clear"
	}
	if leaves(p, model.Vapour) == "drying" {
		g[model.Power], g[model.Heat], g[model.Door], g[model.Top] = "unplugged", "cold", "open", "off"
	}
	if leaves(p, model.Heat) == "hot" {
		g[model.Power], g[model.Cover], g[model.Vapour], g[model.Sensor] = "on", "on", "clear", "proved"
	}
	if handsIn(p) && !slices.Contains(p.Owns, "hot") {
		g[model.Heat] = "cold"
	}
	if rungOf(p) == "proof" {
		g[model.Cover] = "on"
	}
	for v := range g {
		if !v.Exists(fs) {
			delete(g, v)
		}
	}
	return g
}

// leaves is the value a resolved procedure leaves of a variable, "" where it leaves it alone.
func leaves(p *model.Procedure, v model.Variable) string {
	value := ""
	for _, l := range p.Leave {
		if l.Variable == v && l.Only.Step == "" {
			value = l.Is
		}
	}
	return value
}

// handsIn tells whether a procedure's hands are inside the machine, as far as its require shows.
func handsIn(p *model.Procedure) bool {
	return p.Require[model.Door] == "open" || p.Require[model.Cover] == "off" || p.Require[model.Top] == "off"
}
