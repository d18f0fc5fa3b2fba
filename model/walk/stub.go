package walk

import (
	"slices"

	"bench/oilcan/model"
)

// stub is the flag of a piece of filament that was cut off in the toolhead. It is taken out hot,
// before anything is loaded: where the head is unloaded, or by the check that is owed for it.
const stub = model.FlagStrand

// takesStubOut tells whether a step takes it out.
func takesStubOut(s *model.Step) bool { return s.Set[stub] == string(model.Clear) }

// stubStays books a stub that did not come out: it is there still, and so is what is owed for it.
// Nothing is loaded over it in this session, save by the care that is now due to draw it out.
func (w *Walk) stubStays(b *Block, x *model.Walked) {
	w.flags[stub], w.stays = "left", true
	w.owed = slices.Clone(w.owed)
	for i, o := range w.owed {
		if loads(o) <= 0 {
			continue
		}
		w.owed[i].over = true
		if k := stepKey(b.key, o.name()); b.ID == owedIn(o.heat) && !w.passed[k] {
			w.passed[k], w.skips[k] = true, x.Why
		}
	}
	due := splitIDs(x.Item)
	for _, ahead := range w.Blocks[w.Cur+1:] {
		if ahead.Kind == model.BlockCare && leavesLoaded(ahead.Proc) && !w.begun(ahead) &&
			!slices.Contains(due, ahead.ID) {
			ahead.Status, ahead.Why = Omitted, x.Why
			w.needs = true
		}
	}
}

// leavesLoaded tells whether a procedure loads filament.
func leavesLoaded(p *model.Procedure) bool {
	loaded := func(s model.Step) bool { return s.Set[string(model.Filament)] == model.Loaded }
	return slices.ContainsFunc(p.Steps, loaded) ||
		slices.ContainsFunc(p.Leave, func(l model.Left) bool {
			return l.Variable == model.Filament && l.Is == model.Loaded
		})
}

// stubGone drops what is owed for a stub that is out.
func (ow *owing) stubGone() {
	ow.owed = slices.DeleteFunc(slices.Clone(ow.owed), func(o owedStep) bool {
		return takesStubOut(&o.step)
	})
}

// stubSaid books a stub where the person says that the filament is parted.
func (w *Walk) stubSaid() {
	if w.Believed[model.Filament] == model.Parted && w.flags[stub] == "" {
		w.flags[stub] = "left"
	}
}

// stubUntold tells whether a stub was left in this session and nothing is owed for it.
func (w *Walk) stubUntold() bool {
	return w.flags[stub] != "" && w.Begun.Ledger.Flags[stub] == "" &&
		!slices.ContainsFunc(w.owed, func(o owedStep) bool { return takesStubOut(&o.step) })
}
