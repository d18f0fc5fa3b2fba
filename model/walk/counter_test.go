package walk_test

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk/walktest"
)

// read gives a machine a reading of a meter, so long before the session.
func read(m *model.Machine, meter model.Meter, v float64, before time.Duration) {
	p := model.Point{At: start.Add(-before), Value: v}
	m.Readings = map[model.Meter]*model.Series{meter: {N: 1, First: p, Last: p}}
}

// readings lists the readings of a run.
func readings(r *walktest.Run) []model.Reading {
	var out []model.Reading
	for _, e := range r.J.Entries {
		if e.Reading != nil {
			out = append(out, *e.Reading)
		}
	}
	return out
}

// TestACounterThatLooksWrongHasAWayOut: below the last reading, or grown faster than any machine
// prints, it is right after all where the person says so: as a correction, or of a new counter.
// Saved it is only then.
func TestACounterThatLooksWrongHasAWayOut(t *testing.T) {
	lib := library(t)
	for _, of := range []struct {
		step, last, typed, say string
		meter                  model.Meter
		want                   model.Reading
	}{
		{"hours", "1200", "900", "c", model.Hours, model.Reading{Meter: model.Hours, Value: 900,
			How: "session", Correct: true}},
		{"hours", "1200", "3 h", "n", model.Hours,
			model.Reading{Meter: model.Hours, Value: 3, How: "session", NewMeter: true}},
		// typed too low the last time
		{"hours", "120", "1200", "c", model.Hours, model.Reading{Meter: model.Hours, Value: 1200,
			How: "session", Correct: true}},
		{"changes", "5000", "12", "new counter", model.Changes,
			model.Reading{Meter: model.Changes, Value: 12, How: "session", NewMeter: true}},
	} {
		m := machine(lib, "full")
		n, err := model.ReadNumber(of.last)
		if err != nil {
			t.Fatal(err)
		}
		read(m, of.meter, n.Count().Value, 24*time.Hour)
		r := begin(t, lib, m, "self-check")
		reach(t, r, "as-found", of.step)
		had := len(readings(r))
		if rep := say(t, r, of.say); rep.Refusal == "" {
			t.Errorf("%s before a value was typed", of.say)
		}
		rep := say(t, r, of.typed)
		if rep.Refusal == "" || strings.Contains(rep.Refusal+rep.Note, "Saved") {
			t.Errorf("%s after %s: %q, %q", of.typed, of.last, rep.Refusal, rep.Note)
		}
		if len(readings(r)) != had {
			t.Error("it is on record before anybody said that it is right")
		}
		if rep = say(t, r, of.say); !strings.Contains(rep.Note, ". Saved as a ") {
			t.Errorf("%s: %q, %q", of.say, rep.Refusal, rep.Note)
		}
		if got := readings(r); len(got) != had+1 || got[had] != of.want {
			t.Errorf("%s %s: %+v", of.typed, of.say, got)
		}
		say(t, r, "back")
		if s := r.W.Step(); s == nil || s.Name != of.step {
			t.Errorf("taken back, it stands at %v", s)
		}
	}
}

// TestACounterThatCannotBeHasNone: what no counter shows is typed again, whatever is said of it.
func TestACounterThatCannotBeHasNone(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	read(m, model.Hours, 1200, 24*time.Hour)
	r := begin(t, lib, m, "self-check")
	reach(t, r, "as-found", "hours")
	say(t, r, "-4")
	if rep := say(t, r, "c"); rep.Refusal == "" || len(readings(r)) != 0 {
		t.Errorf("-4 h is a correction: %q", rep.Refusal)
	}
}
