package walk

import (
	"maps"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// fold moves the walk on by one entry. It is pure bookkeeping: whether the entry was right was
// judged by Answer before it was written.
func (w *Walk) fold(e model.Entry) {
	if e.Ordinal > 0 {
		if e.At.Sub(w.LastAt) >= overnight {
			w.heated = false
		}
		w.clock(e)
		w.staleByBreak(e)
		w.Ordinal = max(w.Ordinal, e.Ordinal)
		w.last, w.LastAt, w.LastBy = w.LastAt, e.At, e.By
		w.refused, w.again = "", ""
	}
	switch {
	case e.Fact.Begun != nil:
		w.foldBegun(e)
	case e.Closed != nil:
		w.Ended, w.End = true, e.Closed
	case e.Walk != nil:
		w.foldWalked(e, e.Walk)
	}
}

// clock books the time since the last fact: to waiting where a wait was passed or the session
// rested on one, otherwise to hands. Breaks of over half an hour, and pauses, count as neither.
func (w *Walk) clock(e model.Entry) {
	if w.LastAt.IsZero() || e.Walk == nil || w.paused || e.Walk.What == Resumed || w.telling {
		return
	}
	d := e.At.Sub(w.LastAt)
	if d <= 0 {
		return
	}
	s := w.Step()
	switch {
	case s != nil && s.Gate == model.Wait:
		w.waited += d.Minutes()
	case d <= maxIdle:
		w.hands += d.Minutes()
	}
}

func (w *Walk) foldBegun(e model.Entry) {
	w.ID, w.MachineID, w.Begun, w.Start = e.Session, e.Machine, *e.Fact.Begun, e.At
	w.Title = w.Begun.Title
	maps.Copy(w.Believed, w.Begun.Latched)
	for _, v := range model.Variables {
		if v.Latched() && w.Believed[v] == "" {
			w.Believed[v] = model.Values[v][0]
		}
	}
	in := map[string]int{}
	maps.Copy(in, w.Begun.Ledger.Out)
	for k, n := range w.Begun.Ledger.Inside {
		in[insidePrefix+k] = n
	}
	maps.Copy(w.left, w.Begun.Stood)
	w.moves["inherited"] = in
	maps.Copy(w.flags, w.Begun.Ledger.Flags)
	w.airing(e.At) // the clock of an earlier session is not trusted
	w.setups = nil
	for _, r := range w.Begun.SetUps {
		w.setups = append(w.setups, w.texts[r.Hash])
	}
	w.features, w.opened = model.NewFeatureSet(w.Begun.Features...), plan.OpenedNames(w.setups)
	w.carry(w.Begun.Owed)
	w.needs, w.telling = true, !w.Begun.Told.IsZero()
}

func (w *Walk) foldWalked(e model.Entry, x *model.Walked) {
	switch x.What {
	case Resumed:
		w.paused = false
		if !w.telling { // how it stands is asked when all is told
			w.foldResumed()
		}
	case Told:
		w.foldTold()
	case Paused:
		w.paused = true
	case Said:
		w.foldSaid(e, x)
	case Counted:
		w.foldCounted(x)
	case Planned:
		w.foldPlanned(e, x)
	case PageUp:
		w.foldPage(e, x)
	case Passed:
		w.seek(x)
		w.record(e, x)
		if !x.Auto || x.Answer == ranOut {
			w.foldCautions() // of what passed by itself nobody read any
		}
		w.foldHow(e, x)
		w.pass(e, x)
	case Missed:
		w.seek(x)
		w.record(e, x)
		w.foldCautions()
		w.foldHow(e, x)
		w.foldMissed(e, x)
	case Skipped:
		w.seek(x)
		w.drive(w.Block(), w.Step(), e.At)
		w.skips[w.here()] = x.Why
		w.passed[w.here()] = true
		w.advance()
	case LeftOut:
		w.leave(Omitted, x.Why)
	case Again:
		w.foldAgain(x)
	case Corrected:
		w.foldCorrected(x)
	case Early:
		w.foldEarly(e, x)
	case Lacking:
		w.foldLacking(x)
	case Lacked:
		w.foldLacked(x)
	case Waiting:
		w.foldWaiting(e, x)
	case Cut:
		w.foldCut(x)
	case Back:
		w.foldBack(x)
	case Ended:
		if w.unended != nil {
			delete(w.renewals, w.unended.key)
		}
		w.unended = nil
	case Found:
		w.foldFound(x)
	case Refused:
		w.refused = x.Why
		w.again, w.againAt = x.Answer, x.Step
		w.tooWarm(e, x)
	}
}

// foldPlanned lays the blocks from here on. Progress is kept by procedure, so that one interrupted
// in its middle goes on where it stood.
func (w *Walk) foldPlanned(e model.Entry, x *model.Walked) {
	w.Blocks = w.Blocks[:min(w.Cur, len(w.Blocks))]
	for _, r := range x.Plan {
		b := newBlock(r.Kind, w.proc(r))
		b.hash = r.Hash
		w.Blocks = append(w.Blocks, b)
	}
	w.Cur = min(w.Cur, len(w.Blocks))
	if x.Item == emergency {
		w.foldEmergency(e.At)
		return
	}
	w.needs, w.pending, w.toAsk = false, nil, nil
	w.enter()
}

func newBlock(kind model.BlockKind, p *model.Procedure) *Block {
	return &Block{Kind: kind, ID: p.ID, Proc: p, Status: Ahead, text: p}
}

func (g *given) proc(r model.BlockRef) *model.Procedure {
	if p := g.texts[r.Hash]; p != nil {
		return p
	}
	title := "Checks now that power is on"
	if r.ID == owedHot {
		title = "Checks that need heat"
	}
	return &model.Procedure{ID: r.ID, Title: title}
}

// enter starts the current block, and goes past blocks that ask for nothing.
func (w *Walk) enter() {
	for w.Cur < len(w.Blocks) || w.targetsAtEnd() {
		b := w.Blocks[w.Cur]
		b.key = blockKey(b.ID, w.occur[b.ID])
		if why, ok := w.parked[b.key]; ok && b.Status == Ahead {
			b.Status, b.Why = Parked, why
		}
		switch {
		case b.Kind == model.BlockOwed:
			b.Proc = w.owedProc(b)
		case b.ID == switchOn && w.unproven() && w.setUp(sensorProof) == nil:
			b.Proc = withSensorProof(b.text)
		case isPaper(b.Proc):
			b.Proc = w.withTargets(w.afterWork(b.text))
		case b.ID == layOut || b.ID == begin:
			b.Proc = w.onceProc(b)
		}
		w.StepAt = w.nextStep(b, 0)
		if w.StepAt < len(b.Proc.Steps) {
			return
		}
		w.finish(b)
	}
	w.StepAt = 0
}

func (at *progress) record(e model.Entry, x *model.Walked) {
	if k := at.here(); k != "" {
		at.answers[k] = Answered{At: e.At, Text: x.Answer, Number: x.Number, Action: e.Action}
	}
}

// foldHow keeps who passed the current step, and how it stood; a wait that ran out nobody did.
func (at *progress) foldHow(e model.Entry, x *model.Walked) {
	if k := at.here(); k != "" && (!x.Auto || x.How == model.AsKnown) {
		at.how[k] = passedHow{by: e.By, how: x.How}
	}
}

// pass applies a step's effects and goes on.
func (w *Walk) pass(e model.Entry, x *model.Walked) {
	b, s := w.Block(), w.Step()
	if s == nil {
		return
	}
	if _, ok := w.begunAt[b.key]; !ok {
		w.begunAt[b.key] = w.Ordinal
	}
	w.cameOut()
	w.effects(e.At, b, s, x.How == model.AsKnown, false)
	w.learn(e, b, s, x)
	w.lastKey = stepKey(b.key, s.Name)
	switch {
	case slices.Contains(s.Renewed, x.Answer) && b.Proc.Part != "":
		w.renewals[b.key] = renewal{key: b.key, block: b.ID, part: b.Proc.Part, step: s.Name}
	case len(s.Renewed) > 0 && w.renewals[b.key].step == s.Name:
		delete(w.renewals, b.key) // judged anew
	}
	w.passed[stepKey(b.key, s.Name)] = true
	w.advance()
}

// advance goes to the next step that applies, over the end of the block where there is none.
func (w *Walk) advance() {
	b := w.Block()
	if b == nil {
		return
	}
	w.StepAt = w.nextStep(b, 0)
	if w.StepAt < len(b.Proc.Steps) {
		return
	}
	w.finish(b)
	w.enter()
}

// finish ends a block: its change or what it leaves is believed from now on.
func (w *Walk) finish(b *Block) {
	barred := b.Kind == model.BlockSetUp && b.Status == Parked // it ends as it began
	w.needs = w.needs || barred
	if b.Proc.Change != nil && !barred {
		w.believe(b.Proc.Change.Variable, b.Proc.Change.To, w.LastAt)
		w.needs = w.needs || w.otherwise(b.Proc)
	}
	if c := b.Proc.Change; c != nil && c.Variable == model.Power && c.From == model.On {
		// what can fall rests or stands on blocks
		w.believe(model.Bed, "low", w.LastAt)
	}
	if plan.IsCut(b.ID) {
		w.looked(b)
		w.toAsk = slices.DeleteFunc(slices.Clone(w.toAsk), func(v model.Variable) bool {
			return v == model.Power || v == model.Bed
		})
	}
	if b.Kind == model.BlockCare {
		w.foldLeave(b)
	}
	if b.Kind == model.BlockOwed {
		w.payOwed(b)
	}
	w.owe(b)
	if r, ok := w.renewals[b.key]; ok && b.Status != Parked {
		w.unended = &r
	}
	if b.Status == Ahead {
		b.Status = Done
		for k := range w.skips {
			if strings.HasPrefix(k, b.key+"/") {
				b.Status = Part
			}
		}
		if w.dueAgain(b) != "" {
			b.Status = Part
		}
	}
	w.occur[b.ID]++
	w.Cur++
	w.proveSensor(b)
}

// otherwise tells whether a set-up action that keeps the power as it is ended with the plug out:
// the rest is planned anew.
func (bel *belief) otherwise(p *model.Procedure) bool {
	want := p.Require[model.Power]
	return p.Change.Variable != model.Power && want != "" &&
		!model.Meets(model.Power, bel.Believed[model.Power], want)
}

// foldLeave applies what a procedure leaves, save the latched variables, which its steps set.
func (w *Walk) foldLeave(b *Block) {
	for _, l := range b.Proc.Leave {
		if !l.Variable.Latched() && w.applies(b, l.Only) && !w.saidSince(b, l) {
			w.believe(l.Variable, l.Is, w.LastAt)
		}
	}
}

// saidSince tells whether how a variable is was said after a procedure was begun, and no step of it
// brought it to what it leaves since: what it leaves comes from its steps, and the person looked
// later. Cold it is by a reading.
func (w *Walk) saidSince(b *Block, l model.Left) bool {
	word := w.words[l.Variable]
	if word <= w.begunAt[b.key] {
		return false
	}
	if l.Variable == model.Heat && l.Is == model.Cold {
		d, ok := w.warmest()
		return !ok || d.value > coldUpTo
	}
	return word > w.brought[l.Variable]
}

// leave ends the current block unfinished.
func (w *Walk) leave(s Status, why string) {
	b := w.Block()
	if b == nil {
		return
	}
	w.leftHot(b)
	if b.Kind == model.BlockOwed {
		w.payOwed(b)
	}
	b.Status, b.Why = s, why
	if w.Believed[model.Vapour] == model.Drying && !w.Clocks[model.Airing].IsZero() {
		// what was still wiped with is not known: the airing counts from now
		w.Clocks[model.Airing] = w.LastAt
	}
	w.occur[b.ID]++
	w.Cur++
	w.enter()
}

func (w *Walk) believe(v model.Variable, val string, at time.Time) {
	if w.telling && !v.Latched() { // it says how the machine stood, not how it stands
		hot := v == model.Heat && val == model.Hot
		w.heated, w.targets = w.heated || hot, w.targets || hot
		return
	}
	w.staleByState(v, val, w.Believed[v])
	if w.Believed[v] != val || w.Seen[v].At.IsZero() {
		w.Seen[v] = Seen{At: at}
	}
	w.Believed[v], w.brought[v] = val, w.Ordinal
	if v == model.Power && val != model.Unplugged {
		delete(w.Clocks, unpluggedClock)
	}
	if v == model.Heat {
		w.settleHeat(val)
	}
	w.darkened(v)
	w.powered = w.powered || v == model.Power && val == model.On
	w.airing(at)
}

// airing keeps the clock that clears vapour: it runs while door and top are known to be open, and
// what ran before one of them was shut counts for nothing.
func (w *Walk) airing(at time.Time) {
	shut := w.Believed[model.Door] == model.Shut || w.Believed[model.Top] == model.On
	switch {
	case w.Believed[model.Vapour] != model.Drying:
	case shut:
		delete(w.Clocks, model.Airing)
		w.Waits = slices.DeleteFunc(slices.Clone(w.Waits), func(r Running) bool {
			return r.Clock == model.Airing
		})
	case w.Clocks[model.Airing].IsZero() && w.airs():
		w.Clocks[model.Airing] = at
	}
}

// airs tells whether vapour can leave: door and top are open, where the machine has them.
func (w *Walk) airs() bool {
	fs := w.Features()
	return (!model.Door.Exists(fs) || w.Believed[model.Door] == model.Open) &&
		(!model.Top.Exists(fs) || w.Believed[model.Top] == model.Off)
}
