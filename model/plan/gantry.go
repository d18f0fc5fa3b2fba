package plan

import (
	"fmt"

	"bench/oilcan/model"
)

// A moving gantry cannot rest by itself: it is set onto blocks before the motors let go. Drawn from
// under it with the motors dead it runs down on the hand, so power comes back over the blocks, and
// over nothing else, for the one block that lifts the gantry off them: GantryFree. Where a machine
// will not jog before it is homed, two people free it unplugged: GantryHeld.
const (
	GantryFree = "gantry-free"
	GantryHeld = "gantry-held"

	// OverBlocks is the power of a machine switched on while its gantry stands on its blocks.
	// Nothing may be done in it but to lift the gantry off them, or to switch off again.
	OverBlocks = "on over blocks"
)

// hasGantry tells whether a machine's head hangs on a gantry that sinks without power.
func hasGantry(fs model.FeatureSet) bool { return fs["bedslinger"] }

// Gantry gives the power the planner counts on for a machine under power: OverBlocks where blocks
// stand under its gantry by the ledger.
func Gantry(fs model.FeatureSet, c model.Condition, l model.Ledger) string {
	if hasGantry(fs) && c[model.Power] == model.On && l.Inside[model.ItemBlocks] > 0 {
		return OverBlocks
	}
	return c[model.Power]
}

// PassesBlocks tells whether a set-up action may bring power over the blocks of a gantry.
func PassesBlocks(fs model.FeatureSet, setup string) bool {
	return hasGantry(fs) && (setup == model.PlugIn || setup == model.SwitchOn)
}

// StaysDark tells whether what is inside a machine may stay there as long as it has no power: the
// blocks of a gantry, the locks of a machine that travels.
func StaysDark(fs model.FeatureSet, name string) bool {
	return RestsOnBlocks(fs, name) || name == model.ItemLocks
}

// RestsOnBlocks tells whether what is inside a machine is what its gantry rests on.
func RestsOnBlocks(fs model.FeatureSet, name string) bool {
	return hasGantry(fs) && name == model.ItemBlocks
}

// switchesOn tells whether a set-up action brings power over the blocks of a gantry that stands on
// them.
func switchesOn(fs model.FeatureSet, ch *model.Change, bed string) bool {
	return hasGantry(fs) && ch.Variable == model.Power && ch.To == model.On && bed == model.Low
}

// breachOverBlocks says why something must not be done under power over the blocks, or why the
// gantry cannot be freed now; "" where it may.
func breachOverBlocks(fs model.FeatureSet, p *model.Procedure, c model.Condition) string {
	over := c[model.Power] == OverBlocks
	switch {
	case p.ID == GantryFree && !over:
		return "no block stands under the gantry of a machine under power; there is nothing to free"
	case p.ID == GantryHeld && (!hasGantry(fs) || c[model.Power] != model.Unplugged):
		return "blocks are drawn by hand only with the plug out"
	case !over || p.ID == GantryFree:
		return ""
	case p.Change == nil || p.Change.Variable != model.Power || p.Change.To != model.Off:
		return fmt.Sprintf("power is on over the blocks of the gantry; free it first (%s), or switch off", GantryFree)
	}
	return ""
}
