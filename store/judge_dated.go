package store

import (
	"math"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// judgeDated judges what a dated fact says.
func judgeDated(f model.Fact) error {
	switch {
	case f.Kind == model.KindReading && f.Reading != nil:
		if r := f.Reading; !r.Meter.Typed() || !(r.Value >= 0 && finite(r.Value)) {
			return refuse("a reading gives a meter that can be typed and a number from 0 on, not %s %v", r.Meter, r.Value)
		}
	case f.Kind == model.KindCare && f.Care != nil:
		if c := f.Care; c.Procedure == "" || !slices.Contains(model.CareOutcomes, c.Outcome) ||
			!finite(c.Minutes) {
			return refuse("care names a procedure and its outcome: one of %s",
				strings.Join(model.Words(model.CareOutcomes), ", "))
		}
		if w := f.Care.Found; w != "" && !slices.Contains(model.FoundWords, w) {
			return refuse("how care met its part is one of %s, not %q",
				strings.Join(model.FoundWords, ", "), w)
		}
		for meter, v := range f.Care.Base {
			if !meter.Typed() || !(v >= 0 && finite(v)) {
				return refuse("what a meter showed at care is a number from 0 on of a meter that can be typed, not %s %v", meter, v)
			}
		}
	case f.Kind == model.KindSwap && f.Swap != nil:
		if w := f.Swap; w.Part == "" || w.End != model.EndUnknown &&
			!slices.Contains(model.Ends, w.End) {
			return refuse("a swap names a part and how the old one was: %s or unknown",
				strings.Join(model.Words(model.Ends), ", "))
		}
	case f.Kind == model.KindFinding && f.Finding != nil:
		if strings.TrimSpace(f.Finding.Text) == "" {
			return refuse("a finding needs a text: say what was seen")
		}
	case f.Kind == model.KindValue && f.Value != nil:
		if v := f.Value; v.Name == "" || !finite(v.Value) || !finitePtr(v.Low) ||
			!finitePtr(v.High) {
			return refuse("a value has a name and is a number")
		}
	case f.Kind == model.KindDue && f.Due != nil:
		if f.Due.Procedure == "" {
			return refuse("what is now due is a procedure: name it")
		}
	case f.Kind == model.KindOutcome && f.Outcome != nil:
		if o := f.Outcome; o.Symptom == "" || o.Procedure == "" ||
			!slices.Contains(model.Outcomes, o.Is) {
			return refuse("an outcome names a symptom and the care, and says %s",
				strings.Join(model.Words(model.Outcomes), ", "))
		}
	case f.Kind == model.KindBooked && f.Booked != nil:
		return judgeJob(f.Booked)
	case f.Kind == model.KindPrinted && f.Printed != nil:
		return judgeJob(f.Printed)
	case f.Kind == model.KindMoved && f.Moved != nil:
		if y := f.Moved.Again.Year(); f.Moved.Finding == "" || y < 1990 || y > 9999 {
			return refuse("a finding is moved by its id to a day from 1990 on: name both")
		}
	case f.Kind == model.KindFailed && f.Failed != nil:
		if x := f.Failed; !word(x.Symptom) || x.Symptom == "" && strings.TrimSpace(x.Note) == "" {
			return refuse("a failed print names a symptom, or says in words what was seen, not %.40q",
				x.Symptom)
		}
	case f.Kind == model.KindSettled && f.Settled != nil, f.Kind == model.KindTag && f.Tag != nil:
	default:
		return refuse("an entry of kind %q lacks what it says", f.Kind)
	}
	return nil
}

// judgeJob judges a print booked or done.
func judgeJob(j *model.PrintJob) error {
	if strings.TrimSpace(j.File) == "" {
		return refuse("a print job names its file")
	}
	if t := j.Time; t != nil && !(t.Took > 0 && finite(t.Took) && t.Moving >= 0 && finite(t.Moving) &&
		t.Waiting >= 0 && finite(t.Waiting) && t.Changes >= 0 && finite(t.Changes)) {
		return refuse("how long a print took is a number of seconds above 0")
	}
	for meter, v := range j.Need {
		if !meter.Typed() || !(v >= 0 && finite(v)) {
			return refuse("what a print job uses is a number from 0 on of a meter that can be typed, not %s %v", meter, v)
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func finitePtr(v *float64) bool { return v == nil || finite(*v) }
