package plan

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// explain turns a search without result into a sentence: which procedure cannot be planned, and
// for the sake of which variable.
func (m *session) explain(err error, goal model.Condition) error {
	if err != errNoOrder {
		return err
	}
	met := m.reach(m.state)
	for i, q := range m.procs {
		if !slices.ContainsFunc(met, func(s int) bool { return m.to[i][s] >= 0 }) {
			return fmt.Errorf("%s cannot be planned: it requires %s, %s", q.Title,
				m.blame(m.needs(q), met), m.hint())
		}
	}
	if none := m.only(); !none.closes(goal) {
		return fmt.Errorf("the machine cannot be closed from here: nothing brings %s, %s",
			m.blame(goal, none.reach(m.state)), m.hint())
	}
	for i, q := range m.procs {
		one := m.only(i)
		if one.closes(goal) {
			continue
		}
		var ends []int
		for _, s := range one.only().reach(m.state) {
			if to := m.to[i][s]; to >= 0 {
				ends = append(ends, one.only().reach(int(to))...)
			}
		}
		return fmt.Errorf("%s cannot be planned: nothing after it brings %s, %s", q.Title,
			m.blame(goal, ends), m.hint())
	}
	for i, q := range m.procs {
		for j := range i {
			if !m.only(j, i).closes(goal) {
				return fmt.Errorf("%s and %s cannot be done in one session: one leaves what the other must not find; choose one of them", m.procs[j].Title, q.Title)
			}
		}
	}
	return fmt.Errorf("these procedures cannot be done in one session: one leaves what another must not find; choose fewer")
}

// only is the session with none but these of its procedures.
func (m *session) only(indices ...int) *session {
	one := *m
	one.procs, one.tools, one.to = nil, nil, nil
	for _, i := range indices {
		one.procs = append(one.procs, m.procs[i])
		one.tools = append(one.tools, m.tools[i])
		one.to = append(one.to, m.to[i])
	}
	one.prec, _ = precede(one.procs) // a part of what has no circle has none
	return &one
}

// closes tells whether the session can be done and ends in the goal.
func (m *session) closes(goal model.Condition) bool {
	_, err := solve(m.problem(goal, m.moves()), m.limit)
	return err != errNoOrder
}

// hint says what to do where something is out of reach.
func (m *session) hint() string {
	if m.locked {
		return "and power is locked after a stop: clear the stop by name first"
	}
	return "and no set-up action leads there from the state the machine is in: leave it out, or say the state again"
}

// reach lists the states that can be met from one.
func (m *session) reach(from int) []int {
	list, _ := m.within(from)
	return list
}

// blame names the first variable that never has the value wanted in these states, or the whole
// wish where each has it at some time but never together.
func (m *session) blame(wish model.Condition, states []int) string {
	all := ""
	for _, v := range model.Variables {
		if wish[v] == "" || !v.Exists(m.fs) {
			continue
		}
		one := want(model.Condition{v: wish[v]}, m.fs)
		if !slices.ContainsFunc(states, one.meets) {
			return fmt.Sprintf("%s %s", v, wish[v])
		}
		if all != "" {
			all += ", "
		}
		all += fmt.Sprintf("%s %s", v, wish[v])
	}
	return all + " together"
}
