package procedures

import (
	"fmt"
	"maps"
	"slices"

	"bench/oilcan/model"
)

// amount is a number of the ledger in terms of what the person will have typed: "" is the fixed
// part, every other key a number typed, a setting, or what the ledger held at the start.
type amount map[string]int

// add gives a with f times b on it; terms that cancel are gone.
func (a amount) add(b amount, f int) amount {
	out := maps.Clone(a)
	if out == nil {
		out = amount{}
	}
	for k, n := range b {
		if out[k] += f * n; out[k] == 0 {
			delete(out, k)
		}
	}
	return out
}

// state is where a run of the file stands.
type state struct {
	vars    model.Condition
	moved   map[model.Variable][]any       // where a gate or effect changed it
	ledger  map[string]amount              // what is out or inside, by name
	put     map[string][]any               // where it went out or in
	flags   map[string][]any               // where it was set
	numbers map[string]amount              // what was typed, by step
	asked   map[string]bool                // steps run
	cause   map[model.Variable]*model.Step // the step that set vapour or sensor
	aired   bool                           // a wait counted from the airing
	lens    string                         // the step a lens was cleaned in
}

// clone copies a state, for a branch.
func (s *state) clone() *state {
	t := *s
	t.vars, t.moved = s.vars.Clone(), maps.Clone(s.moved)
	t.ledger, t.put, t.flags = maps.Clone(s.ledger), maps.Clone(s.put), maps.Clone(s.flags)
	t.numbers, t.asked, t.cause = maps.Clone(s.numbers), maps.Clone(s.asked), maps.Clone(s.cause)
	return &t
}

// runner runs a file in one world.
type runner struct {
	c    *checker
	w    *world
	seen map[string]bool // problems told already, in another world
	left *int            // steps that may still be run, in all worlds together
	from map[string]int  // what set-up actions leave in the ledger, see leftBySetUps
}

// bad files a problem of a run once, whichever world found it first.
func (r *runner) bad(where []any, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	key := fmt.Sprint(where) + text
	if r.seen[key] {
		return
	}
	r.seen[key] = true
	r.c.bad(where, "%s%s", text, r.w)
}

// run runs the file in every world from what it requires to what it leaves.
func (c *checker) run() {
	worlds, all := c.worlds()
	seen, left := map[string]bool{}, maxRunSteps
	from := c.leftBySetUps()
	for _, w := range worlds {
		r := &runner{c: c, w: w, seen: seen, left: &left, from: from}
		s := r.start()
		r.end(r.steps(s, 0), nil)
	}
	if !all || left < 0 {
		c.bad(at(), "the file branches in too many ways to be run through: split it")
	}
}

// leftBySetUps lists the names that set-up actions put into the ledger and leave there, for a
// counterpart to close, with how many where that is always the same number, else 0.
func (c *checker) leftBySetUps() map[string]int {
	out := map[string]int{}
	for _, q := range c.l.SetUps() {
		for i := range q.Steps {
			for _, m := range []map[string]model.Amount{q.Steps[i].Out, q.Steps[i].In} {
				for name, a := range m {
					if n, again := out[name]; again && n != a.N {
						out[name] = 0
						continue
					}
					out[name] = a.N
				}
			}
		}
	}
	return out
}

// start is the state the file starts in.
func (r *runner) start() *state {
	s := &state{vars: model.Condition{}, moved: map[model.Variable][]any{},
		ledger: map[string]amount{}, put: map[string][]any{},
		flags: map[string][]any{}, numbers: map[string]amount{}, asked: map[string]bool{}, cause: map[model.Variable]*model.Step{}}
	maps.Copy(s.vars, r.require())
	if ch := r.c.change(); ch != nil {
		s.vars[ch.Variable] = ch.From
	}
	for name, fixed := range r.from {
		if r.c.uses(name) && !r.c.puts(name) {
			s.ledger[name] = amount{"start": 1}
			if fixed > 0 {
				s.ledger[name] = amount{"": fixed}
			}
		}
	}
	if r.c.uses(model.ItemLocks) && !r.c.puts(model.ItemLocks) { // left in by who packed it
		s.ledger[model.ItemLocks] = amount{"setting transport-locks": 1}
	}
	return s
}

