package model

import (
	"errors"
	"fmt"
	"maps"
)

// ErrRefold is returned by Apply for an entry that cannot simply be added to what is folded
// already: one earlier than its machine's latest, a strike, a correction of a meter. The entry's
// machine, or the drawer, has to be folded again from its entries.
var ErrRefold = errors.New("entry changes what was folded before it: fold again from the journal")

// Apply folds one entry in. Dated facts and machine descriptions must not be earlier than anything
// dated their machine (or, for stock, their part) has seen, else ErrRefold comes back and nothing
// is changed. An entry about a machine or session the bench does not hold is an error too.
func (b *Bench) Apply(e Entry) error {
	switch e.Kind {
	case KindMachine:
		return b.applyMachine(e)
	case KindBegun, KindClosed, KindWalk:
		return b.applySession(e)
	case KindStock:
		return b.Drawer.apply(e)
	case KindStrike:
		return ErrRefold
	}
	m := b.Machines[e.Machine]
	if m == nil {
		return fmt.Errorf("entry %s is about a machine the bench does not have (%s)", e.ID,
			e.Machine)
	}
	if m.changedBy(e) {
		return ErrRefold
	}
	err := m.apply(e)
	m.putBy()
	return err
}

func (b *Bench) applyMachine(e Entry) error {
	if e.Fact.Machine == nil {
		return missing(e)
	}
	id := e.Fact.Machine.ID
	m := b.Machines[id]
	if m == nil {
		m = newMachine(id)
		b.Machines[id] = m
	}
	if m.changedBy(e) {
		return ErrRefold
	}
	m.describe(*e.Fact.Machine, e.At)
	return nil
}

// applySession folds a session entry; what a session says is ordered by its ordinals, so no time of
// day can make it late.
func (b *Bench) applySession(e Entry) error {
	s := b.Sessions[e.Session]
	if e.Kind == KindWalk {
		if s == nil {
			return fmt.Errorf("entry %s belongs to a session that is not begun (%s)", e.ID,
				e.Session)
		}
		return s.apply(e)
	}
	m := b.Machines[e.Machine]
	if m == nil {
		return fmt.Errorf("entry %s is about a machine the bench does not have (%s)", e.ID,
			e.Machine)
	}
	title := ""
	if s != nil {
		title = s.Title
	}
	if err := m.applySession(e, title); err != nil {
		return err
	}
	if e.Kind == KindClosed {
		delete(b.Sessions, e.Session)
		return nil
	}
	b.Sessions[e.Session] = newSession(e)
	return nil
}

// applySession folds a begun or closed session into the machine.
func (m *Machine) applySession(e Entry, title string) error {
	switch {
	case e.Kind == KindBegun && e.Begun != nil:
		m.Session = e.Session
		m.complain(e)
	case e.Kind == KindClosed && e.Closed != nil:
		c := e.Closed
		m.Session, m.Ledger, m.Latched, m.Stood = "", c.Ledger.tidy(), maps.Clone(
			c.Latched), maps.Clone(c.Stood)
		if m.LastSession == nil || m.LastSession.ID != e.Session { // else it was folded with it
			m.practise(e)
		}
		m.LastSession = &SessionEnd{ID: e.Session, Title: title, At: e.At, State: c.endState(),
			Unplugged: c.Unplugged}
	default:
		return missing(e)
	}
	return nil
}

// endState is how a session ended, in a word or two.
func (c *Closed) endState() string {
	switch {
	case c.State != "":
		return c.State
	case c.Stopped:
		return "stopped"
	case c.GivenUp:
		return "given up"
	}
	return ""
}

func newSession(e Entry) *Session {
	return &Session{
		ID: e.Session, Machine: e.Machine, Title: e.Begun.Title, Begun: e.At, By: e.By,
		Last: e.At, LastBy: e.By, Ordinal: e.Ordinal,
		Ledger: e.Begun.Ledger.tidy(), Latched: maps.Clone(e.Begun.Latched),
	}
}

// apply folds one session fact into the snapshot of a begun session.
func (s *Session) apply(e Entry) error {
	w := e.Walk
	if w == nil {
		return missing(e)
	}
	s.Last, s.LastBy, s.Ordinal = e.At, e.By, e.Ordinal
	if w.Position != "" {
		s.Position = w.Position
	}
	if w.What == WhatPaused || w.What == WhatResumed {
		s.Paused = w.What == WhatPaused
	}
	if w.Ledger != nil {
		s.Ledger = w.Ledger.tidy()
	}
	if len(w.Latched) > 0 {
		if s.Latched == nil {
			s.Latched = Condition{}
		}
		maps.Copy(s.Latched, w.Latched)
	}
	return nil
}

// apply folds a stock move into the drawer. What was never counted stays uncounted, whatever is
// taken or received; a count never falls below nothing.
func (d Drawer) apply(e Entry) error {
	s := e.Stock
	if s == nil {
		return missing(e)
	}
	if d.changedBy(e) {
		return ErrRefold
	}
	st := d[s.Part]
	if st == nil {
		st = &Stock{Part: s.Part}
		d[s.Part] = st
	}
	st.At = e.At
	if s.Counted != nil {
		n := *s.Counted
		st.Count = &n
	}
	if st.Count != nil {
		n := max(0, *st.Count+s.Change)
		st.Count = &n
	}
	if s.Minimum != nil {
		st.Minimum = *s.Minimum
	}
	if s.Lead != nil {
		st.Lead = *s.Lead
	}
	if s.Pack != nil {
		st.Pack = *s.Pack
	}
	if s.Price != nil {
		st.Price = nil
		if n := *s.Price; n > 0 {
			st.Price = &n
		}
	}
	return nil
}

func missing(e Entry) error {
	return fmt.Errorf("entry %s of kind %q lacks what that kind says", e.ID, e.Kind)
}
