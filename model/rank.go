package model

// Rank says how a step is passed.
type Rank int

// The ranks, the lightest first.
const (
	PlainLine  Rank = iota // a row that may be passed together with others
	MarkedLine             // a row that is passed by a key of its own
	Hold                   // stands alone and is answered for itself
)

// Rank derives how a step is passed from what it does; alone and own_key in the file raise it,
// nothing lowers it. What can hurt is a hold: states and waits, a clock that starts, motion and
// heat, a flag that is cleared, and the counts by which a machine is closed. Oil wiped damp hurts
// nobody: a row of its own key.
func (s *Step) Rank() Rank {
	switch {
	case s.Alone, s.Gate == State, s.Gate == Wait, len(s.Starts) > 0, len(s.Drives) > 0, s.clears(),
		s.closes():
		return Hold
	case s.OwnKey, s.Set[FlagOil] == string(Clear):
		return MarkedLine
	}
	return PlainLine
}

// clears tells whether the step clears a flag of the ledger or sets a variable of the state.
func (s *Step) clears() bool {
	for name, value := range s.Set {
		if name == FlagOil && value == string(Clear) {
			continue
		}
		if value == "" || value == string(Clear) || Values[Variable(name)] != nil {
			return true
		}
	}
	return false
}

// closes tells whether the step is a count by which something is accounted for: what was taken out
// is back, what was put in is out again, or nothing is left.
func (s *Step) closes() bool {
	if s.Gate != Count {
		return false
	}
	if len(s.Back)+len(s.Taken) > 0 {
		return true
	}
	e := s.Equal
	return e != nil && (e.Ledger != "" || e.Count != "" || e.Number != nil && *e.Number == 0)
}

// Untouching tells whether a step does nothing to the machine and asks for no figure of it: it
// takes nothing out and puts nothing in, turns no screw, drives nothing and renews nothing. Only
// such a step may be done while a wait runs.
func (s *Step) Untouching() bool {
	looks := s.Gate == Choice || s.Gate == Confirm
	return looks && s.Rank() != Hold && !s.Own && s.Fastener == nil && len(s.Renewed) == 0 &&
		len(s.Out)+len(s.In)+len(s.Back)+len(s.Taken)+len(s.Set)+len(s.Starts)+len(s.Drives) == 0
}

// Typed tells whether a step's answer is a number or a text, which no row can show beforehand.
func (s *Step) Typed() bool {
	return s.Gate == Measure || s.Gate == Count || s.Gate == Note
}
