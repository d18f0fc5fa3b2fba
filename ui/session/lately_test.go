package session

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
)

// Whoever opens a session that was answered a moment ago and not paused hears it: another program
// may have it open.
func TestASecondProgramOnASessionIsTold(t *testing.T) {
	now := ten
	d, m := bench(t, procedures.Open(""), model.MachineFact{}, &now)
	first := begin(t, d, m, Choice{Only: []string{"fans-blow"}}, now)
	told := func(after time.Duration) string {
		t.Helper()
		now = now.Add(after)
		second, err := d.Resume(first.W.ID, now)
		if err != nil {
			t.Fatal(err)
		}
		return second.Lately
	}
	if got := told(20 * time.Second); !strings.Contains(got, "left 20 s ago") {
		t.Errorf("after 20 s: %q", got)
	}
	if got := told(183 * time.Second); !strings.Contains(got, "left 3 min ago") {
		t.Errorf("after 183 s: %q", got)
	}
	if got := told(6 * time.Minute); got != "" {
		t.Errorf("after six minutes: %q", got)
	}
	s, err := d.Open(first.W.ID)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Answer("pause", now); err != nil {
		t.Fatal(err)
	}
	if got := told(20 * time.Second); got != "" {
		t.Errorf("after a pause: %q", got)
	}
}
