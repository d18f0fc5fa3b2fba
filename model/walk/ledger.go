package walk

import (
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// A bed or gantry that can fall may be said to stand on blocks: it is low then, and how many there
// are is counted.
const (
	onBlocks   = "on blocks"
	blocksItem = insidePrefix + model.ItemBlocks
	said       = "said" // the key of moves that were said and not counted yet
)

// standsOn is how many blocks at least a bed, or a gantry with its two ends, stands on.
func (g *given) standsOn() int {
	if g.Features()["bedslinger"] {
		return 2
	}
	return 1
}

// bookSaid books blocks by the answer that they stand, as many at least as it takes, until they are
// counted: a break, a stop or a count that fails may come between. Another answer to the same
// question takes that back.
func (w *Walk) bookSaid(b *Block, s *model.Step) {
	countsIn := func(t model.Step) bool {
		_, in := t.In[model.ItemBlocks]
		return in && t.Only.Step == s.Name
	}
	if s.Gate != model.Choice || !slices.ContainsFunc(b.Proc.Steps, countsIn) {
		return
	}
	delete(w.moves[said], blocksItem)
	next := w.nextStep(b, stepIndex(b, s.Name)+1)
	if next < len(b.Proc.Steps) && countsIn(b.Proc.Steps[next]) && w.total(blocksItem) == 0 {
		w.moves[said] = map[string]int{blocksItem: w.standsOn()}
	}
}

// moveAll books what a step takes out, puts back, puts in or takes again. The counts of a set-up
// action are of all there is: it may be done again where it was broken off, and says then how it
// stands.
func (w *Walk) moveAll(b *Block, s *model.Step, undone bool) {
	k := stepKey(b.key, s.Name)
	m := map[string]int{}
	for _, e := range s.Effects() {
		if undone && !e.Worse() {
			continue
		}
		switch e.Kind {
		case model.TakesOut:
			w.bring(b, m, e.Name, w.amount(b, s, e.Amount))
		case model.PutsIn:
			w.bring(b, m, insidePrefix+e.Name, w.amount(b, s, e.Amount))
		case model.BringsBack:
			w.undo(b, k, m, e.Name, w.amount(b, s, e.Amount))
		case model.TakesAgain:
			w.undo(b, k, m, insidePrefix+e.Name, w.amount(b, s, e.Amount))
		}
	}
	if len(m) > 0 {
		w.moves[k] = m
	}
	if !undone {
		w.bookSaid(b, s)
	}
}

// implied books what must be out or in where the person says how the machine stands: a cover that
// is off is out of the machine, whoever took it off.
func (w *Walk) implied() {
	for item, n := range w.impliedBy() {
		if w.total(item) < n {
			w.setCount(item, n)
		}
	}
}

// impliedBy gives what set-up actions must have taken out or put in for the machine to stand as it
// does, as far as their files fix the number. What stands under a bed or gantry without power is
// said, or booked as it goes in.
func (w *Walk) impliedBy() map[string]int {
	out := map[string]int{}
	for _, p := range w.setups {
		c := p.Change
		if c == nil || c.Variable == model.Power || c.To == model.Values[c.Variable][0] ||
			w.Believed[c.Variable] == "" || !model.Meets(c.Variable, w.Believed[c.Variable], c.To) {
			continue
		}
		for _, s := range p.Steps {
			if s.Only.Step != "" {
				continue
			}
			for item, a := range s.Out {
				out[item] = max(out[item], fixed(&s, a))
			}
			for item, a := range s.In {
				out[insidePrefix+item] = max(out[insidePrefix+item], fixed(&s, a))
			}
		}
	}
	return out
}

// fixed is an amount that its file settles, 0 where an answer does.
func fixed(s *model.Step, a model.Amount) int {
	switch {
	case a.Count != "":
		return 0
	case !a.Answer:
		return a.N
	case s.Equal != nil && s.Equal.Number != nil:
		return *s.Equal.Number
	}
	return 0
}

// debt tells whether a block has something out, in or flagged that only it undoes.
func (w *Walk) debt(b *Block) bool {
	sum := map[string]int{}
	for _, s := range b.Proc.Steps {
		for item, n := range w.moves[stepKey(b.key, s.Name)] {
			sum[item] += n
		}
		for flag := range s.Set {
			if w.passed[stepKey(b.key, s.Name)] && w.flags[flag] != "" {
				return true
			}
		}
	}
	for _, n := range sum {
		if n != 0 {
			return true
		}
	}
	return false
}

// due is what of the ledger must be brought back before a session ends: all but what stays in a
// machine without power. Blocks drawn from under a gantry then, it runs down on the hand.
func (w *Walk) due(l model.Ledger) model.Ledger {
	if w.Believed[model.Power] == model.On {
		return l
	}
	return withoutDark(w.Features(), l)
}

func withoutDark(fs model.FeatureSet, l model.Ledger) model.Ledger {
	in := map[string]int{}
	for name, n := range l.Inside {
		if !plan.StaysDark(fs, name) {
			in[name] = n
		}
	}
	l.Inside = in
	return l
}

// Due is what has to be put back or found at a machine that no session is at, before it is ready:
// all on its book but what stays in it without power, and a stub of strand in the toolhead.
func Due(m *model.Machine) model.Ledger {
	return withoutDark(model.NewFeatureSet(m.Features...), m.Ledger).WithoutStub()
}

// LeftOpen tells whether a session that closes comes before anything else: something is out of a
// machine, in it or loose. What one without power keeps until it has it again is left: the blocks
// its gantry rests on, and of one that is stopped a piece not found.
func LeftOpen(m *model.Machine) bool {
	if last := m.LastSession; !m.Stopped() && (last == nil || !last.Unplugged) {
		return !m.Ledger.WithoutStub().Empty()
	}
	l := Due(m)
	if m.Stopped() {
		delete(l.Flags, model.FlagLost)
	}
	return !l.Empty()
}
