package model

import (
	"cmp"
	"slices"
	"time"
)

// Struck gives the actions whose dated facts do not count: those named by a strike that is not
// itself struck. A strike names an action written before it, so the latest are judged first.
func Struck(entries []Entry) map[string]bool {
	var strikes []Entry
	for _, e := range entries {
		if e.Kind == KindStrike && e.Strike != nil {
			strikes = append(strikes, e)
		}
	}
	slices.SortFunc(strikes, func(a, b Entry) int { return compareSeq(b, a) })
	out := map[string]bool{}
	for _, e := range strikes {
		if !out[e.Action] {
			out[e.Strike.Action] = true
		}
	}
	return out
}

func compareSeq(a, b Entry) int { return cmp.Compare(a.Seq, b.Seq) }

// Fold folds a whole journal, in any order of its entries.
func Fold(entries []Entry) *Bench {
	b := NewBench()
	struck := Struck(entries)
	of := map[string][]Entry{}
	sessions := map[string][]Entry{}
	for _, e := range entries {
		if id := machineOf(e); id != "" {
			of[id] = append(of[id], e)
		}
		if ClassOf(e.Kind) != Dated && e.Session != "" {
			sessions[e.Session] = append(sessions[e.Session], e)
		}
	}
	for id, es := range of {
		if m := FoldMachine(id, es, struck); m != nil {
			b.Machines[id] = m
		}
	}
	for id, es := range sessions {
		if s := FoldSession(es); s != nil {
			b.Sessions[id] = s
		}
	}
	b.Drawer = FoldDrawer(entries, struck)
	return b
}

// machineOf is the machine an entry is about.
func machineOf(e Entry) string {
	if e.Fact.Machine != nil {
		return e.Fact.Machine.ID
	}
	return e.Machine
}

// FoldMachine folds the entries about one machine, given in any order: dated facts by when they
// happened (then by the journal), struck ones left out; descriptions and sessions in the journal's
// order. Nil where no entry describes the machine. The entries are not changed. Of the findings
// that stand the machine holds the newest 40, and the count of the others (More).
func FoldMachine(id string, entries []Entry, struck map[string]bool) *Machine {
	m := FoldWhole(id, entries, struck)
	if m != nil {
		m.putBy()
	}
	return m
}

// Standing gives all findings that stand, oldest first, of a machine's entries that note, move or
// close one.
func Standing(entries []Entry, struck map[string]bool) []Finding {
	m := newMachine("")
	var dated []Entry
	for _, e := range entries {
		if (e.Finding != nil || e.About() != "") && !struck[e.Action] {
			dated = append(dated, e)
		}
	}
	slices.SortStableFunc(dated, compareSeq)
	asHappened(dated)
	for _, e := range dated {
		_ = m.apply(e)
	}
	return m.Findings
}

// FoldWhole is FoldMachine with all findings that stand.
func FoldWhole(id string, entries []Entry, struck map[string]bool) *Machine {
	return FoldSeen(id, entries, struck, func(*Machine, Entry) {})
}

// FoldSeen is FoldWhole that shows each dated entry with the machine as it was just before; how its
// sessions ended is folded already then. The machine must not be changed or kept.
func FoldSeen(id string, entries []Entry, struck map[string]bool,
	before func(*Machine, Entry)) *Machine {
	m := newMachine(id)
	if m.takeIn(entries, struck, before); m.Described.IsZero() {
		return nil
	}
	return m
}

// FoldOn folds the entries written behind a snapshot into it, given in any order, and tells whether
// that is what folding all entries of the machine gives. It is not, and nothing is changed, where one
// of them lies before what the snapshot took in, or corrects it. None of them may strike, or put
// back, what was written before the snapshot.
func FoldOn(m *Machine, entries []Entry, struck map[string]bool) bool {
	if m.Session != "" || slices.ContainsFunc(entries, func(e Entry) bool {
		return isDated(e, struck) && m.changedBy(e)
	}) {
		return false
	}
	m.takeIn(entries, struck, func(*Machine, Entry) {})
	m.putBy()
	return true
}

// isDated tells whether a machine is folded of an entry by when it happened.
func isDated(e Entry, struck map[string]bool) bool {
	switch e.Kind {
	case KindMachine:
		return true
	case KindStock, KindStrike:
		return false
	}
	return ClassOf(e.Kind) == Dated && !struck[e.Action]
}

// changedBy tells whether a dated entry changes what was folded before it was written: it is
// earlier, corrects a reading, or is about a finding that may be one that is only counted.
func (m *Machine) changedBy(e Entry) bool {
	return e.At.Before(m.LastAt) || e.At.Before(m.Described) ||
		e.Reading != nil && e.Reading.Correct || e.About() != "" && m.More > 0
}

