package session

import (
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/measure"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/measured"
)

// Calculator is what works out the value that is asked; nil where none does.
func (s *Session) Calculator(now time.Time) *measure.Kept {
	step := s.W.Asked(s.Context(now))
	if s.W.Prompt(now).Kind != walk.AskStep || step == nil || step.Gate != model.Measure ||
		step.Meter != "" {
		return nil
	}
	k := measure.KeptAs(step.Quantity)
	if k == nil || !model.SameUnit(step.Unit, k.Unit) {
		return nil
	}
	return k
}

// Last is what was last read of the value that is asked and can be worked out, and when; "" where
// nothing is on record.
func (s *Session) Last(now time.Time) string {
	k := s.Calculator(now)
	if k == nil {
		return ""
	}
	return (&measured.Work{Kept: k, Machine: s.Machine}).Before(now)
}

// Said is what was read of a quantity in the block that is walked.
func (s *Session) Said(quantity string) (v float64, unit string, ok bool) {
	b := s.W.Block()
	if b == nil || b.Proc == nil {
		return 0, "", false
	}
	for _, step := range b.Proc.Steps {
		if step.Quantity != quantity {
			continue
		}
		if a, answered := s.W.AnswerAt(b.ID, step.Name); answered && a.Number != nil {
			return *a.Number, step.Unit, true
		}
	}
	return 0, "", false
}

// workedOut puts on record how an answer was worked out: beside its value, or where it did not pass
// beside what is written of that.
func workedOut(facts []model.Fact, from *model.Worked) {
	if from == nil {
		return
	}
	for _, f := range facts {
		if f.Value != nil {
			f.Value.From = from
			return
		}
	}
	for _, f := range facts {
		if f.Walk != nil {
			f.Walk.From = from
			return
		}
	}
}