// require is what the file requires in this world; of a variable the file never asks about, the
// machine has it.
func (r *runner) require() model.Condition {
	c := r.c.p.Require.Clone()
	for _, x := range r.c.p.RequireFor {
		if x.Only.OnMachine(r.w.fs, r.w.settings) {
			maps.Copy(c, x.Require)
		}
	}
	return c
}

// uses tells whether a step counts against a name in the ledger or takes it off.
func (c *checker) uses(name string) bool {
	return slices.ContainsFunc(c.p.Steps, func(s model.Step) bool {
		_, back := s.Back[name]
		_, taken := s.Taken[name]
		return back || taken || s.Equal != nil && s.Equal.Ledger == name
	})
}

// puts tells whether a step of the file itself puts a name into the ledger.
func (c *checker) puts(name string) bool {
	return slices.ContainsFunc(c.p.Steps, func(s model.Step) bool {
		_, out := s.Out[name]
		_, in := s.In[name]
		return out || in
	})
}

// steps runs the steps from one on to the last.
func (r *runner) steps(s *state, from int) *state {
	for i := from; i < len(r.c.p.Steps); i++ {
		step := &r.c.p.Steps[i]
		if !r.w.runs(step.Only, s.asked) {
			continue
		}
		if *r.left--; *r.left < 0 {
			return s
		}
		where := at("step", i)
		r.exits(s, step, where)
		s.asked[step.Name] = true
		r.homing(s, step, where)
		r.lens(s, step, where)
		r.gate(s, step, where)
		r.effects(s, step, where)
	}
	return s
}

// exits follows every miss of a step that leaves the way: it goes on at its step, or ends the
// procedure where nothing is out.
func (r *runner) exits(s *state, step *model.Step, where []any) {
	if r.c.isSetUp() {
		return // a set-up action is done, or the session stops
	}
	p := place{s: step, where: where, i: where[1].(int)}
	leave := func(m *model.Miss, at []any, answer string) {
		for ; m != nil; m, at = m.Else, in(at, "else") {
			if *r.left > 0 && (m.Then == model.ThenPart || m.Then == model.ThenPro ||
				m.Then == model.ThenLater) {
				*r.left -= 20 // what a copy of the state costs, in steps
				r.exit(s.clone(), p, m, at, answer)
			}
		}
	}
	leave(step.Miss, in(where, "miss"), "")
	for i, o := range step.Options {
		leave(o.Miss, in(where, "options", i, "miss"), o.Is)
	}
}

// exit follows one miss from a step.
func (r *runner) exit(s *state, p place, m *model.Miss, at []any, answer string) {
	s.asked[p.s.Name] = true
	to, found := r.c.step(m.Step)
	switch {
	case m.Step == "":
		if r.empty(s) {
			r.end(s, at)
		}
	case found && !to.later && to.i > p.i:
		w := *r.w
		w.answers = maps.Clone(w.answers)
		w.answers[p.s.Name] = answer
		w.say = append(slices.Clone(w.say), p.s.Name+" missed")
		sub := &runner{c: r.c, w: &w, seen: r.seen, left: r.left, from: r.from}
		sub.end(sub.steps(s, to.i), at)
	}
}

// empty tells whether nothing of this file's is out, in or flagged.
func (r *runner) empty(s *state) bool {
	for name, a := range s.ledger {
		if len(a) > 0 && !r.untouched(name, a) {
			return false
		}
	}
	return len(s.flags) == 0
}

// untouched tells whether a name holds exactly what it held at the start.
func (r *runner) untouched(name string, a amount) bool {
	n, left := r.from[name]
	return left && len(a) == 1 && (a["start"] == 1 || n > 0 && a[""] == n) && !r.c.puts(name)
}

// gate applies what passing a gate says.
func (r *runner) gate(s *state, step *model.Step, where []any) {
	switch step.Gate {
	case model.State:
		r.stateGate(s, step, where)
	case model.Count:
		s.numbers[step.Name] = r.number(s, step, where)
	case model.Wait:
		if step.Clock == model.Airing && step.Seconds >= 600 {
			s.aired = true
		}
	case model.Measure:
		r.warmth(s, step, where)
	}
}

