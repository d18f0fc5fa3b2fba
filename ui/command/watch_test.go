package command

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"bench/oilcan/ui/theme"
)

// A person who waits over a second on a terminal sees how far it is, and no trace of it afterwards;
// nobody else does.
func TestAWaitIsWatchedFromASecondOn(t *testing.T) {
	now := time.Unix(0, 0)
	clock, err := NewClock(func() time.Time { return now }, "")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	a := &app{Deps: Deps{Clock: clock, OutputTTY: true}, th: theme.New(theme.Options{}),
		errs: theme.NewWriter(&out)}
	seen, done := watch(a, "checking")
	seen(1, 4)
	if out.Len() > 0 {
		t.Errorf("at once: %q", out.String())
	}
	now = now.Add(unwatched)
	seen(2, 4)
	seen(3, 4) // at the same instant: drawn once
	if got := strings.Count(out.String(), "checking "+a.th.Bar(barWidth, 0.5)); got == 0 ||
		strings.Contains(out.String(), a.th.Bar(barWidth, 0.75)) {
		t.Errorf("after a second: %q", out.String())
	}
	done()
	if !strings.HasSuffix(out.String(), "\r"+strings.Repeat(" ", progressWidth)+"\r") {
		t.Errorf("afterwards: %q", out.String())
	}
	a.OutputTTY = false
	if seen, _ := watch(a, "checking"); seen != nil {
		t.Error("a pipe is told how far it is")
	}
}
