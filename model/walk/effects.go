package walk

import (
	"slices"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// effects applies what passing a step brings about: ledger, flags, state, clocks. Of a step that
// was not done only what makes things worse is taken: what may be out is out, what was to go back
// is not back. What passes by an answer given before is no new reading.
func (w *Walk) effects(at time.Time, b *Block, s *model.Step, known, undone bool) {
	w.moveAll(b, s, undone)
	w.drive(b, s, at)
	if slices.Contains(s.Drives, "motion") {
		w.brought[model.Filament], w.brought[model.Bed] = w.Ordinal, w.Ordinal
	}
	for _, e := range s.Effects() {
		if undone && (!e.Worse() || takesStubOut(s)) {
			// a stub that stays leaves the head as it was
			continue
		}
		if w.telling && e.Kind == model.SetsState && model.Variable(e.Name).Latched() && !e.Worse() {
			continue // no tick clears vapour or proves a sensor
		}
		switch e.Kind {
		case model.SetsState:
			w.believe(model.Variable(e.Name), e.Value, at)
			w.aired = w.aired && model.Variable(e.Name) != model.Vapour
		case model.SetsFlag:
			w.flags[e.Name] = e.Value
		case model.ClearsFlag:
			delete(w.flags, e.Name)
			w.stays = w.stays && e.Name != stub
			if e.Name == stub && b.Kind != model.BlockOwed {
				w.stubGone()
			}
		case model.StartsClock:
			w.Clocks[e.Name] = at
		}
	}
	if s.Known == targetsZero && !w.telling && !undone &&
		affirms(s, w.answers[stepKey(b.key, s.Name)].Text) {
		w.targets = false
	}
	if s.Gate == model.State && !undone && !w.telling {
		w.believe(s.Variable, s.Value, at)
		w.Seen[s.Variable] = Seen{At: at, Note: "said"}
		w.dischargeFrom(s.Variable, s.Value, at)
		if plan.IsCut(b.ID) {
			w.implied() // a panel lifted off to let the air out is out
		}
	}
	if a := w.answers[stepKey(b.key, s.Name)]; !known && !w.telling && s.Gate == model.Measure &&
		a.Number != nil && s.Unit == "°C" {
		t, _ := model.TemperatureOf(s.Quantity)
		w.readPlaces(t, *a.Number, at)
	}
}

func (w *Walk) foldWaiting(e model.Entry, x *model.Walked) {
	b, s := w.Block(), w.Step()
	if s == nil {
		return
	}
	w.Waits = append(w.Waits, Running{Key: w.here(), Block: b.key, Why: s.Why, Begun: e.At,
		Until: x.Until, Before: s.Before, Clock: s.Clock, Name: nameOfWait(s),
		Attended: watched(b, s)})
	if s.Before != "" && s.Before != "next" {
		w.passed[w.here()] = true
		w.advance()
	}
}

func (w *Walk) foldCut(x *model.Walked) {
	for i, r := range w.Waits {
		if r.Key == x.Item {
			w.Waits = append(w.Waits[:i:i], w.Waits[i+1:]...)
			break
		}
	}
	if w.here() == x.Item {
		w.passed[x.Item] = true
		w.advance()
	}
}

// foldMissed carries out what a missed gate leads to.
func (w *Walk) foldMissed(e model.Entry, x *model.Walked) {
	if x.Then == model.ThenStop {
		if w.telling { // whatever else the sheet had: power, heat and the bed are asked now
			w.endTelling()
			w.toldNow(e)
		}
		w.stop(x.Why)
		return
	}
	b, s := w.Block(), w.Step()
	if s == nil {
		return
	}
	w.drive(b, s, e.At)
	switch x.Then {
	case model.ThenRedo:
		w.tries[w.here()]++
		w.refused = x.Why
		w.jumpBack(b, x.To)
	case model.ThenFind:
		w.loseHere(x.Why)
	case model.ThenLeftOver:
		w.loseHere(model.LeftOver + x.Why)
	case model.ThenPart, model.ThenPro, model.ThenLater:
		w.park(e, b, s, x)
	default: // note, due, add
		if x.Then == model.ThenAdd {
			w.pending = append(w.pending, splitIDs(x.Item)...)
		}
		w.unproved[w.here()] = true
		w.goOn(e, x)
	}
}

// goOn goes on after a gate that was missed.
func (w *Walk) goOn(e model.Entry, x *model.Walked) {
	if !x.Undone {
		w.pass(e, x)
		return
	}
	b, s := w.Block(), w.Step()
	w.effects(e.At, b, s, false, true)
	if takesStubOut(s) {
		w.stubStays(b, x)
	}
	w.passed[stepKey(b.key, s.Name)] = true
	w.advance()
}

func (w *Walk) jumpBack(b *Block, to string) {
	for i := range b.Proc.Steps {
		if b.Proc.Steps[i].Name == to {
			w.unpass(b, i, w.StepAt)
			w.waitAnew(b, i)
			w.StepAt = i
			return
		}
	}
}

// waitAnew forgets the waits of a block from a step on that were sat out and are gone back over:
// they run anew. What runs by a clock of the machine runs on by it.
func (rn *running) waitAnew(b *Block, from int) {
	rn.Waits = slices.DeleteFunc(slices.Clone(rn.Waits), func(r Running) bool {
		return r.Clock == "" && r.Before == "next" && slices.ContainsFunc(b.Proc.Steps[from:],
			func(s model.Step) bool { return stepKey(b.key, s.Name) == r.Key })
	})
}

// park ends a procedure that waits for a part or a person, unless it has something out: then it
// goes on at the step that brings it back.
func (w *Walk) park(e model.Entry, b *Block, s *model.Step, x *model.Walked) {
	if b.Kind != model.BlockCare && x.To == "" {
		w.limits = true
		w.goOn(e, x)
		return
	}
	b.Status, b.Why = Parked, x.Why
	w.parked[b.key] = x.Why
	if b.Kind == model.BlockSetUp {
		w.bar(b)
	}
	if x.To != "" {
		w.passed[stepKey(b.key, s.Name)] = true
		for i := range b.Proc.Steps {
			if b.Proc.Steps[i].Name == x.To {
				break
			}
			w.passed[stepKey(b.key, b.Proc.Steps[i].Name)] = true
		}
		w.advance()
		return
	}
	if w.debt(b) {
		w.goOn(e, x)
		return
	}
	w.leave(Parked, x.Why)
}

// bar leaves out the care that waits for a state which a set-up action could not bring about.
func (w *Walk) bar(b *Block) {
	c := b.Proc.Change
	if c == nil {
		return
	}
	w.barred[c.Variable] = c.To
	for _, ahead := range w.Blocks[w.Cur+1:] {
		if ahead.Kind == model.BlockCare && w.wantsBarred(ahead.Proc) {
			ahead.Status, ahead.Why = Omitted, b.Why
		}
	}
}

// wantsBarred tells whether a resolved procedure requires what a set-up action could not bring
// about in this session.
func (w *Walk) wantsBarred(p *model.Procedure) bool {
	for v, is := range w.barred {
		if p.Require[v] == is {
			return true
		}
	}
	return false
}

// stop leaves all care that is ahead undone; the machine is closed without power.
func (w *Walk) stop(why string) {
	w.Stopped, w.lost = why, nil
	for _, b := range w.Blocks[min(w.Cur, len(w.Blocks)):] {
		if b.Status == Ahead {
			b.Status, b.Why = Omitted, "stopped"
		}
		w.occur[b.ID]++
	}
	w.Cur, w.StepAt = len(w.Blocks), 0
	w.Waits = nil
	// what a fault, and stopping, may have changed
	w.toAsk = []model.Variable{model.Power, model.Heat, model.Bed}
	for _, v := range w.toAsk {
		w.forget(v) // what was believed before would have a say in what is booked now
	}
	w.needs = true
}
