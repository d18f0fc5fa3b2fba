package walk

import (
	"slices"
	"time"

	"bench/oilcan/model"
)

// Shown is a caution as it stands: in full, or as its brief where it was read in full before and things are no worse.
type Shown struct {
	model.Caution
	Whole bool
}

// noticeFor is how long a NOTICE read in full holds for one operator, page by page.
const noticeFor = 90 * 24 * time.Hour

// stood is how the machine stood when a caution stood in full.
type stood struct{ hot, live bool }

// ShownCautions gives those of the current step.
func (w *Walk) ShownCautions(c Context) []Shown {
	b, s := w.Block(), w.Step()
	if s == nil {
		return nil
	}
	return w.shown(c, b, []*model.Step{s})
}

// cautionsOf gives the cautions of steps of a block, each once, the gravest first.
func (at *progress) cautionsOf(b *Block, steps []*model.Step) []model.Caution {
	var out []model.Caution
	for _, s := range steps {
		for _, x := range CautionsFor(b.Proc, s, at.firstOf(b) == stepIndex(b, s.Name)) {
			if !at.ruledOut(b, x.Only) && !slices.ContainsFunc(out, func(o model.Caution) bool { return sameCaution(o, x) }) {
				out = append(out, x)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b model.Caution) int { return grave(a.Signal) - grave(b.Signal) })
	return out
}

// ruledOut tells whether an answer given says that a condition on it does not hold; what is not answered yet rules
// nothing out.
func (at *progress) ruledOut(b *Block, o model.Only) bool {
	_, said := at.answers[stepKey(b.key, o.Step)]
	return said && !at.applies(b, o)
}

func sameCaution(a, b model.Caution) bool {
	return a.ID == b.ID && (a.ID != "" || a.Harm == b.Harm && a.Avoid == b.Avoid)
}

// except leaves out what stands there already.
func except(cs, there []Shown) []Shown {
	return slices.DeleteFunc(cs, func(c Shown) bool {
		return slices.ContainsFunc(there, func(s Shown) bool { return sameCaution(s.Caution, c.Caution) && (s.Whole || !c.Whole) })
	})
}

// shown gives the cautions of steps as they stand: in full under an owned exception, else where they have to.
func (w *Walk) shown(c Context, b *Block, steps []*model.Step) []Shown {
	own := slices.ContainsFunc(steps, func(s *model.Step) bool { return s.Own })
	var out []Shown
	for _, x := range w.cautionsOf(b, steps) {
		out = append(out, Shown{x, own || w.inFull(c, b, x)})
	}
	return out
}

// inFull tells whether a caution has to stand in full.
func (w *Walk) inFull(c Context, b *Block, x model.Caution) bool {
	if x.ID == "" || x.Brief == "" {
		return true
	}
	if o := w.open; o != nil && o.block == b.key && slices.Contains(o.whole, x.ID) {
		return true
	}
	if x.Signal == "NOTICE" && c.By != "" && w.inPages(c) {
		if at := c.Practice.Whole[x.ID]; !at.IsZero() && c.Now.Sub(at) <= noticeFor {
			return false
		}
	}
	then, was := w.stood[x.ID]
	now := w.harmNow()
	return !was || now.hot && !then.hot || now.live && !then.live
}

// harmNow is how the machine stands, as cautions see it: what is not known is the worse.
func (bel *belief) harmNow() stood {
	return stood{hot: bel.Believed[model.Heat] != model.Cold, live: bel.Believed[model.Power] == model.On || bel.Believed[model.Power] == ""}
}

// foldCautions takes the cautions of the current step as read: in full where they were not before.
func (w *Walk) foldCautions() {
	if s := w.Step(); s != nil {
		w.foldCautionsOf(w.Block(), s)
	}
}

func (w *Walk) foldCautionsOf(b *Block, s *model.Step) {
	now := w.harmNow()
	onPage := w.open != nil && w.open.block == b.key
	for _, x := range w.cautionsOf(b, []*model.Step{s}) {
		if x.ID == "" {
			continue
		}
		then, was := w.stood[x.ID]
		w.stood[x.ID] = stood{hot: now.hot || then.hot, live: now.live || then.live}
		if !was && !onPage {
			w.whole[x.ID] = true
		}
	}
}
