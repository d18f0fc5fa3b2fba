package plan

import "bench/oilcan/model"

// PartFilament is the set-up action that cuts the filament at the head of a dark machine, so that
// what only needs the tubes clear does not have it plugged in and heated. The stub is taken out at
// the next heat.
const PartFilament = "part-filament"

// parts tells whether the filament of a session's machine may be parted: it was found without
// power. One that is on is unloaded, which leaves nothing behind; one that is stopped is left
// alone.
func (r Request) parts() bool {
	power := r.Start[model.Power]
	return power != "" && power != model.On && power != OverBlocks && !r.Locked
}

// unloads tells whether a change empties the head: it does so of a stub too.
func unloads(c *model.Change) bool {
	return c.Variable == model.Filament && c.To == model.Unloaded
}