// takeIn folds entries into a machine: sessions in the journal's order, what is dated as it
// happened.
func (m *Machine) takeIn(entries []Entry, struck map[string]bool, before func(*Machine, Entry)) {
	es := entries
	if !slices.IsSortedFunc(es, compareSeq) {
		es = slices.Clone(entries)
		slices.SortStableFunc(es, compareSeq)
	}
	dated := make([]Entry, 0, len(es))
	described := m.Described
	titles := map[string]string{}
	for _, e := range es {
		switch e.Kind {
		case KindMachine:
			// A clock set back must not put an older description over a newer one.
			if e.At.Before(described) {
				e.At = described
			}
			described = e.At
		case KindBegun, KindClosed:
			if e.Begun != nil {
				titles[e.Session] = e.Begun.Title
			}
			_ = m.applySession(e, titles[e.Session]) // a fact without its part says nothing
		}
		if isDated(e, struck) {
			dated = append(dated, e)
		}
	}
	asHappened(dated)
	for _, e := range corrected(dated) {
		if e.Kind == KindMachine {
			m.describe(*e.Fact.Machine, e.At)
			continue
		}
		before(m, e)
		_ = m.apply(e)
	}
}

// asHappened puts dated entries that stand in the journal's order in the order in which they
// happened.
func asHappened(dated []Entry) {
	closeAfter(dated)
	slices.SortStableFunc(dated, func(a, b Entry) int { return a.At.Compare(b.At) })
}

// closeAfter takes what closes or moves a finding as no earlier than the finding: one noted under a
// clock that was ahead is closed when the clock is right again.
func closeAfter(dated []Entry) {
	found := map[string]time.Time{}
	for _, e := range dated {
		if e.Finding != nil {
			found[e.ID] = e.At
		}
	}
	for i, e := range dated {
		if at := found[e.About()]; e.About() != "" && e.At.Before(at) {
			dated[i].At = at
		}
	}
}

// corrected leaves out the readings that a later correction of the same counter takes back: those
// above the corrected value. The start of a replaced counter is lowered to it instead.
func corrected(dated []Entry) []Entry {
	if !slices.ContainsFunc(dated, func(e Entry) bool {
		return e.Reading != nil && e.Reading.Correct
	}) {
		return dated
	}
	out := slices.Clone(dated)
	gone := make([]bool, len(out))
	counter := map[Meter][]int{} // readings of the counter that is in, oldest first
	for i, e := range out {
		r := e.Reading
		if r == nil {
			continue
		}
		if r.NewMeter {
			counter[r.Meter] = nil
		}
		if r.Correct {
			for _, j := range counter[r.Meter] {
				old := out[j].Reading
				switch {
				case old.Value <= r.Value:
				case old.NewMeter:
					lowered := *old
					lowered.Value = r.Value
					out[j].Reading = &lowered
				default:
					gone[j] = true
				}
			}
		}
		counter[r.Meter] = append(counter[r.Meter], i)
	}
	kept := out[:0]
	for i, e := range out {
		if !gone[i] {
			kept = append(kept, e)
		}
	}
	return kept
}

// FoldDrawer folds every stock move among the entries, by when it happened.
func FoldDrawer(entries []Entry, struck map[string]bool) Drawer {
	d := Drawer{}
	d.FoldOn(entries, struck) // nothing was moved before
	return d
}

// FoldOn is the function FoldOn for the drawer.
func (d Drawer) FoldOn(entries []Entry, struck map[string]bool) bool {
	moves := make([]Entry, 0, len(entries))
	for _, e := range entries {
		if e.Kind != KindStock || e.Stock == nil || struck[e.Action] {
			continue
		}
		if d.changedBy(e) {
			return false
		}
		moves = append(moves, e)
	}
	slices.SortFunc(moves, func(a, b Entry) int {
		return cmp.Or(a.At.Compare(b.At), compareSeq(a, b))
	})
	for _, e := range moves {
		_ = d.apply(e) // in order, and with its part: cannot fail
	}
	return true
}

// changedBy tells whether a move is earlier than what is folded of its part.
func (d Drawer) changedBy(e Entry) bool {
	st := d[e.Stock.Part]
	return st != nil && e.At.Before(st.At)
}

// FoldSession folds the entries of one session; nil where it is not begun or no longer.
func FoldSession(entries []Entry) *Session {
	es := slices.Clone(entries)
	slices.SortStableFunc(es, compareSeq)
	var s *Session
	for _, e := range es {
		switch {
		case e.Kind == KindBegun && e.Begun != nil:
			s = newSession(e)
		case e.Kind == KindClosed:
			return nil
		case e.Kind == KindWalk && s != nil:
			_ = s.apply(e)
		}
	}
	return s
}
