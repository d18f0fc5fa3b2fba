package plan

import (
	"cmp"
	"slices"

	"bench/oilcan/model"
)

// Lay is one thing to lay out before a session.
type Lay struct {
	Name string      `json:"name"`
	Fits []model.Fit `json:"fits,omitempty"` // the screws a key is for
	// ids of the plan's items that use it, in their order
	For      []string `json:"for"`
	Quantity float64  `json:"quantity,omitempty"` // of a supply, all together
	Unit     string   `json:"unit,omitempty"`
	Maybe    bool     `json:"maybe,omitempty"` // only an answer at the machine decides
}

// Laying is what is to be laid out, each list by name.
type Laying struct{ Tools, Supplies, Gear []Lay }

// LayOut merges what resolved procedures and set-up actions need.
func LayOut(procs []*model.Procedure) Laying {
	l := Laying{Tools: []Lay{}, Supplies: []Lay{}}
	for _, q := range procs {
		for _, t := range q.Tools {
			x := lay(&l.Tools, t.Name, "", q.ID, t.Only)
			for _, f := range t.Fits {
				if !slices.Contains(x.Fits, f) {
					x.Fits = append(x.Fits, f)
				}
			}
		}
		for _, s := range q.Supplies {
			lay(&l.Supplies, s.Part, s.Unit, q.ID, s.Only).Quantity += s.Quantity
		}
		for _, g := range q.Gear {
			lay(&l.Gear, g, "", q.ID, model.Only{})
		}
	}
	byName := func(a, b Lay) int {
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Unit, b.Unit))
	}
	for _, list := range [][]Lay{l.Tools, l.Supplies, l.Gear} {
		slices.SortFunc(list, byName)
	}
	return l
}

// layOut merges what the plan's items need, set-up actions included.
func (m *session) layOut(p *Plan) Laying {
	var procs []*model.Procedure
	for _, it := range p.Sequence {
		procs = append(procs, m.find(it.ID))
	}
	return LayOut(procs)
}

// Lacking gives the ids of a request's procedures, bookends apart, that cannot be done without a
// thing to lay out: they use it, or a set-up action that they need does.
func Lacking(r Request, name string) []string {
	var out []string
	for _, p := range r.Procedures {
		if p.Kind == model.Bookend {
			continue
		}
		one := r
		one.Procedures = []*model.Procedure{p}
		m, err := compile(one, false)
		if err != nil {
			continue
		}
		pl, err := Make(one)
		if err != nil {
			continue
		}
		l := m.layOut(pl)
		if slices.ContainsFunc(slices.Concat(l.Tools, l.Supplies, l.Gear), func(x Lay) bool {
			return x.Name == name
		}) {
			out = append(out, p.ID)
		}
	}
	return out
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
