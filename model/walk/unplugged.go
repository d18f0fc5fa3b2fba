package walk

import (
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// leavesUnplugged tells whether the session leaves its machine unplugged: no set-up action of it
// brings power back. A stop locks the power by rules of its own.
func (w *Walk) leavesUnplugged() bool {
	return w.Begun.Leave == model.Unplugged && !w.powerLocked()
}

// carry takes over what earlier sessions owe once there is power.
func (w *Walk) carry(owed []model.Owed) {
	for _, o := range owed {
		p := w.texts[o.Hash]
		if p == nil {
			continue
		}
		if i := slices.IndexFunc(p.Later, func(l model.Later) bool {
			return l.Name == o.Step
		}); i >= 0 {
			l := p.Later[i]
			w.owed = append(w.owed, owedStep{proc: o.Procedure, step: l.Step, heat: l.Heat,
				cautions: l.Cautions, hash: o.Hash, finding: o.Finding})
		}
	}
}

// settledOwed gives the facts that close the findings of checks owed by earlier sessions and had
// since, whatever was seen: what was not right has a finding of its own.
func settledOwed(was, is []owedStep) []model.Fact {
	var out []model.Fact
	for _, o := range was {
		still := slices.ContainsFunc(is, func(x owedStep) bool { return x.finding == o.finding })
		if o.finding != "" && !still {
			out = append(out, model.Fact{Kind: model.KindSettled,
				Settled: &model.Settled{Finding: o.finding, Why: "asked for under power"}})
		}
	}
	return out
}

// owesAtPower tells whether a machine without power has to be seen to work once it is on.
func (w *Walk) owesAtPower() bool {
	return w.powerless() && (len(w.owed) > 0 || w.unproven() || len(w.proofsLeft()) > 0)
}

// Owing are the checks that a machine left without power owes, or one with power was asked for and
// did not have, a few words each; nil where it owes none.
func (w *Walk) Owing(c Context) []string {
	if !w.powerless() {
		return w.passedOver()
	}
	var out []string
	if w.unproven() {
		out = append(out, "the temperature sensor proved, before any heat")
	}
	for _, o := range w.owed {
		out = append(out, o.step.Words())
	}
	for _, p := range w.proofsOwed(c) {
		out = append(out, p.Title)
	}
	return out
}

// passedOver are the checks under power that were skipped when they were asked for.
func (w *Walk) passedOver() []string {
	if len(w.owed) == 0 {
		return nil // asked again, and had
	}
	var out []string
	for _, b := range w.Blocks {
		for i := range b.Proc.Steps {
			s := &b.Proc.Steps[i]
			if _, skipped := w.skips[stepKey(b.key, s.Name)]; skipped && b.Kind == model.BlockOwed {
				out = append(out, s.Words())
			}
		}
	}
	return out
}

// proofsOwed are the proofs that work done in this session names and that could not be in it,
// because its machine is left unplugged.
func (w *Walk) proofsOwed(c Context) []*model.Procedure {
	var out []*model.Procedure
	for _, id := range w.proofsLeft() {
		if c.Get == nil {
			break
		}
		if p := c.Get(id); p != nil && p.Fits(w.Features()) {
			out = append(out, p)
		}
	}
	return out
}

// proofsLeft are the ids of those proofs, whether the machine has a use for them or not.
func (w *Walk) proofsLeft() []string {
	if w.Begun.Leave != model.Unplugged {
		return nil
	}
	var done []*model.Procedure
	for _, b := range w.Blocks {
		if b.Kind == model.BlockCare && (b.Status == Done || b.Status == Part) {
			done = append(done, b.text)
		}
	}
	return plan.ProofsOf(done)
}
