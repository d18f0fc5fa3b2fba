package model

import (
	"maps"
	"slices"
)

// EffectKind says what an effect of a step does.
type EffectKind int

// The kinds of effects, in the order in which they come about.
const (
	TakesOut    EffectKind = iota // so many of Name go out of the machine
	PutsIn                        // so many of Name go into it
	BringsBack                    // so many of Name are back
	TakesAgain                    // so many of Name are out of it again
	SetsState                     // the variable Name is Value
	SetsFlag                      // the flag Name stands, with Value
	ClearsFlag                    // the flag Name is gone
	StartsClock                   // the clock Name runs from now
)

// Key is the key of a step under which the effect is written.
func (k EffectKind) Key() string {
	return [...]string{"out", "in", "back", "taken", "set", "set", "set", "starts"}[k]
}

// Airing is the clock that runs while vapour clears.
const Airing = "airing"

// Effect is one thing that passing a step brings about, its gate apart.
type Effect struct {
	Kind   EffectKind
	Name   string // in the ledger, of a flag, a variable or a clock
	Amount Amount // what goes out or in, comes back or is taken again
	Value  string // of a variable or flag
}

// Worse tells whether the effect leaves more to be undone. Of a step that may have been done, or
// was begun and not done, such effects count; the others do not.
func (e Effect) Worse() bool {
	switch e.Kind {
	case TakesOut, PutsIn, SetsFlag:
		return true
	case SetsState:
		return e.Value != Proved && e.Value != string(Clear)
	case StartsClock:
		return e.Name == Airing
	}
	return false
}

// Effects lists what passing the step brings about: names in order within a kind. Where the airing
// clock starts there is vapour, whether the file says so too or not. The walk and the checker of
// procedures both go by this list.
func (s *Step) Effects() []Effect {
	var out []Effect
	move := func(k EffectKind, m map[string]Amount) {
		if len(m) == 0 { // most steps move nothing
			return
		}
		for _, name := range slices.Sorted(maps.Keys(m)) {
			out = append(out, Effect{Kind: k, Name: name, Amount: m[name]})
		}
	}
	move(TakesOut, s.Out)
	move(PutsIn, s.In)
	move(BringsBack, s.Back)
	move(TakesAgain, s.Taken)
	for _, name := range slices.Sorted(maps.Keys(s.Set)) {
		e := Effect{Kind: SetsFlag, Name: name, Value: s.Set[name]}
		switch {
		case Values[Variable(name)] != nil:
			e.Kind = SetsState
		case cleared(e.Value):
			e.Kind = ClearsFlag
		}
		out = append(out, e)
	}
	if slices.Contains(s.Starts, Airing) && s.Set[string(Vapour)] == "" {
		out = append(out, Effect{Kind: SetsState, Name: string(Vapour), Value: "drying"})
	}
	for _, name := range s.Starts {
		out = append(out, Effect{Kind: StartsClock, Name: name})
	}
	return out
}

// Wets tells whether the step brings vapour into the machine.
func (s *Step) Wets() bool {
	return slices.ContainsFunc(s.Effects(), func(e Effect) bool {
		return e.Kind == SetsState && e.Name == string(Vapour) && e.Value == Drying
	})
}

// cleared tells whether a flag's value takes it away.
func cleared(value string) bool { return value == "" || value == string(Clear) || value == "dry" }
