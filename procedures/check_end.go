package procedures

import (
	"maps"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// end compares where a run ended with what the file says it leaves. exit is the miss it left by,
// nil at the last step.
func (r *runner) end(s *state, exit []any) {
	r.ledgerEnd(s, exit)
	for _, v := range model.Variables {
		r.variableEnd(s, v, exit)
	}
}

// ledgerEnd requires the ledger to be empty.
func (r *runner) ledgerEnd(s *state, exit []any) {
	for _, name := range slices.Sorted(maps.Keys(s.ledger)) {
		a := s.ledger[name]
		if len(a) == 0 || r.keeps(name, a) || name == model.ItemLocks && r.putAway(s) {
			continue
		}
		where := s.put[name]
		if where == nil {
			where = at()
		}
		if exit != nil {
			r.bad(exit,
				"%q is still out or inside where this miss ends the procedure: write step = \"…\", from which it comes back", name)
			continue
		}
		r.bad(where,
			"%q goes out or in and is not shown to come back: end with a count that must equal it, and back or taken with the same amount", name)
	}
	for _, flag := range slices.Sorted(maps.Keys(s.flags)) {
		if flag == model.FlagStrand && r.c.isSetUp() {
			continue // a stub stays a standing finding until the next hot window
		}
		if exit != nil {
			r.bad(exit,
				"the flag %q is still set where this miss ends the procedure: write step = \"…\", from which it is cleared", flag)
			continue
		}
		r.bad(s.flags[flag],
			"the flag %q is set and not cleared: clear it with set = { %s = \"clear\" } where that is done", flag, flag)
	}
}

// keeps tells whether a name may stay in the ledger: a set-up action leaves it for its counterpart,
// or a file of care found it there and left it.
func (r *runner) keeps(name string, a amount) bool {
	if !r.c.isSetUp() {
		return r.untouched(name, a)
	}
	if r.untouched(name, a) && (r.c.p.ID != model.PlugIn || name == model.ItemBlocks && r.drawnElsewhere()) {
		return true // found there, and left for its own counterpart
	}
	for _, q := range r.c.l.SetUps() {
		if q.ID != r.c.p.ID && closes(q, name) && slices.Contains(counterparts[r.c.p.ID], q.ID) {
			return true
		}
	}
	return false
}

// putAway tells whether a file leaves the machine without power.
func (r *runner) putAway(s *state) bool {
	_, left, _ := r.wanted(model.Power)
	return left && s.vars[model.Power] == model.Unplugged
}

// drawnElsewhere tells whether blocks are not drawn before the plug goes in: a gantry is lifted off
// them by its motors, and those under a bed come out before a door shuts.
func (r *runner) drawnElsewhere() bool { return r.w.fs["bedslinger"] || !r.w.fs["open-frame"] }

// closes tells whether a set-up action brings a name back: counted against the ledger, or a fixed
// number.
func closes(q *model.Procedure, name string) bool {
	counted, moved := false, false
	for i := range q.Steps {
		s := &q.Steps[i]
		counted = counted || s.Equal != nil && s.Equal.Ledger == name
		back, isBack := s.Back[name]
		taken, isTaken := s.Taken[name]
		counted = counted || back.N+taken.N > 0
		moved = moved || isBack || isTaken
	}
	return counted && moved
}

// counterparts say which set-up actions close what one leaves open.
var counterparts = map[string][]string{
	"unload":      {"changer-on"},
	"lower-bed":   {"plug-in", "switch-on"},
	"switch-off":  {"plug-in", "switch-on", "close-door", "gantry-free", "gantry-held"},
	"cut-power":   {"plug-in", "switch-on"},
	"cut-vapour":  {"plug-in", "switch-on", "close-door", "top-on"},
	"unplug":      {"plug-in", "switch-on"},
	"open-door":   {"close-door", "plug-in"},
	"changer-off": {"changer-on"},
	"top-off":     {"top-on"},
	"cover-off":   {"cover-on"},
}

// wanted is what a variable must be at the end: what the file leaves on this machine, else what it
// requires. said tells whether the file says anything of it.
func (r *runner) wanted(v model.Variable) (want string, left, said bool) {
	for _, l := range r.c.p.Leave {
		if l.Variable == v && l.Only.OnMachine(r.w.fs, r.w.settings) {
			return l.Is, true, true
		}
	}
	if ch := r.c.change(); ch != nil && ch.Variable == v {
		return ch.To, true, true
	}
	if want := r.require()[v]; want != "" {
		return want, false, true
	}
	switch v {
	case model.Vapour:
		return "clear", false, true
	case model.Sensor:
		return "proved", false, true
	}
	return "", false, false
}

// variableEnd checks one variable at the end of a run.
func (r *runner) variableEnd(s *state, v model.Variable, exit []any) {
	if !r.w.exists(v) {
		return
	}
	want, left, said := r.wanted(v)
	got, where := s.vars[v], s.moved[v]
	switch {
	case emergencyOnly(r.c.p.ID):
		return // the rest is planned after it, from how the machine stands then
	case v.Latched() && !left && s.cause[v] != nil && s.cause[v].Only.Step != "" && got != want:
		return // what only an answer leaves is planned as not left
	case exit != nil && (where == nil || v.Latched()):
		return
	case r.unplugsAtNeed(v, got, where):
		return // the rest is planned anew from there
	case v.Latched() && left && got != want && where == nil && !r.c.isSetUp():
		r.bad(at("leave", string(v)),
			"[leave] says %s is %s, and no step brings that about: write the same \"only\" as at the step, or leave it out", v, want)
		return
	case where == nil:
		if ch := r.c.change(); ch != nil && ch.Variable == v && v == model.Power {
			r.bad(at("change"), "no step brings power to %s: end with a state gate on power", want)
		}
		return
	case exit != nil && said && !model.Meets(v, got, want):
		r.bad(exit,
			"%s is %s where this miss ends the procedure, and must be %s: write step = \"…\", from which it is brought back", v, got, want)
		return
	case !said:
		if v == model.Heat && got == model.Cold {
			return
		}
		r.bad(where,
			"this leaves %s %s, and [leave] does not say so: write %s = %q there, or bring it back", v, got, v, got)
	case !model.Meets(v, got, want) || v == model.Power && got != want && !left:
		r.bad(where, "this leaves %s %s at the end, and it must be %s: %s", v, got, want,
			mend(v, left))
	}
}

// unplugsAtNeed tells whether a set-up action was brought to pull the plug by an answer: it ends
// safe, other than planned.
func (r *runner) unplugsAtNeed(v model.Variable, got string, where []any) bool {
	return r.c.isSetUp() && v == model.Power && got == model.Unplugged && where != nil &&
		r.c.p.Steps[where[1].(int)].Only.Step != ""
}

// mend says how to put a wrong end right.
func mend(v model.Variable, left bool) string {
	if left {
		return "bring it there, or write it as it is in [leave]"
	}
	return "bring it back, or say it in [leave] with " + string(v) + " = \"…\""
}

// listed joins words for a sentence.
func listed(list []string) string { return strings.Join(list, ", ") }
