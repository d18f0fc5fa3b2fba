package session

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// A session says its hours by the clock on the bench, also after it was read from the file, which
// keeps UTC: it is ten there when the plug is pulled and the heat read.
func TestASessionSaysItsHoursByTheBenchsClock(t *testing.T) {
	now := time.Date(2026, 11, 25, 10, 0, 0, 0, time.FixedZone("east", 5*60*60))
	lib := procedures.Open("")
	d, m := bench(t, lib, model.MachineFact{Settings: defaults(lib, map[string]string{})}, &now)
	s := begin(t, d, m, Choice{Only: []string{"fans-blow"}}, now)
	settle(t, s, now)
	for n := 0; n < 60 && !strings.Contains(walk.StateLine(s.W), "°C at"); n++ {
		if _, err := s.Answer(walktest.Good(s.W, s.Context(now), s.W.Prompt(now)),
			now); err != nil {
			t.Fatal(err)
		}
	}
	for _, when := range []string{"as written", "as read"} {
		if got := walk.StateLine(s.W); !strings.Contains(got, "at 10:00") {
			t.Errorf("%s: %q, and it was 10:00", when, got)
		}
		var err error
		if s, err = d.Open(s.W.ID); err != nil {
			t.Fatal(err)
		}
	}
}
