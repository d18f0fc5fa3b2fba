package walk

import (
	"strings"

	"bench/oilcan/model"
)

// badReading tells why a meter's value cannot be, "" where it can.
func badReading(c Context, s *model.Step, v float64) string {
	if s.Meter == "" || c.Machine == nil {
		return ""
	}
	if err := model.CheckReading(c.Machine, s.Meter, v, c.Now, c.Now); err != nil {
		return upperFirst(err.Error()) + "."
	}
	return ""
}

// Counter gives what was typed at the current step for a meter and refused, where nothing but other
// readings speak against it: c says then that it is right and those were wrong, n that it is of a
// new counter.
func (w *Walk) Counter(c Context) (v float64, ok bool) {
	s := w.Asked(c)
	if s == nil || s.Meter == "" || w.again == "" || w.againAt != s.Name {
		return 0, false
	}
	t, err := model.ReadNumber(w.again)
	if err != nil {
		return 0, false
	}
	v = t.Count().Value
	if s.Gate == model.Measure {
		if v, err = t.One(possible(c, s)); err != nil {
			return 0, false
		}
	}
	return v, badReading(c, s, v) != "" && model.Flaggable(s.Meter, v, c.Now, c.Now)
}

// judgeCounter takes what was refused as a correction, or as of a new counter; ok is false where
// the answer is none of these.
func (w *Walk) judgeCounter(c Context, s *model.Step, text string) (r Reply, ok bool) {
	reading := model.Reading{Meter: s.Meter, How: "session"}
	note := ""
	switch strings.ToLower(text) {
	case "c", "correction":
		reading.Correct, note = true, model.SavedCorrect
	case "n", "new counter":
		reading.NewMeter, note = true, model.SavedNew
	}
	if s.Meter == "" || note == "" {
		return Reply{}, false
	}
	v, has := w.Counter(c)
	if !has {
		return refuse("Type first what the counter shows."), true
	}
	note = s.Meter.Amount(v) + ". " + note
	reading.Value = v
	x := model.Walked{What: Passed, Answer: model.Digits(v), Number: &v, Unit: s.Unit}
	return Reply{Facts: []model.Fact{w.walked(x), {Kind: model.KindReading, Reading: &reading}},
		Note: note}, true
}
