package walk

import (
	"slices"

	"bench/oilcan/model"
)

// Together gives the holds that share a screen with the current one, in their order, each answered for itself: nothing is
// done between them. nil where the current step has its screen to itself.
func (w *Walk) Together() []Row {
	b, s := w.Block(), w.Step()
	if s == nil {
		return nil
	}
	steps, from, now, to := w.sharing(b)
	if from == to {
		return nil
	}
	var out []Row
	for n := from; n <= to; n++ {
		x := &b.Proc.Steps[steps[n]]
		if n < now {
			out = append(out, w.doneRow(b, steps[n]))
			continue
		}
		out = append(out, Row{Step: x, Rank: model.Hold, Now: n == now})
	}
	return out
}

// sharing gives the steps of a block that are asked of a person, and of those the run, from the first to the last, that
// shares a screen with the current one.
func (w *Walk) sharing(b *Block) (steps []int, from, at, to int) {
	for i := range b.Proc.Steps {
		s := &b.Proc.Steps[i]
		k := stepKey(b.key, s.Name)
		if !w.applies(b, s.Only) || w.passed[k] && w.how[k].how == model.AsKnown {
			continue
		}
		if i == w.StepAt {
			at = len(steps)
		}
		steps = append(steps, i)
	}
	beside := func(n int) bool { return n > 0 && n < len(steps) && b.Proc.Steps[steps[n]].Beside }
	from, to = at, at
	for beside(from) {
		from--
	}
	for beside(to + 1) {
		to++
	}
	return steps, from, at, to
}

// behind tells whether the current step is what a page of rows is shown for: the first hold behind them, or one that
// shares its screen.
func (w *Walk) behind(b *Block, rows []Row) bool {
	steps, from, _, _ := w.sharing(b)
	return from > 0 && slices.ContainsFunc(rows, func(r Row) bool { return r.Step == &b.Proc.Steps[steps[from-1]] })
}
