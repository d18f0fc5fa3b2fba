package walk

import (
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
)

// Set-up actions without a change of state that every session begins with, each done once.
const (
	// what is asked before anything heats or opens, and what the session blows with
	begin  = "begin"
	layOut = "lay-out" // what the session needs is laid out
)

// LayItem is one thing to lay out, as the list of a session has it.
type LayItem struct {
	plan.Lay
	Kind string // one of LayKinds
	// what to look at, of a part that a procedure takes out of its pack only once it is sure of it
	Look string
}

// LayKinds are the parts of the list, in their order.
var LayKinds = []string{"tools", "supplies", "wear"}

// withBegin puts before what is planned what every session begins with: not where a machine is only
// closed, nor where nothing is opened or powered.
func (w *Walk) withBegin(c Context, out []model.BlockRef) []model.BlockRef {
	if w.powerLocked() || w.Begun.Closing || w.Believed[model.Power] == "" || !w.works(out) {
		return out
	}
	first := w.firstPlace(c, out)
	out = w.putOnce(out, layOut, max(first, w.placeToLay(out)))
	return w.putOnce(out, begin, first)
}

// works tells whether anything planned is care that wants the machine in some state.
func (g *given) works(out []model.BlockRef) bool {
	return slices.ContainsFunc(out, func(r model.BlockRef) bool {
		p := g.texts[r.Hash]
		return r.Kind == model.BlockCare && p.Kind != model.Bookend && len(p.Require) > 0
	})
}

// putOnce puts a set-up action at its place, if the session has it and has not done it.
func (w *Walk) putOnce(out []model.BlockRef, id string, at int) []model.BlockRef {
	i := slices.IndexFunc(w.Begun.SetUps, func(r model.BlockRef) bool { return r.ID == id })
	if i < 0 || w.occur[id] > 0 {
		return out
	}
	return slices.Insert(out, at, model.BlockRef{Kind: model.BlockSetUp, ID: id,
		Hash: w.Begun.SetUps[i].Hash})
}

// firstPlace is the first place where anything may be asked: with something out, in or loose
// nothing comes before the plug is out, and nothing before a gantry is off its blocks.
func (w *Walk) firstPlace(c Context, out []model.BlockRef) int {
	at := 0
	for i, r := range out {
		p := w.texts[r.Hash]
		plug := p != nil && p.Change != nil && p.Change.Variable == model.Power &&
			p.Change.To == model.Unplugged
		if i == at && r.ID == plan.GantryFree || plug && w.loose(c) {
			at = i + 1
		}
		if plug {
			break
		}
	}
	return at
}

// placeToLay is behind the first cooling down, so that its wait is used, where nothing but what is
// done at the screen comes before it; else at the beginning.
func (g *given) placeToLay(out []model.BlockRef) int {
	for i, r := range out {
		p := g.texts[r.Hash]
		switch {
		case p == nil:
		case p.Change != nil && p.Change.Variable == model.Heat && p.Change.To == model.Cold:
			return i + 1
		case p.Kind == model.Bookend, p.Change != nil && p.Change.Variable == model.Filament:
			continue // what these use their own first step names
		case len(p.Tools)+len(p.Supplies) > 0:
			return 0
		}
	}
	return 0
}

// onceProc is what a session begins with, as far as it needs it: what is laid out, and what it
// blows with.
func (at *progress) onceProc(b *Block) *model.Procedure {
	q := *b.text
	q.Steps = slices.DeleteFunc(slices.Clone(q.Steps), func(s model.Step) bool {
		switch {
		case s.Known == model.KnownSupplies:
			return len(at.Laying()) == 0
		case b.ID == begin && !s.Decision:
			return false // asked of every session
		}
		return !at.askedBehind(b, s.Known)
	})
	return &q
}

// askedBehind tells whether a block behind one asks for what a step would make known.
func (at *progress) askedBehind(b *Block, known string) bool {
	i := slices.Index(at.Blocks, b)
	return known == "" || slices.ContainsFunc(at.Blocks[i+1:], func(x *Block) bool {
		return slices.ContainsFunc(x.Proc.Steps, func(s model.Step) bool {
			return s.Known == known
		})
	})
}

// laidFor are the blocks a session lays out for: all behind the laying out.
func (at *progress) laidFor() []*Block {
	i := slices.IndexFunc(at.Blocks, func(b *Block) bool { return b.ID == layOut })
	if i < 0 {
		return nil
	}
	return at.Blocks[i+1:]
}

// Laying is all there is to lay out for what comes behind the laying out, by name in its three
// parts.
func (at *progress) Laying() []LayItem {
	var procs []*model.Procedure
	looks := map[string]string{}
	for _, b := range at.laidFor() {
		procs = append(procs, b.Proc)
		for _, s := range b.Proc.Steps {
			if s.Known == model.KnownSupplies && b.Proc.Part != "" {
				looks[b.Proc.Part] = s.Line
			}
		}
	}
	l := plan.LayOut(procs)
	var out []LayItem
	for i, list := range [][]plan.Lay{l.Tools, l.Supplies, l.Gear} {
		for _, x := range list {
			item := LayItem{Lay: x, Kind: LayKinds[i]}
			if LayKinds[i] == "supplies" {
				item.Look = looks[x.Name]
			}
			out = append(out, item)
		}
	}
	return out
}

// ListOf is what is to be laid out, at the step that asks for it; nil at any other.
func (at *progress) ListOf(id string, s *model.Step) []LayItem {
	if id != layOut || s == nil || s.Known != model.KnownSupplies {
		return nil
	}
	return at.Laying()
}

// suppliedIDs are the blocks whose parts and supplies were all laid out: not those that go on
// without one.
func (w *Walk) suppliedIDs() []string {
	var out []string
	for _, b := range w.laidFor() {
		lacks := slices.ContainsFunc(b.Proc.Supplies, func(s model.Supply) bool {
			return slices.Contains(w.goneOn, s.Part)
		})
		if !lacks {
			out = append(out, b.ID)
		}
	}
	return out
}
