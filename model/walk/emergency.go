package walk

import (
	"maps"
	"slices"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// emergency marks the plan that takes power away: a Planned fact with it as its Item leaves what
// was to be asked still to be asked.
const emergency = "emergency"

// alarm says why power that is on is an emergency now, "" where it is none.
func (w *Walk) alarm(c Context) string {
	if w.Ended || w.paused || w.telling || w.cutting() && !w.isCut() {
		return ""
	}
	return w.interlocks(c).Emergency(w.keeper())
}

// keeper is the block under way, whose owned exception holds, "" for none: one begun, or a set-up
// action that comes at once. After a break a block that is entered without power is not under way
// any more: it begins again unplugged.
func (w *Walk) keeper() string {
	b := w.Block()
	switch {
	case b == nil, w.needs && !model.Meets(model.Power, "on", b.Proc.Require[model.Power]):
		return ""
	case w.begun(b), b.Kind == model.BlockSetUp && !w.needs:
		return b.ID
	}
	return ""
}

// leaving tells whether the current block is on the way out of power: it goes before all that is to
// be asked and counted.
func (w *Walk) leaving() bool {
	b := w.Block()
	return w.cutting() || b != nil && b.Kind == model.BlockSetUp && plan.Leaves(b.ID) && !w.needs
}

// cutting tells whether the block that takes power away is under way. It is not over when power is
// off: vapour is let out and what hangs is held up first.
func (at *progress) cutting() bool {
	b := at.Block()
	return b != nil && plan.IsCut(b.ID)
}

// isCut tells whether the block under way has taken the power away.
func (at *progress) isCut() bool {
	b := at.Block()
	return b != nil && at.StepAt >= cutTo(b.Proc)
}

// cutTo is the number of steps of a block up to the one that takes the power away, that one
// included.
func cutTo(p *model.Procedure) int {
	return 1 + slices.IndexFunc(p.Steps, func(s model.Step) bool {
		return s.Gate == model.State && s.Variable == model.Power
	})
}

// dropCut drops the block that takes power away where it was broken off: whether power is still on
// is asked. Once power was off it stays, and begins again after that: what hung may hang still.
func (w *Walk) dropCut() {
	if !w.cutting() {
		return
	}
	if !w.isCut() {
		w.Blocks = slices.Delete(slices.Clone(w.Blocks), w.Cur, w.Cur+1)
	}
	w.enter()
}

// loose tells whether something is out, in or loose that the block under way does not account for.
func (w *Walk) loose(c Context) bool { return w.interlocks(c).Loose(w.keeper()) }

// cutFact lays the block that takes power away before all that is ahead, and says why. ok is false
// in a session begun before there were such blocks where the library has none either.
func (w *Walk) cutFact(c Context, why string) (f model.Fact, texts map[string][]byte, ok bool) {
	id := plan.CutPower
	if w.Believed[model.Vapour] == model.Drying {
		id = plan.CutVapour
	}
	ref, texts, ok := w.setUpRef(c, id)
	if !ok {
		return f, nil, false
	}
	ahead := []model.BlockRef{ref}
	if len(w.Blocks) == 0 && w.Cur == 0 {
		ahead = append(ahead, w.Begun.Items...)
	}
	for i := w.Cur; i < len(w.Blocks); i++ {
		if b := w.Blocks[i]; b.Kind == model.BlockCare && b.Status == Ahead || i == w.Cur &&
			b.Status == Parked {
			hash, _ := model.Text(b.text)
			ahead = append(ahead, model.BlockRef{Kind: b.Kind, ID: b.ID, Hash: hash})
		}
	}
	return w.walked(model.Walked{What: Planned, Plan: ahead, Item: emergency, Why: why}), texts,
		true
}

// looked takes what the block that takes power away saw of the blocks: counted there, they are not
// counted again.
func (w *Walk) looked(b *Block) {
	w.stands = false
	for _, s := range b.Proc.Steps {
		if _, ok := s.In[model.ItemBlocks]; ok && w.passed[stepKey(b.key, s.Name)] {
			w.toCount = slices.DeleteFunc(slices.Clone(w.toCount), func(item string) bool {
				return item == blocksItem
			})
		}
	}
}

// setUpRef finds a set-up action of the session, or of the library for a session begun before it
// had one.
func (g *given) setUpRef(c Context, id string) (model.BlockRef, map[string][]byte, bool) {
	for _, r := range g.Begun.SetUps {
		if r.ID == id {
			return model.BlockRef{Kind: model.BlockSetUp, ID: id, Hash: r.Hash}, nil, true
		}
	}
	p, err := g.joining(c, id)
	if err != nil || p == nil {
		return model.BlockRef{}, nil, false
	}
	hash, data := model.Text(p)
	g.texts[hash] = p
	return model.BlockRef{Kind: model.BlockSetUp, ID: id, Hash: hash},
		map[string][]byte{hash: data}, true
}

// foldEmergency makes the rest unknown as a break does: what was under way is broken off, and what
// stood still while power was on is not known to have stood.
func (w *Walk) foldEmergency(at time.Time) {
	defer w.askedAgain(maps.Clone(w.passed))
	for _, b := range w.Blocks[w.Cur:] {
		if w.begun(b) { // laid anew, it goes on by the key it had
			b.key = blockKey(b.ID, w.occur[b.ID])
		}
	}
	w.needs = true
	w.restartSetUps()
	w.restartOwned()
	w.reheat()
	w.nameAgain()
	w.rereadTargets()
	w.rereadCold()
	w.dischargeAgain()
	for _, v := range []model.Variable{model.Heat, model.Bed} {
		w.forget(v)
		if !slices.Contains(w.toAsk, v) {
			w.toAsk = append(w.toAsk, v)
		}
	}
	delete(w.Clocks, model.Airing)
	w.airing(at)
	w.enter()
}

// dark tells whether hands may look for a missing piece: the machine is unplugged, or it is not on
// and nothing leads to the plug any more.
func (w *Walk) dark() bool {
	switch w.Believed[model.Power] {
	case model.On:
		return w.keeper() != ""
	case model.Off:
		return !w.needs && !w.leaving()
	}
	return !w.leaving()
}
