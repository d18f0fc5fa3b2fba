package walk

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// Card gives the neighbouring plain confirms round the current step, for a screen that shows them
// as one card; one alone is no card. Each tick is an entry of its own.
func (at *progress) Card() []CardLine {
	b, s := at.Block(), at.Step()
	if s == nil || !plain(b.Proc, s, at.StepAt) {
		return nil
	}
	var out []CardLine
	for i := range b.Proc.Steps {
		s := b.Proc.Steps[i]
		switch {
		case !at.applies(b, s.Only):
		case plain(b.Proc, &s, i):
			out = append(out, CardLine{Step: s, Done: at.passed[stepKey(b.key, s.Name)]})
		case i < at.StepAt:
			out = nil
		default:
			return card(out)
		}
	}
	return card(out)
}

func card(lines []CardLine) []CardLine {
	if len(lines) < 2 {
		return nil
	}
	return lines
}

func plain(p *model.Procedure, s *model.Step, i int) bool {
	return s.Gate == model.Confirm && s.Fastener == nil && !s.Own && len(s.Out)+len(s.Back)+
		len(s.In)+len(s.Taken)+len(s.Set)+len(s.Starts) == 0 &&
		len(CautionsFor(p, s, i == 0)) == 0
}

// CardLine is one confirm of a card.
type CardLine struct {
	Step model.Step
	Done bool // ticked already
}

// CautionsFor gives the cautions that stand before a step; those tied to no step stand before the
// first. The gravest comes first.
func CautionsFor(p *model.Procedure, s *model.Step, isFirst bool) []model.Caution {
	var out []model.Caution
	for _, c := range p.Cautions {
		if slices.Contains(c.Before, s.Name) || (len(c.Before) == 0 && isFirst) {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b model.Caution) int {
		return grave(a.Signal) - grave(b.Signal)
	})
	return out
}

// grave orders signal words, the gravest first (ANSI Z535).
func grave(signal string) int {
	return slices.Index([]string{"DANGER", "WARNING", "CAUTION", "NOTICE"}, signal)
}

// Progress gives the steps passed and the steps in all, as far as they are known.
func (at *progress) Progress() (done, all int) {
	for bi, b := range at.Blocks {
		for _, s := range b.Proc.Steps {
			passed := b.key != "" && at.passed[stepKey(b.key, s.Name)]
			if bi >= at.Cur && !passed && s.Only.Step != "" &&
				(b.key == "" || !at.applies(b, s.Only)) {
				continue
			}
			if bi < at.Cur && !passed {
				continue
			}
			all++
			if passed {
				done++
			}
		}
	}
	return done, all
}

// Position is where the walk stands, as a person reads it.
func (w *Walk) Position() string {
	done, all := w.Progress()
	if w.Stopped != "" && w.Cur >= len(w.Blocks) {
		return "stopped"
	}
	if len(w.Blocks) == 0 {
		return "before the first step"
	}
	if w.telling {
		return fmt.Sprintf("%d of %d told", w.Cur, len(w.Blocks))
	}
	if w.Cur >= len(w.Blocks) {
		return fmt.Sprintf("%d of %d steps", done, all)
	}
	return fmt.Sprintf("step %d of %d", min(done+1, all), all)
}
