package walk

import (
	"slices"
	"time"

	"bench/oilcan/model"
)

// Shown is a caution as it stands: in full, or as its brief where it was read in full before and
// things are no worse.
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

// cautionsOf gives the cautions of steps of a block that apply, each once, the gravest first.
func (w *Walk) cautionsOf(b *Block, steps []*model.Step) []model.Caution {
	var out []model.Caution
	for _, s := range steps {
		for _, x := range CautionsFor(b.Proc, s, w.firstOf(b) == stepIndex(b, s.Name)) {
			if !w.warns(b, s, x) || slices.ContainsFunc(out, func(o model.Caution) bool {
				return sameCaution(o, x)
			}) {
				continue
			}
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b model.Caution) int {
		return grave(a.Signal) - grave(b.Signal)
	})
	return out
}

// warns tells whether a caution of a step applies: with what was answered before it, and with what
// is known. A step that itself makes that known is warned of as long as it is asked.
func (w *Walk) warns(b *Block, s *model.Step, x model.Caution) bool {
	if b.Kind != model.BlockOwed && !w.applies(b, x.Only) {
		return false
	}
	_, known := w.known[x.UnlessKnown]
	return x.UnlessKnown == "" || !known || s.Known == x.UnlessKnown
}

// leftToLine tells whether each of the steps that a caution stands with says in its own line how to
// avoid it.
func (w *Walk) leftToLine(b *Block, steps []*model.Step, x model.Caution) bool {
	return !slices.ContainsFunc(steps, func(s *model.Step) bool {
		return !slices.Contains(x.Said, s.Name) &&
			slices.ContainsFunc(w.cautionsOf(b, []*model.Step{s}), func(o model.Caution) bool {
				return sameCaution(o, x)
			})
	})
}

func sameCaution(a, b model.Caution) bool {
	return a.ID == b.ID && (a.ID != "" || a.Harm == b.Harm && a.Avoid == b.Avoid)
}

// except leaves out what stands there already.
func except(cs, there []Shown) []Shown {
	return slices.DeleteFunc(cs, func(c Shown) bool {
		return slices.ContainsFunc(there, func(s Shown) bool {
			return sameCaution(s.Caution, c.Caution) && (s.Whole || !c.Whole)
		})
	})
}

// shown gives the cautions of steps as they stand: in full under an owned exception where they tell
// of what hurts, else where they have to; a brief that the lines of the steps say is left out.
func (w *Walk) shown(c Context, b *Block, steps []*model.Step) []Shown {
	own := slices.ContainsFunc(steps, func(s *model.Step) bool { return s.Own })
	var out []Shown
	for _, x := range w.cautionsOf(b, steps) {
		switch full := own && x.Signal != "NOTICE" || w.inFull(c, b, x); {
		case full:
			out = append(out, Shown{x, true})
		case !w.leftToLine(b, steps, x):
			out = append(out, Shown{x, false})
		}
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
	return !was || !x.Steady && (now.hot && !then.hot || now.live && !then.live)
}

// harmNow is how the machine stands, as cautions see it: what is not known is the worse.
func (bel *belief) harmNow() stood {
	return stood{hot: bel.Believed[model.Heat] != model.Cold,
		live: bel.Believed[model.Power] == model.On || bel.Believed[model.Power] == ""}
}

// foldCautions takes the cautions of the current step as read: in full where they were not before.
func (w *Walk) foldCautions() {
	if s := w.Step(); s != nil && !w.telling { // on paper they stood whole, and were read or not
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
