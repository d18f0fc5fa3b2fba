package plan

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// What is measured stone cold comes before anything heats in a session: a block that was read cold
// at 45 °C is still 20 °C off the room, and a sensor moves 4 to 5 % a degree. Set-up actions that
// heat wait until it is done; on a machine that is hot, or was heated in this session, it is left
// for another day.

// Left is a procedure left out of a plan, and why.
type Left struct {
	ID  string `json:"id"`
	Why string `json:"why"` // one sentence: what is in the way and what to do
}

// stoneCold tells whether a resolved procedure is measured stone cold.
func stoneCold(p *model.Procedure) bool { return p.Change == nil && rungOf(p) == model.RungStoneCold }

// heats tells whether a resolved procedure of care may heat the machine.
func heats(p *model.Procedure) bool {
	e := model.ExceptionOf(p.ID)
	return e.Heats && slices.Contains(p.Owns, model.OwnPower) ||
		p.Require[model.Heat] == model.Hot ||
		slices.ContainsFunc(p.Leave, func(l model.Left) bool {
			return l.Variable == model.Heat && l.Is == model.Hot
		})
}

// leaveHot leaves what is measured stone cold out of a session that finds the machine hot, or
// heated it. Where nobody read it, the session is planned for a machine that stood off.
func (m *session) leaveHot(r *Request) {
	switch {
	case !slices.ContainsFunc(m.procs, stoneCold):
	case r.Heated:
		m.leaveStone("this machine was heated in this session")
	case r.Start[model.Heat] == model.Hot:
		m.leaveStone("this machine is hot")
	case r.Start[model.Heat] == "":
		r.Start = r.Start.Clone()
		r.Start[model.Heat] = model.Cold
	}
}

// leaveStone takes what is measured stone cold out of the session.
func (m *session) leaveStone(because string) {
	m.procs = slices.DeleteFunc(m.procs, func(p *model.Procedure) bool {
		if !stoneCold(p) {
			return false
		}
		m.left = append(m.left,
			Left{p.ID,
				fmt.Sprintf("%s is left for another day: it is measured stone cold, and %s; leave it off overnight.", p.Title, because)})
		return true
	})
}

// stone is the set of jobs that come before any heat.
func (m *session) stone() set {
	var s set
	for i, p := range m.procs {
		if stoneCold(p) {
			s = s.with(i)
		}
	}
	return s
}
