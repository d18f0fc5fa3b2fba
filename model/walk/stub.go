package walk

import (
	"slices"

	"bench/oilcan/model"
)

// stub is the flag of a piece of filament that was cut off in the toolhead. It is taken out hot, before anything is
// loaded: where the head is unloaded, or by the check that is owed for it.
const stub = "strand"

// takesStubOut tells whether a step takes it out.
func takesStubOut(s *model.Step) bool { return s.Set[stub] == "clear" }

// stubGone drops what is owed for a stub that is out.
func (ow *owing) stubGone() {
	ow.owed = slices.DeleteFunc(slices.Clone(ow.owed), func(o owedStep) bool { return takesStubOut(&o.step) })
}

// stubSaid books a stub where the person says that the filament is parted.
func (w *Walk) stubSaid() {
	if w.Believed[model.Filament] == model.Parted && w.flags[stub] == "" {
		w.flags[stub] = "left"
	}
}

// stubUntold tells whether a stub was left in this session and nothing is owed for it.
func (w *Walk) stubUntold() bool {
	return w.flags[stub] != "" && w.Begun.Ledger.Flags[stub] == "" && !slices.ContainsFunc(w.owed, func(o owedStep) bool { return takesStubOut(&o.step) })
}
