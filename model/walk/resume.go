package walk

import (
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// foldResumed makes the first eight variables unknown and lists what must be agreed anew.
func (w *Walk) foldResumed() {
	defer w.askedAgain(maps.Clone(w.passed))
	w.paused, w.lack = false, nil
	w.toAsk, w.toCount, w.stands = nil, nil, false
	w.guessAgain()
	w.restartSetUps()
	w.dropCut()
	w.restartOwned()
	w.reheat()
	w.nameAgain()
	w.rereadTargets()
	w.rereadCold()
	w.dischargeAgain()
	fs := w.Features()
	for _, v := range model.Variables {
		if v.Latched() {
			continue
		}
		delete(w.Believed, v)
		delete(w.Seen, v)
		if v.Exists(fs) {
			w.toAsk = append(w.toAsk, v)
		}
	}
	if w.aired && w.Believed[model.Vapour] == model.Drying {
		w.toAsk = append([]model.Variable{model.Vapour}, w.toAsk...)
	}
	l := w.Ledger()
	w.toCount = append(w.toCount, slices.Sorted(maps.Keys(l.Out))...)
	for _, k := range slices.Sorted(maps.Keys(l.Inside)) {
		w.toCount = append(w.toCount, insidePrefix+k)
	}
	for _, k := range slices.Sorted(maps.Keys(l.Flags)) {
		if k == lostPiece {
			if w.powerLocked() {
				w.toCount = append(w.toCount, lostItems(l.LostPieces())...)
			} else {
				w.lost = l.LostPieces() // to be found before anything else
			}
			continue
		}
		w.toCount = append(w.toCount, "flag:"+k)
	}
	w.toCount = without(w.toCount, insidePrefix+model.ItemLocks) // through packing nobody counts
	w.perhapsDone()
	w.forgetHeat()
	w.targets = w.targets || w.heated // read before the break, one may have been set in it
	w.needs = true
}

// nameAgain takes back how the machine is left, where that was named already: what is said of it
// after a break may allow another name only.
func (at *progress) nameAgain() {
	b := at.Block()
	if b == nil || !isPaper(b.Proc) {
		return
	}
	for _, s := range b.Proc.Steps {
		if slices.Contains([]string{stepLimit, stepUntil, stepLimitPart}, s.Name) ||
			slices.ContainsFunc(s.Options, func(o model.Option) bool {
				return slices.Contains(States, o.Is)
			}) {
			delete(at.passed, stepKey(b.key, s.Name))
			delete(at.answers, stepKey(b.key, s.Name))
		}
	}
}

// askedAgain keeps of what was passed what is asked again, and when it was broken off.
func (w *Walk) askedAgain(was map[string]bool) {
	for k := range was {
		if !w.passed[k] {
			w.cutOff[k] = w.last
		}
	}
}

// AskedAgain says that the current step was passed before a break, and is the first of those that
// are asked again for it; "" where it is not.
func (w *Walk) AskedAgain() string {
	at, ok := w.cutOff[w.here()]
	if !ok {
		return ""
	}
	b := w.Block()
	for i := range w.StepAt {
		if k := stepKey(b.key, b.Proc.Steps[i].Name); w.passed[k] && w.cutOff[k].Equal(at) {
			return ""
		}
	}
	day := "15:04"
	if w.LastAt.Sub(at) > 12*time.Hour {
		day = "2006-01-02 15:04"
	}
	return "asked again: broken off at " + at.Format(day)
}

// rereadCold takes back the readings that proved a part cold in procedures under way: such a
// reading holds only while nobody has walked away.
func (at *progress) rereadCold() {
	for _, b := range at.Blocks {
		if b.Status != Ahead || b.Kind != model.BlockCare || b.key == "" {
			continue
		}
		for _, s := range b.Proc.Steps {
			if provesCold(&s) {
				delete(at.passed, stepKey(b.key, s.Name))
				delete(at.skips, stepKey(b.key, s.Name))
			}
		}
	}
}

// restartSetUps forgets what was passed of set-up actions under way: that the plug was out, or a
// tube drawn, says nothing after a break. What they took out stays in the book, and power that was
// cut is asked.
func (w *Walk) restartSetUps() {
	for _, p := range w.setups {
		if p.ID == layOut {
			continue // what was laid out lies there still
		}
		key := blockKey(p.ID, w.occur[p.ID])
		steps := p.Steps
		if w.cutting() && w.isCut() && w.Block().ID == p.ID && w.Believed[model.Power] != model.On {
			steps = steps[cutTo(p):]
		}
		for _, s := range steps {
			k := stepKey(key, s.Name)
			delete(w.passed, k)
			delete(w.answers, k)
			delete(w.tries, k)
		}
		w.Waits = slices.DeleteFunc(slices.Clone(w.Waits), func(r Running) bool {
			return r.Block == key
		})
	}
}

// restartOwned begins a stretch under an owned exception again from its first step: power and heat
// inside it are not what they were, nor how the bed stands. What lies before a part was read cold
// is no longer in it.
func (w *Walk) restartOwned() {
	for _, b := range w.Blocks {
		if b.Status != Ahead || b.Kind != model.BlockCare || len(b.Proc.Owns) == 0 {
			continue
		}
		at := w.nextStep(b, 0)
		from := behindCold(b.Proc, at)
		first := slices.IndexFunc(b.Proc.Steps[from:], func(s model.Step) bool {
			return s.Own || s.Gate == model.State
		})
		if first += from; first < from || at <= first || at >= len(b.Proc.Steps) {
			continue
		}
		if s := b.Proc.Steps[at]; s.Own || s.Gate == model.State {
			w.settleMoves(b, first, at)
			w.unpass(b, first, at)
		}
	}
}

// behindCold is the place behind the last reading before a step that proved a part cold and is
// under no owned exception: it is read anew after a break, and what ran before it is over. 0 where
// there is none, or where power is owned too.
func behindCold(p *model.Procedure, at int) int {
	if slices.Contains(p.Owns, "power") {
		return 0
	}
	for i := min(at, len(p.Steps)) - 1; i >= 0; i-- {
		if s := &p.Steps[i]; !s.Own && provesCold(s) {
			return i + 1
		}
	}
	return 0
}

// provesCold tells whether a step reads that a part is cold.
func provesCold(s *model.Step) bool {
	return s.Gate == model.Measure && s.Unit == "°C" && s.High != nil && *s.High <= coldUpTo
}

// unpass takes steps [from, to) of a block as not passed; what they put back counts as out again.
func (w *Walk) unpass(b *Block, from, to int) {
	for i := from; i < to && i < len(b.Proc.Steps); i++ {
		k := stepKey(b.key, b.Proc.Steps[i].Name)
		delete(w.passed, k)
		delete(w.skips, k)
		delete(w.how, k)
		for item, n := range w.moves[k] {
			if n < 0 {
				delete(w.moves[k], item)
			}
		}
	}
}

func (w *Walk) foldSaid(e model.Entry, x *model.Walked) {
	if x.Variable == "" {
		return
	}
	w.staleByState(x.Variable, x.Answer, w.Believed[x.Variable])
	w.Believed[x.Variable], w.words[x.Variable] = x.Answer, w.Ordinal
	w.powered = w.powered || x.Variable == model.Power && x.Answer == string(model.On)
	w.dischargeFrom(x.Variable, x.Answer, earliest(e.At, x.Until))
	w.Seen[x.Variable] = Seen{At: e.At, Note: readNote(x)}
	if x.Variable == model.Heat {
		w.forgetHeat()
		w.heated = w.heated || x.Answer == string(model.Hot)
		w.targets = w.targets || x.Answer == string(model.Hot)
		if x.Number != nil {
			w.readPlaces(model.WarmestOf(w.Features()), *x.Number, e.At)
		}
	}
	w.darkened(x.Variable)
	w.aired = w.aired && x.Variable != model.Vapour
	if x.Variable == model.Bed && w.saidAgainst(blocksItem) != "" &&
		!slices.Contains(w.toCount, blocksItem) {
		// after a stop nothing else is counted
		w.toCount = append(slices.Clone(w.toCount), blocksItem)
	}
	w.toAsk = slices.DeleteFunc(slices.Clone(w.toAsk), func(v model.Variable) bool {
		return v == x.Variable
	})
	if x.Item == blocksItem && w.total(blocksItem) == 0 {
		w.setCount(blocksItem, w.standsOn())
		w.stands, w.toCount = true, append(slices.Clone(w.toCount), blocksItem)
	}
	w.implied()
	w.stubSaid()
	w.airing(e.At)
	w.noBlock(e, x)
}

// noBlock takes it as known that no block stands, where that is how the machine was said to stand
// and the book has none.
func (w *Walk) noBlock(e model.Entry, x *model.Walked) {
	_, perhaps := w.perhaps[blocksItem]
	if x.Variable == model.Bed && x.Item != blocksItem && w.total(blocksItem) == 0 && !perhaps {
		w.known[model.KnownBlocks] = known{at: e.At, text: x.Answer}
	}
}

func readNote(x *model.Walked) string {
	if x.Number == nil {
		return ""
	}
	return model.Figure(*x.Number) + " " + x.Unit
}

func (w *Walk) foldCounted(x *model.Walked) {
	w.toCount = slices.DeleteFunc(slices.Clone(w.toCount), func(s string) bool {
		return s == x.Item
	})
	if flag, ok := strings.CutPrefix(x.Item, "flag:"); ok {
		if x.Answer == string(model.Clear) {
			delete(w.flags, flag)
		}
		return
	}
	if x.Number == nil {
		return
	}
	had := w.total(x.Item)
	w.perhapsMoved(x.Item, int(*x.Number))
	delete(w.perhaps, x.Item)
	w.stands = w.stands && x.Item != blocksItem
	w.setCount(x.Item, int(*x.Number))
	if name, inside := strings.CutPrefix(x.Item, insidePrefix); inside && *x.Number > 0 &&
		plan.RestsOnBlocks(w.Features(), name) {
		// what stands on its blocks is at rest, whatever was said of it
		w.Believed[model.Bed] = model.Low
	}
	if x.Answer == "lost" {
		w.loseCounted(x.Item, had-int(*x.Number))
	}
}
