package walk_test

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestConnectorsArePartedFiveMinutesAfterThePlug: a supply holds its charge, and no word shortens
// that.
func TestConnectorsArePartedFiveMinutesAfterThePlug(t *testing.T) {
	lib := library(t)
	for _, c := range []struct{ kind, block, step string }{{"full", "cover-off", "lift"},
		{"lid-changer", "changer-off", "lead"}} {
		r := begin(t, lib, machine(lib, "full", c.kind), "blade-check")
		var out time.Time
		for range 200 {
			p := r.W.Prompt(r.Now)
			if p.Kind == walk.AskWait && p.Wait.Clock == "unplugged" {
				for _, text := range []string{"cut no time", "cut the supply is dark", "ok"} {
					if rep := say(t, r, text); rep.Refusal == "" ||
						strings.Contains(rep.Refusal, "cut WHY") {
						t.Errorf("%q: %q", text, rep.Refusal)
					}
				}
			}
			if p.Kind == walk.AskStep && p.Block.ID == c.block && p.Step.Name == c.step {
				break
			}
			was := r.W.Believed[model.Power]
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
			if is := r.W.Believed[model.Power]; is != was && is == "unplugged" {
				out = r.Now
			}
		}
		if d := r.Now.Sub(out); out.IsZero() || d < 5*time.Minute {
			t.Errorf("%s/%s comes %s after the plug", c.block, c.step, d)
		}
	}
}

// unpluggedAt begins a session on a machine said to be unplugged so, and comes to the wait before
// the cover is lifted.
func unpluggedAt(t *testing.T, said string) (r *walktest.Run, since time.Time) {
	t.Helper()
	lib := library(t)
	r = begin(t, lib, machine(lib, "full"), "blade-check")
	rep := say(t, r, said)
	since = r.Now
	if rep.Refusal != "" {
		t.Fatal(rep.Refusal)
	}
	return r, since
}

// TestSaidUnpluggedTheClockStartsThen, unless it is told since when.
func TestSaidUnpluggedTheClockStartsThen(t *testing.T) {
	for _, c := range []struct {
		said string
		ago  time.Duration
	}{{"H1", 0}, {"H1 20 min", 20 * time.Minute}, {"H1 2 h", 2 * time.Hour},
		{"H1 since 13:40", 20 * time.Minute}} {
		r, at := unpluggedAt(t, c.said)
		if c.said == "H1 since 13:40" {
			c.ago = at.Sub(time.Date(at.Year(), at.Month(), at.Day(), 13, 40, 0, 0, at.Location()))
			if c.ago < 0 {
				c.ago += 24 * time.Hour
			}
		}
		if got := at.Sub(r.W.Clocks["unplugged"]); got.Round(time.Second) != c.ago.Round(
			time.Second) {
			t.Errorf("%q: out for %s, want %s", c.said, got, c.ago)
		}
	}
	r, _ := unpluggedAt(t, "H1")
	for _, bad := range []string{"H1 yesterday", "H1 -5 min", "H1 5 mm", "H1 since noon"} {
		r = begin(t, library(t), r.M, "blade-check")
		if rep := say(t, r, bad); rep.Refusal == "" {
			t.Errorf("%q is taken", bad)
		}
	}
}

// TestAfterABreakTheSupplyDischargesAgain: nobody knows that the plug stayed out.
func TestAfterABreakTheSupplyDischargesAgain(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "heater-ohms")
	reach(t, r, "heater-ohms", "leads")
	resume(t, r, nil)
	said := r.W.Clocks["unplugged"]
	if r.Now.Sub(said) > time.Minute*5 {
		t.Fatalf("said to be unplugged %s ago", r.Now.Sub(said))
	}
	count(t, r)
	for range 30 {
		if p := r.W.Prompt(r.Now); p.Kind == walk.AskWait && p.Wait.Clock == "unplugged" {
			return
		} else if p.Kind == walk.AskStep && p.Block.ID == "heater-ohms" && p.Step.Name == "part" {
			break
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	t.Error("after a break nothing waits for the supply")
}
