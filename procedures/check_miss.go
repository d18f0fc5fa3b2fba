package procedures

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// misses checks every miss of a step.
func (c *checker) misses(s place) {
	c.eachMiss(s, func(m *model.Miss, where []any) { c.miss(s, m, where) })
	if s.s.Gate == model.State && (passes(s.s.Miss) || opens(s.s.Miss)) {
		c.bad(in(s.where, "miss"),
			"the state gate of %q would pass in the wrong state: use stop, wait, or redo with else = { then = \"stop\" }", s.s.Name)
	}
	if s.s.Gate == model.Count && (passes(s.s.Miss) && bringsBack(s.s) || opens(s.s.Miss) &&
		assumes(s.s)) {
		c.bad(in(s.where, "miss"),
			"the count of %q brings things back, and its miss lets it pass with some missing: use find or stop, or redo with else = { then = \"find\" }", s.s.Name)
	}
}

// bringsBack tells whether a step takes something off the ledger.
func bringsBack(s *model.Step) bool { return len(s.Back)+len(s.Taken) > 0 }

// assumes tells whether a step takes more off the ledger than the number typed at it, so that a
// count that falls short would leave the ledger untrue.
func assumes(s *model.Step) bool {
	for _, m := range []map[string]model.Amount{s.Back, s.Taken} {
		for _, a := range m {
			if !a.Answer {
				return true
			}
		}
	}
	return false
}

// passes tells whether a miss, or what it gives way to, lets the step pass.
func passes(m *model.Miss) bool {
	for ; m != nil; m = m.Else {
		if slices.Contains([]model.Then{model.ThenNote, model.ThenDue, model.ThenAdd}, m.Then) {
			return true
		}
	}
	return false
}

// opens tells whether a redo gives way to nothing: it then passes as noted.
func opens(m *model.Miss) bool {
	for ; m != nil; m = m.Else {
		if m.Then == model.ThenRedo && m.Else == nil {
			return true
		}
	}
	return false
}

// missKeys are the keys each miss may have beside then, say and days.
var missKeys = map[model.Then][]string{
	model.ThenStop: {"procedures"}, model.ThenFind: {}, model.ThenLeftOver: {}, model.ThenNote: {},
	model.ThenWait: {"seconds"}, model.ThenRedo: {"step", "tries", "else"},
	model.ThenPart: {"step", "idle"}, model.ThenPro: {"step", "idle"},
	model.ThenLater: {"step", "idle"},
	model.ThenDue:   {"procedures"}, model.ThenAdd: {"procedures"},
}

func (c *checker) miss(s place, m *model.Miss, where []any) {
	keys, ok := missKeys[m.Then]
	if !ok {
		return
	}
	c.text(in(where, "say"), m.Say, maxSay)
	for key, is := range map[string]bool{"step": m.Step != "", "tries": m.Tries != 0,
		"else": m.Else != nil, "idle": m.Idle,
		"procedures": len(m.Procedures) > 0, "seconds": m.Seconds != 0} {
		if is && !slices.Contains(keys, key) {
			c.bad(in(where, key), "%q does not belong to the miss %s: leave it out", key, m.Then)
		}
	}
	if m.Say == "" && slices.Contains([]model.Then{model.ThenStop, model.ThenPart, model.ThenPro,
		model.ThenLater, model.ThenWait}, m.Then) {
		c.bad(where, "the miss %s of %q says nothing: write say = \"what is wrong and what to do\"",
			m.Then, s.s.Name)
	}
	if m.Days < 0 || m.Days > 400 {
		c.bad(in(where, "days"), "days = %d: write 0 to 400", m.Days)
	}
	switch m.Then {
	case model.ThenWait:
		if m.Seconds <= 0 {
			c.bad(where, "the miss wait of %q needs seconds: write seconds = 600", s.s.Name)
		}
	case model.ThenDue, model.ThenAdd:
		if len(m.Procedures) == 0 {
			c.bad(where, "the miss %s of %q names no procedure: write procedures = [\"…\"]", m.Then,
				s.s.Name)
		}
	case model.ThenRedo:
		c.redo(s, m, where)
	case model.ThenPart, model.ThenPro, model.ThenLater:
		if m.Step == "" {
			return
		}
		if to, found := c.step(m.Step); !found || to.i <= s.i || to.later != s.later {
			c.bad(in(where, "step"), "%s",
				c.wrongStep(m.Step, found, fmt.Sprintf("the miss %s goes on at a step after %q",
					m.Then, s.s.Name)))
		}
	}
}

// redo checks a miss that goes back.
func (c *checker) redo(s place, m *model.Miss, where []any) {
	if m.Step == "" {
		c.bad(where, "the miss redo of %q names no step: write step = %q or an earlier one",
			s.s.Name, s.s.Name)
	} else if to, found := c.step(m.Step); !found || to.i > s.i || to.later != s.later {
		c.bad(in(where, "step"), "%s",
			c.wrongStep(m.Step, found, fmt.Sprintf("redo goes back to %q or a step before it",
				s.s.Name)))
	}
	if m.Tries < 0 || m.Tries > 20 {
		c.bad(in(where, "tries"), "tries = %d: write 1 to 20", m.Tries)
	}
	if m.Else != nil && m.Else.Then == model.ThenRedo {
		c.bad(in(where, "else"),
			"else cannot be redo again: write what follows when trying again did not help")
	}
}

// wrongStep is the sentence about a step that is not there or not where it must be.
func (c *checker) wrongStep(name string, found bool, rule string) string {
	if !found {
		return notOnList("step", name, c.stepNames())
	}
	return fmt.Sprintf("%s, and %q is not: name one that is", rule, name)
}
