package sheet

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
)

// Session makes the blank sheet of a session to come: what to lay out, then everything in the order
// of the plan, with its cautions whole, a box for each step and a blank for each reading.
func Session(m *model.Machine, p *plan.Plan, lib *procedures.Library, now time.Time) Doc {
	d := Doc{Title: m.Name + ": care session", Under: []string{
		"written " + model.Stamp(now, now) + " · hands " + model.Minutes(p.HandsOn) + " min, wait " +
			model.Minutes(p.Idle()) + " min",
		"date ____________________   begun ________   ended ________   by ____________________",
	}}
	d.Parts = append(d.Parts, Part{Text: []string{
		"How the machine stands is what you see now, not what this sheet says: it was written before.",
		"Keep to the order. Where a step does not come out, do what stands under it. No power before " +
			"everything that came out is back and everything put in is out."}})
	if text := session.LeaveText(p.Leave); text != "" {
		d.Parts[0].Text = append(d.Parts[0].Text, text)
	}
	d.Parts = append(d.Parts, laidOut(p, lib))
	var blocks []*model.Procedure
	fs := model.NewFeatureSet(m.Features...)
	for _, id := range ids(p) {
		if q := found(lib, id); q != nil {
			blocks = append(blocks, q.For(fs, q.WithDefaults(m.Settings)))
		}
	}
	if q := found(lib, asked); q != nil {
		blocks = append(before(q.For(fs, q.WithDefaults(m.Settings)), blocks), blocks...)
	}
	for i, q := range blocks {
		d.Parts = append(d.Parts, block(i+1, q))
	}
	d.Parts = append(d.Parts, Part{Head: "At the end", Ticks: []string{
		"everything that came out is back, nothing is left inside",
		"told: 4 on its plan, or oilcan walk " + action.Typed(m.Name) +
			" --paper 'YYYY-MM-DD HH:MM to HH:MM' --only " + strings.Join(care(p, lib), ","),
	}})
	d.Foot = []string{notCertified, "What is told from this sheet is told, not walked: power, heat and " +
		"what is out are asked when it is told, as of then."}
	return d
}

// care are the procedures of a plan by which it is made again: what joins by itself is left out.
func care(p *plan.Plan, lib *procedures.Library) []string {
	return slices.DeleteFunc(p.IDs(), func(id string) bool {
		q := lib.Get(id)
		return q == nil || q.Kind == model.Bookend
	})
}

// asked is the set-up action with what every session asks before anything heats or opens.
const asked = "begin"

// before is what is asked before anything heats or opens, where the first block does not ask the same.
// A decision is asked on paper by the block that needs it.
func before(q *model.Procedure, blocks []*model.Procedure) []*model.Procedure {
	own := *q
	own.Steps = slices.DeleteFunc(slices.Clone(q.Steps), func(s model.Step) bool {
		return s.Decision || len(blocks) > 0 && slices.ContainsFunc(blocks[0].Steps,
			func(x model.Step) bool { return s.Known != "" && x.Known == s.Known })
	})
	if len(own.Steps) == 0 {
		return nil
	}
	return []*model.Procedure{&own}
}

func ids(p *plan.Plan) []string {
	var out []string
	for _, it := range p.Sequence {
		out = append(out, it.ID)
	}
	return out
}

// found is a procedure or set-up action by its id, nil where there is none.
func found(lib *procedures.Library, id string) *model.Procedure {
	if q := lib.Get(id); q != nil {
		return q
	}
	i := slices.IndexFunc(lib.SetUps(), func(s *model.Procedure) bool { return s.ID == id })
	if i < 0 {
		return nil
	}
	return lib.SetUps()[i]
}

func laidOut(p *plan.Plan, lib *procedures.Library) Part {
	out := Part{Head: "Lay out"}
	for _, l := range p.Tools {
		out.Ticks = append(out.Ticks, session.ToolText(l))
	}
	for _, l := range p.Supplies {
		out.Ticks = append(out.Ticks, session.SupplyText(l))
	}
	if gear := session.Gear(lib, p); len(gear) > 0 {
		out.Ticks = append(out.Ticks, "wear: "+strings.Join(gear, ", "))
	}
	return out
}

// block is one procedure, resolved for its machine.
func block(n int, q *model.Procedure) Part {
	p := Part{Head: model.Number(float64(n)) + " · " + q.Title}
	if q.Purpose != "" {
		p.Text = append(p.Text, q.Purpose)
	}
	for i, s := range procedures.Sheet(q) {
		p.Steps = append(p.Steps, Step{Number: i + 1, SheetStep: s,
			Cautions: walk.CautionsFor(q, &q.Steps[i], i == 0)})
	}
	for _, l := range q.Later {
		p.List = append(p.List, "owed afterwards: "+l.Do)
	}
	return p
}
