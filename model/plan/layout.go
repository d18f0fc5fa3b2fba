package plan

import (
	"cmp"
	"slices"

	"bench/oilcan/model"
)

// Lay is one thing to lay out before a session.
type Lay struct {
	Name     string      `json:"name"`
	Fits     []model.Fit `json:"fits,omitempty"`     // the screws a key is for
	For      []string    `json:"for"`                // ids of the plan's items that use it, in their order
	Quantity float64     `json:"quantity,omitempty"` // of a supply, all together
	Unit     string      `json:"unit,omitempty"`
	Maybe    bool        `json:"maybe,omitempty"` // only an answer at the machine decides
}

// layOut merges what the plan's items need, set-up actions included.
func (m *sitting) layOut(p *Plan) (tools, supplies []Lay) {
	tools, supplies = []Lay{}, []Lay{}
	for _, it := range p.Sequence {
		q := m.find(it.ID)
		for _, t := range q.Tools {
			l := lay(&tools, t.Name, "", q.ID, t.Only)
			for _, f := range t.Fits {
				if !slices.Contains(l.Fits, f) {
					l.Fits = append(l.Fits, f)
				}
			}
		}
		for _, x := range q.Supplies {
			lay(&supplies, x.Part, x.Unit, q.ID, x.Only).Quantity += x.Quantity
		}
	}
	byName := func(a, b Lay) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Unit, b.Unit)) }
	slices.SortFunc(tools, byName)
	slices.SortFunc(supplies, byName)
	return tools, supplies
}

// lay finds or adds a thing and notes who uses it. It is a maybe only as long as all who use it
// leave it to an answer.
func lay(list *[]Lay, name, unit, id string, only model.Only) *Lay {
	i := slices.IndexFunc(*list, func(l Lay) bool { return l.Name == name && l.Unit == unit })
	if i < 0 {
		*list = append(*list, Lay{Name: name, Unit: unit, Maybe: true})
		i = len(*list) - 1
	}
	l := &(*list)[i]
	if only.Step == "" {
		l.Maybe = false
	}
	if !slices.Contains(l.For, id) {
		l.For = append(l.For, id)
	}
	return l
}
