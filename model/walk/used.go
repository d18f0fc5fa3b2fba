package walk

import (
	"maps"
	"slices"

	"bench/oilcan/model"
)

// used gives the facts of what a block took from the drawer: as many as were counted, else as many
// as were planned. What was counted otherwise than planned is planned so the next time.
func (at *progress) used(c Context, b *Block) (out []model.Fact) {
	settings := map[string]string{}
	for _, s := range b.Proc.Supplies {
		n, counted := at.countedIn(b, s)
		if !at.applies(b, s.Only) || b.Status == Parked && !counted {
			continue
		}
		if n > 0 {
			out = append(out, model.Fact{Kind: model.KindStock,
				Stock: &model.StockMove{Part: s.Part, Change: -n, Why: "used"}})
		}
		if counted && n > 0 && n != s.Quantity && b.Status == Done {
			settings[s.Took(b.ID)] = model.Digits(n)
		}
	}
	if c.Machine != nil && len(settings) > 0 {
		m := c.Machine.MachineFact
		m.Settings = maps.Clone(m.Settings)
		if m.Settings == nil {
			m.Settings = map[string]string{}
		}
		maps.Copy(m.Settings, settings)
		out = append(out, model.Fact{Kind: model.KindMachine, Machine: &m})
	}
	return out
}

// countedIn is how many of a supply a block took: the number typed at the first of its counts that
// was answered; counted is false where none was, and what was planned is taken.
func (at *progress) countedIn(b *Block, s model.Supply) (n float64, counted bool) {
	for _, name := range s.Count {
		k := stepKey(b.key, name)
		if a := at.answers[k]; at.passed[k] && a.Number != nil {
			return *a.Number, true
		}
	}
	return s.Quantity, false
}

// dueAgain is why a block is due again by one of its own answers, "" where none says so.
func (at *progress) dueAgain(b *Block) string {
	for i := range b.Proc.Steps {
		s := &b.Proc.Steps[i]
		k := stepKey(b.key, s.Name)
		if !at.passed[k] {
			continue
		}
		o := option(s.Options, at.answers[k].Text)
		if o != nil && o.Miss != nil && o.Miss.Then == model.ThenDue &&
			slices.Contains(o.Miss.Procedures, b.ID) {
			return o.Miss.Say
		}
	}
	return ""
}