// number is what a person types at a count that passes.
func (r *runner) number(s *state, step *model.Step, where []any) amount {
	own := amount{"at " + step.Name: 1}
	e := step.Equal
	if e == nil || !bringsBack(step) && (passes(step.Miss) || opens(step.Miss)) {
		if step.Min != nil && step.Max != nil && *step.Min == *step.Max && step.Miss == nil {
			return amount{}.add(amount{"": *step.Min}, 1)
		}
		return own
	}
	switch {
	case e.Number != nil:
		return amount{}.add(amount{"": *e.Number}, 1)
	case e.Setting != "":
		return amount{"setting " + e.Setting: 1}
	case e.Ledger != "":
		a, ok := s.ledger[e.Ledger]
		if !ok {
			r.bad(in(where, "equal"),
				"the ledger holds no %q here: nothing before put it out or in, write the name it went out under", e.Ledger)
		}
		return a
	case e.Count != "":
		if _, _, other := e.Elsewhere(); other {
			return own // a set-up action before this file asked for it
		}
		if a, ok := s.numbers[e.Count]; ok {
			return a
		}
		if to, ok := r.c.step(e.Count); !ok || to.i >= where[1].(int) || to.s.Gate != model.Count {
			return own // told at the step's form
		}
		r.bad(in(where, "equal"),
			"%q counts against %q, which is not asked on the way here: give both the same \"only\"", step.Name, e.Count)
	}
	return own
}

// amountOf resolves an amount of a ledger effect.
func (r *runner) amountOf(s *state, step *model.Step, a model.Amount, where []any) amount {
	switch {
	case a.Count != "":
		if n, ok := s.numbers[a.Count]; ok {
			return n
		}
		r.bad(where,
			"%q moves as many as %q counted, which is not asked on the way here: give both the same \"only\"", step.Name, a.Count)
		return nil
	case a.Answer:
		return s.numbers[step.Name]
	}
	return amount{"": a.N}
}

// effects applies a step's ledger effects, flags and clocks.
func (r *runner) effects(s *state, step *model.Step, where []any) {
	for _, e := range step.Effects() {
		at := in(where, e.Kind.Key(), e.Name)
		switch e.Kind {
		case model.TakesOut, model.PutsIn:
			s.put[e.Name] = at
			s.ledger[e.Name] = s.ledger[e.Name].add(r.amountOf(s, step, e.Amount, at), +1)
		case model.BringsBack, model.TakesAgain:
			a := r.amountOf(s, step, e.Amount, at)
			if _, known := s.ledger[e.Name]; !known {
				r.bad(at,
					"%q comes back and never went out under that name: write the name it went out under", e.Name)
				continue
			}
			s.ledger[e.Name] = s.ledger[e.Name].add(a, -1)
		case model.SetsState:
			if step.Set[e.Name] == "" {
				at = where // a clock that starts says so
			}
			r.setState(s, step, model.Variable(e.Name), e.Value, at)
		case model.ClearsFlag:
			delete(s.flags, e.Name)
		case model.SetsFlag:
			s.flags[e.Name] = at
			if e.Name == model.FlagOil {
				r.cautious(step, at, "oil")
			}
		}
	}
}

// setState applies what a step sets a variable to.
func (r *runner) setState(s *state, step *model.Step, v model.Variable, val string, where []any) {
	switch v {
	case model.Vapour:
		if val == model.Drying {
			r.airing(s, step, where)
			return
		}
		if s.vars[v] == model.Drying && !s.aired {
			r.bad(where,
				"only the clock makes vapour clear: put a wait with clock = \"airing\" and seconds = 600 before it")
		}
	case model.Sensor:
		s.cause[v] = step
	}
	r.put(s, v, val, where)
}

func (r *runner) put(s *state, v model.Variable, val string, where []any) {
	if s.vars[v] != val {
		s.vars[v], s.moved[v] = val, where
	}
}
