package action

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

func TestNewMachine(t *testing.T) {
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	at, day := now.AddDate(0, 0, -2), now.AddDate(0, 0, -20)
	three, nine := 3000.0, 9000.0
	read := []model.Reading{{Meter: model.Changes, Value: 3400, How: "start"}}
	fact := model.MachineFact{ID: "m", Name: "Heron", Features: model.FullFeatures}
	for _, c := range []struct {
		name  string
		reads []model.Reading
		lasts []Last
		times []time.Time // of the actions
		err   string
	}{
		{name: "alone", times: []time.Time{at}},
		{name: "a day told", reads: read, lasts: []Last{{Procedure: "filter-swap", At: day}},
			times: []time.Time{at, day}},
		{name: "a value told", reads: read,
			lasts: []Last{{Procedure: "blade-check", At: now, Value: &three}},
			times: []time.Time{at, at}},
		{name: "not known", lasts: []Last{{Procedure: "filter-swap", At: now, Unknown: true}},
			times: []time.Time{at, at}},
		{name: "not reached", reads: read, lasts: []Last{{Procedure: "blade-check", Value: &nine}},
			err: "blade-check cannot have been done at 9 000 changes: the counter shows 3 400"},
		{name: "no meter", reads: []model.Reading{{Meter: model.Days, Value: 3}},
			err: `"days" is no meter that can be typed: use one of hours, changes, starts, styrenic-hours, abrasive-hours`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := NewMachine(fact, c.reads, c.lasts, procs(), at, now)
			if text(err) != c.err {
				t.Fatalf("error %q, want %q", text(err), c.err)
			}
			if len(got) != len(c.times) {
				t.Fatalf("%d actions, want %d", len(got), len(c.times))
			}
			for i, a := range got {
				if !a.At.Equal(c.times[i]) || a.Machine != "m" {
					t.Errorf("action %d at %v of %q, want %v", i, a.At, a.Machine, c.times[i])
				}
			}
			if len(got) > 0 && len(got[0].Facts) != 1+len(c.reads) {
				t.Errorf("the machine comes with %d facts", len(got[0].Facts))
			}
		})
	}
}
