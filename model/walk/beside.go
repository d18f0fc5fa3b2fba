package walk

import (
	"slices"

	"bench/oilcan/model"
)

// Together gives the holds that share a screen with the current one, in their order, each answered
// for itself: nothing is done between them. nil where the current step has its screen to itself.
func (at *progress) Together() []Row {
	b, s := at.Block(), at.Step()
	if s == nil || at.telling {
		return nil
	}
	steps, from, now, to := at.sharing(b)
	if from == to {
		return nil
	}
	var out []Row
	for n := from; n <= to; n++ {
		x := &b.Proc.Steps[steps[n]]
		if n < now {
			out = append(out, at.doneRow(b, steps[n]))
			continue
		}
		out = append(out, Row{Step: x, Rank: model.Hold, Now: n == now})
	}
	return out
}

// sharing gives the steps of a block that are asked of a person, and of those the run, from the
// first to the last, that shares a screen with the current one.
func (at *progress) sharing(b *Block) (steps []int, from, now, to int) {
	for i := range b.Proc.Steps {
		s := &b.Proc.Steps[i]
		k := stepKey(b.key, s.Name)
		if !at.applies(b, s.Only) || at.passed[k] && at.how[k].how == model.AsKnown {
			continue
		}
		if i == at.StepAt {
			now = len(steps)
		}
		steps = append(steps, i)
	}
	beside := func(n int) bool { return n > 0 && n < len(steps) && b.Proc.Steps[steps[n]].Beside }
	from, to = now, now
	for beside(from) {
		from--
	}
	for beside(to + 1) {
		to++
	}
	return steps, from, now, to
}

// behind tells whether the current step is what a page of rows is shown for: the first hold behind
// them, or one that shares its screen.
func (at *progress) behind(b *Block, rows []Row) bool {
	steps, from, _, _ := at.sharing(b)
	return from > 0 && slices.ContainsFunc(rows, func(r Row) bool {
		return r.Step == &b.Proc.Steps[steps[from-1]]
	})
}
