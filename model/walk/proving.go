package walk

import (
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// Set-up actions that the walk knows by name; those without a change of state it puts in where they
// are needed.
const (
	plugIn      = model.PlugIn
	switchOn    = model.SwitchOn
	sensorProof = "sensor-proof" // a temperature sensor that was parted, seen to read true
)

// HeatOff is the set-up action by which every heater's target is read as zero, before a machine is
// handed back.
const HeatOff = "heat-off"

// EndsWithTargets tells whether a session with such a block comes to HeatOff: it is the paper, or
// it heats.
func EndsWithTargets(p *model.Procedure) bool {
	if p == nil {
		return false
	}
	hot := func(l model.Left) bool { return l.Variable == model.Heat && l.Is == model.Hot }
	return isPaper(p) || p.Change != nil && p.Change.Variable == model.Heat &&
		p.Change.To == model.Hot ||
		slices.ContainsFunc(p.Leave, hot) || slices.ContainsFunc(p.Steps, func(s model.Step) bool {
		return drives(&s)
	})
}

// proveSensor puts the proof of the sensor behind switching on. It asks for heat, so a gantry that
// stands on its blocks is lifted off them first.
func (w *Walk) proveSensor(done *Block) {
	act := w.setUp(sensorProof)
	if done.ID != switchOn || !w.unproven() || act == nil {
		return
	}
	at := w.Cur
	for at < len(w.Blocks) && w.Blocks[at].ID == plan.GantryFree {
		at++
	}
	add := []*Block{newBlock(model.BlockSetUp, act)}
	if free := w.setUp(plan.GantryFree); at == w.Cur && free != nil &&
		w.total(insidePrefix+model.ItemBlocks) > 0 {
		// it was switched on for the proof alone
		add = []*Block{newBlock(model.BlockSetUp, free), add[0]}
	}
	w.Blocks = slices.Insert(w.Blocks, at, add...)
}

// afterWork is the paper as far as a session needs it: where no care was done, nothing was opened
// and nothing is out, only how the machine is handed back is asked.
func (w *Walk) afterWork(p *model.Procedure) *model.Procedure {
	if !w.Ledger().Empty() || slices.ContainsFunc(w.Blocks[:min(w.Cur, len(w.Blocks))], w.worked) {
		return p
	}
	q := *p
	q.Steps = slices.DeleteFunc(slices.Clone(p.Steps), func(s model.Step) bool {
		return s.AfterWork
	})
	return &q
}

// worked tells whether a person answered any step of a block that works at the machine, or opens
// it.
func (at *progress) worked(b *Block) bool {
	opens := b.Proc.Change != nil &&
		slices.Contains([]model.Variable{model.Cover, model.Top, model.Changer, model.Door},
			b.Proc.Change.Variable)
	if !opens && (b.Kind != model.BlockCare || b.Proc.Kind == model.Bookend) {
		return false
	}
	return slices.ContainsFunc(b.Proc.Steps, func(s model.Step) bool {
		h, ok := at.how[stepKey(b.key, s.Name)]
		return ok && h.how != model.AsKnown
	})
}

// withTargets puts the reading of every heater's target before the state a machine is handed back
// in is named, at the end of the paper where it is not named. Without power there is none.
func (w *Walk) withTargets(p *model.Procedure) *model.Procedure {
	act := w.setUp(HeatOff)
	if act == nil || w.powerless() || w.powerLocked() {
		return p
	}
	at := slices.IndexFunc(p.Steps, func(s model.Step) bool { return s.Name == handBackState })
	if at < 0 {
		at = len(p.Steps)
	}
	q := *p
	q.Steps = slices.Insert(slices.Clone(p.Steps), at, act.Steps...)
	q.Settings = append(slices.Clip(p.Settings), act.Settings...)
	q.Cautions = append(slices.Clip(p.Cautions), act.Cautions...)
	return &q
}

// rereadTargets forgets that the targets were read in paper that is under way: after a break it
// says nothing.
func (w *Walk) rereadTargets() {
	b, act := w.Block(), w.setUp(HeatOff)
	if b == nil || act == nil || !isPaper(b.Proc) {
		return
	}
	for _, s := range act.Steps {
		delete(w.passed, stepKey(b.key, s.Name))
	}
}

// targetsAtEnd lays the reading of the targets behind the last block of a session that heated and
// has no paper.
func (w *Walk) targetsAtEnd() bool {
	act := w.setUp(HeatOff)
	if act == nil || !w.targets || w.powerless() || w.powerLocked() || w.needs ||
		w.telling {
		return false
	}
	w.Blocks = append(w.Blocks, newBlock(model.BlockSetUp, act))
	return true
}
