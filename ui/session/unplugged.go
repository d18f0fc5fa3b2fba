package session

import (
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
)

// owed are the checks under power that earlier sessions on a machine could not have, with the texts
// as they were then. One whose text cannot be read stays a finding.
func (d Desk) owed(m *model.Machine) []walk.Carried {
	var out []walk.Carried
	for _, f := range m.OwedAtPower() {
		p, err := d.text(f.Hash)
		if err != nil {
			continue
		}
		out = append(out, walk.Carried{Text: p,
			Owed: model.Owed{Procedure: f.Procedure, Step: f.Step, Hash: f.Hash, Finding: f.ID}})
	}
	return out
}

// checks is a session that does nothing but what earlier ones owe once there is power.
func (d Desk) checks(m *model.Machine) (Chosen, error) {
	r := d.request(m)
	r.Power = model.On
	p, _, err := plan.Assemble(d.Lib.Get, model.NewFeatureSet(m.Features...), m.Settings,
		[]string{plan.Bookends[1]}, r)
	if err == nil {
		p.Leave = model.On
	}
	return Chosen{Plan: name(p, m)}, err
}

// putsAway tells whether one of these procedures puts its machine away: nothing brings power back
// after it.
func (d Desk) putsAway(ids []string) bool {
	return slices.ContainsFunc(ids, func(id string) bool {
		p := d.Lib.Get(id)
		return p != nil && slices.ContainsFunc(p.Leave, func(l model.Left) bool {
			return l.Variable == model.Power && l.Is == model.Unplugged
		})
	})
}

// LeaveText says what it means how a plan leaves power; "" where it leaves it as it was.
func LeaveText(leave model.Value) string {
	switch leave {
	case "":
		return ""
	case model.On:
		return "Nothing but the checks that earlier sessions owe: it is switched on, looked at under power, and left on."
	}
	return "It is left unplugged: nothing brings power back, and checks that need it are asked for at the next switching on."
}
