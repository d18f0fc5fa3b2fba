package walk

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

// TestAWaitStopsTheTenMinutesAndDoesNotRenewThem: targets read as zero hold for ten minutes outside
// waits, however many waits there were.
func TestAWaitStopsTheTenMinutesAndDoesNotRenewThem(t *testing.T) {
	at := func(min int) time.Time { return time.Date(2026, 3, 1, 9, min, 0, 0, time.UTC) }
	wait := func(from, to int) Running { return Running{Begun: at(from), Until: at(to)} }
	read := known{at: at(0)}
	for _, x := range []struct {
		name  string
		waits []Running
		now   int
		want  bool
	}{
		{"no wait", nil, 10, true},
		{"no wait, over", nil, 11, false},
		{"a wait of thirty", []Running{wait(5, 35)}, 40, true},
		{"a wait of thirty, over", []Running{wait(5, 35)}, 41, false},
		{"two short waits", []Running{wait(8, 9), wait(10, 11)}, 13, false},
		{"two at once", []Running{wait(2, 22), wait(3, 13)}, 31, false},
		{"one that runs still", []Running{wait(8, 50)}, 30, true},
		{"begun before the reading", []Running{wait(-5, 20)}, 15, false},
	} {
		w := &Walk{running: running{Waits: x.waits}}
		if got := w.holdsStill(&model.Step{Known: targetsZero}, read, at(x.now)); got != x.want {
			t.Errorf("%s, after %d min: holds %t, want %t", x.name, x.now, got, x.want)
		}
	}
}
