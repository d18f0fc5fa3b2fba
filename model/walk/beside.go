package walk

import "bench/oilcan/model"

// Together gives the holds that share a screen with the current one, in their order, each answered for itself: nothing is
// done between them. nil where the current step has its screen to itself.
func (at *progress) Together() []Row {
	b, s := at.Block(), at.Step()
	if s == nil {
		return nil
	}
	var steps []int
	now := 0
	for i := range b.Proc.Steps {
		if !at.applies(b, b.Proc.Steps[i].Only) {
			continue
		}
		if i == at.StepAt {
			now = len(steps)
		}
		steps = append(steps, i)
	}
	beside := func(n int) bool { return n > 0 && n < len(steps) && b.Proc.Steps[steps[n]].Beside }
	from, to := now, now
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
		if n < now {
			out = append(out, at.doneRow(b, steps[n]))
			continue
		}
		out = append(out, Row{Step: x, Rank: model.Hold, Now: n == now})
	}
	return out
}
