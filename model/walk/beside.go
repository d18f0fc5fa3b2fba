package walk

import "bench/oilcan/model"

// Together gives the holds that share a screen with the current one, in their order, each answered for itself: nothing is
// done between them. nil where the current step has its screen to itself.
func (w *Walk) Together() []Row {
	b, s := w.Block(), w.Step()
	if s == nil {
		return nil
	}
	var steps []int
	at := 0
	for i := range b.Proc.Steps {
		if !w.applies(b, b.Proc.Steps[i].Only) {
			continue
		}
		if i == w.StepAt {
			at = len(steps)
		}
		steps = append(steps, i)
	}
	beside := func(n int) bool { return n > 0 && n < len(steps) && b.Proc.Steps[steps[n]].Beside }
	from, to := at, at
	for beside(from) {
		from--
	}
	for beside(to + 1) {
		to++
	}
	if from == to {
		return nil
	}
	var out []Row
	for n := from; n <= to; n++ {
		x := &b.Proc.Steps[steps[n]]
		if n < at {
			out = append(out, w.doneRow(b, steps[n]))
			continue
		}
		out = append(out, Row{Step: x, Rank: model.Hold, Now: n == at})
	}
	return out
}
