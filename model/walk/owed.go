package walk

import (
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// What is owed stands in two blocks: right after switching on what needs no heat, then what does,
// behind one heating with the holds of the set-up action that heats.
const (
	owedCold = "owed"
	owedHot  = "owed-hot"
	heatAct  = "heat" // the set-up action whose holds stand before heat
)

type owedStep struct {
	proc     string
	step     model.Step
	heat     string          // what it needs of the heat, one of model.LaterHeats; "" is cold
	cautions []model.Caution // that stand with it
	over     bool            // passed over in this session: it stays owed and is not asked again
	hash     string          // of the text it stands in
	finding  string          // that says it is owed, of an earlier session; "" for none
}

// name is the step's name in the block of what is owed.
func (o owedStep) name() string { return o.proc + "." + o.step.Name }

// owedIn is the block in which a proof stands that needs such heat.
func owedIn(heat string) string {
	if heat == "warming" || heat == "hot" {
		return owedHot
	}
	return owedCold
}

// owe books the proofs a block leaves for when power is back. One that is owed already, because the
// block was done before, is owed once.
func (w *Walk) owe(b *Block) {
	for _, l := range b.Proc.Later {
		if l.When == model.LaterProof && b.Status != Parked && w.applies(b, l.Only) {
			o := owedStep{proc: b.ID, step: l.Step, heat: l.Heat, cautions: l.Cautions,
				hash: b.hash}
			o.over = w.stays && loads(o) > 0
			w.owed = slices.DeleteFunc(slices.Clone(w.owed), func(x owedStep) bool {
				same := x.proc == b.ID && x.step.Name == l.Name
				if same {
					o.finding = x.finding
				}
				return same
			})
			w.owed = append(w.owed, o)
		}
	}
}

// payOwed drops what was done in a block of proofs; what was passed over stays owed, and a stub
// that did not come out.
func (w *Walk) payOwed(b *Block) {
	var rest []owedStep
	for _, o := range w.owed {
		if owedIn(o.heat) == b.ID {
			k := stepKey(b.key, o.name())
			if stays := takesStubOut(&o.step) && w.flags[stub] != ""; w.passed[k] &&
				w.skips[k] == "" && !stays {
				continue
			}
			o.over = o.over || b.Proc.Step(o.name()) != nil
		}
		rest = append(rest, o)
	}
	w.owed = rest
}

// owedProc makes one block of the steps owed once power is back.
func (w *Walk) owedProc(b *Block) *model.Procedure {
	p := &model.Procedure{ID: b.ID, Title: b.Proc.Title, Kind: model.Proof,
		Purpose: "Each was done with the power out; now is the first time it can be seen to work."}
	switch {
	case w.Believed[model.Power] != model.On: // the machine was left without power: it stays owed
	case b.ID == owedCold:
		addOwed(p, looksFirst(w.owedWith("", "cold")))
	case w.Believed[model.Sensor] == model.Proved:
		w.addHeated(b, p)
	}
	return p
}

// looksFirst puts the procedures of which nothing stands alone before the others; each keeps the
// order of its own steps.
func looksFirst(owed []owedStep) []owedStep {
	alone := map[string]int{}
	for _, o := range owed {
		if o.step.Rank() == model.Hold {
			alone[o.proc] = 1
		}
	}
	slices.SortStableFunc(owed, func(a, b owedStep) int { return alone[a.proc] - alone[b.proc] })
	return owed
}

func addOwed(p *model.Procedure, owed []owedStep) {
	for _, o := range owed {
		s := o.step
		s.Name = o.name()
		s.Only.Step, s.Only.Is = "", nil
		p.Steps = append(p.Steps, s)
		for _, c := range o.cautions {
			c.Before = []string{s.Name}
			p.Cautions = append(p.Cautions, c)
		}
	}
}

// addHeated lays the proofs that need heat behind the holds of heating: first what must not be
// wrong with the machine, its fan too, then what is watched while it warms up, and only for what
// needs it the print temperature.
func (w *Walk) addHeated(b *Block, p *model.Procedure) {
	warming, hot := w.owedWith("warming"), w.owedWith("hot")
	if len(warming)+len(hot) == 0 {
		return
	}
	var first, rest []model.Step
	if act := w.setUp(heatAct); act != nil {
		at := slices.IndexFunc(act.Steps, func(s model.Step) bool {
			return drives(&s) && s.Gate == model.Measure
		})
		if at < 0 {
			at = len(act.Steps)
		}
		first, rest = act.Steps[:at], act.Steps[at:]
		p.Cautions, p.Gear = slices.Clone(act.Cautions), act.Gear
	}
	p.Steps = slices.Clone(first)
	addOwed(p, warming)
	if slices.ContainsFunc(hot, func(o owedStep) bool {
		return !w.passed[stepKey(b.key, o.name())]
	}) {
		p.Steps = append(p.Steps, rest...)
	}
	slices.SortStableFunc(hot, func(a, b owedStep) int { return loads(a) - loads(b) })
	addOwed(p, hot)
}

// loads orders proofs: first what takes a stub out, last what leaves filament in the head.
func loads(o owedStep) int {
	switch {
	case takesStubOut(&o.step):
		return -1
	case o.step.Set[string(model.Filament)] == model.Loaded:
		return 1
	}
	return 0
}

// reheat forgets what was passed of the heating before proofs that are under way: it says nothing
// after a break.
func (at *progress) reheat() {
	key := blockKey(owedHot, at.occur[owedHot])
	for k := range at.passed {
		if name, ok := strings.CutPrefix(k, key+"/"); ok && !strings.Contains(name, ".") {
			delete(at.passed, k)
			delete(at.tries, k)
		}
	}
}

// withOwed puts the blocks of what is owed among those planned.
func (w *Walk) withOwed(out []model.BlockRef) []model.BlockRef {
	if w.powerLocked() {
		return out
	}
	first := w.carriedNow(out)
	if w.leavesUnplugged() {
		return slices.Concat(first, out)
	}
	var add []model.BlockRef
	for _, id := range []string{owedCold, owedHot} {
		if w.owes(out, id) && (len(first) == 0 || w.willOwe(out, id)) {
			add = append(add, model.BlockRef{Kind: model.BlockOwed, ID: id})
		}
	}
	if len(add) > 0 {
		out = slices.Insert(out, w.placeOfOwed(out), add...)
	}
	return slices.Concat(first, out)
}

// carriedNow are the blocks of what earlier sessions owe, where the machine is found under power
// and whole: before anything else, for the plan may take the power away.
func (w *Walk) carriedNow(out []model.BlockRef) []model.BlockRef {
	on := w.setUp(switchOn)
	pulls := slices.ContainsFunc(out, func(r model.BlockRef) bool {
		c := w.texts[r.Hash].Change
		return c != nil && c.Variable == model.Power
	})
	if len(w.Blocks) > 0 || !pulls || on == nil || w.Believed[model.Power] != model.On ||
		!w.Ledger().Empty() {
		return nil
	}
	if whole, _ := w.Believed.Meets(on.Require, w.Features()); !whole {
		return nil
	}
	var first []model.BlockRef
	for _, id := range []string{owedCold, owedHot} {
		if slices.ContainsFunc(w.owed, func(o owedStep) bool {
			return o.finding != "" && owedIn(o.heat) == id && !o.over
		}) {
			first = append(first, model.BlockRef{Kind: model.BlockOwed, ID: id})
		}
	}
	return first
}

// owes tells whether anything done, or about to be, leaves a step for a block of what is owed.
func (w *Walk) owes(ahead []model.BlockRef, block string) bool {
	return slices.ContainsFunc(w.owed, func(o owedStep) bool {
		return owedIn(o.heat) == block && !o.over
	}) || w.willOwe(ahead, block)
}

func (g *given) willOwe(ahead []model.BlockRef, block string) bool {
	return slices.ContainsFunc(ahead, func(r model.BlockRef) bool {
		return slices.ContainsFunc(g.texts[r.Hash].Later, func(l model.Later) bool {
			return l.When == model.LaterProof && owedIn(l.Heat) == block
		})
	})
}

// placeOfOwed is behind the last switching on, and a gantry's blocks; where power is on and stays
// so, at once; else before the paper.
func (w *Walk) placeOfOwed(out []model.BlockRef) int {
	at, power := -1, false
	for i, r := range out {
		c := w.texts[r.Hash].Change
		power = power || c != nil && c.Variable == model.Power
		if c != nil && c.Variable == model.Power && c.To == model.On || r.ID == plan.GantryFree {
			at = i + 1 // nothing comes before a gantry is off its blocks
		}
	}
	if at < 0 && !power && w.Believed[model.Power] == model.On && !w.willOwe(out, owedCold) &&
		!w.willOwe(out, owedHot) {
		at = 0
	}
	if at >= 0 {
		return at
	}
	if i := slices.IndexFunc(out, func(r model.BlockRef) bool {
		return r.Kind == model.BlockCare && isPaper(w.texts[r.Hash])
	}); i >= 0 {
		return i
	}
	return len(out)
}

// setUp is a set-up action of the session by its id, nil where it was begun without.
func (g *given) setUp(id string) *model.Procedure {
	return model.ByID(g.setups, id)
}
