package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// stepsPassed are the steps of a session in the order they were passed, "block/step".
func stepsPassed(r *walktest.Run) []string {
	var out []string
	for _, e := range r.J.Entries {
		if x := e.Walk; x != nil && (x.What == walk.Passed || x.What == walk.Missed) {
			out = append(out, x.ID+"/"+x.Step)
		}
	}
	return out
}

// TestPlasticFoundAfterACrashIsClearedBeforeHeat: plastic round the block holds the leads, and what
// heats it first draws them out (common practice). What a blow loosened is put right in the session
// that found it, before its proofs drive the machine.
func TestPlasticFoundAfterACrashIsClearedBeforeHeat(t *testing.T) {
	lib := library(t)
	for _, c := range []struct{ step, answer, joins string }{
		{"lump", "round the block", "leak-clear"},
		{"leads", "one of a fan drawn", "cable-check"},
		{"probe", "loose", "probe-clean"},
		{"belts", "a line is broken", "pulley-screws"},
		{"ends", "one side lags", "square-check"},
	} {
		r := begin(t, lib, machine(lib, "full"), "crash-look")
		reach(t, r, "crash-look", c.step)
		say(t, r, c.answer)
		finish(t, r)
		passed := stepsPassed(r)
		begins := func(prefixes ...string) int {
			return slices.IndexFunc(passed, func(s string) bool {
				return slices.ContainsFunc(prefixes, func(p string) bool {
					return strings.HasPrefix(s, p+"/")
				})
			})
		}
		joined, driven := begins(c.joins), begins("heat", "self-check", "first-layer", "bed-tram")
		if joined < 0 || driven < 0 || driven < joined {
			t.Errorf("%s: %s stands at %d, the first that heats or drives at %d of %v", c.answer,
				c.joins, joined, driven, passed)
		}
	}
}

// TestWhatABlowBrokeKeepsThePowerOff: a bent cutter arm or probe is met by the head at its first
// homing.
func TestWhatABlowBrokeKeepsThePowerOff(t *testing.T) {
	lib := library(t)
	for _, c := range [][2]string{{"arm", "arm bent or stuck"}, {"probe", "bent or broken"}} {
		r := begin(t, lib, machine(lib, "full"), "crash-look")
		reach(t, r, "crash-look", c[0])
		say(t, r, c[1])
		finishStopped(t, r)
		if r.W.Stopped == "" {
			t.Errorf("%s: it goes on to power", c[1])
		}
	}
}

// TestNothingIsFedThroughAKnownLeak: a joint found leaking is not fed through to see whether it
// leaks; one that was mended, or that nobody sees, is.
func TestNothingIsFedThroughAKnownLeak(t *testing.T) {
	lib := library(t)
	for answer, fed := range map[string]bool{"mended before this": true, "not to be seen": true,
		"at the nozzle's thread": false, "above the block": false} {
		r := begin(t, lib, machine(lib, machineKinds[1]...), "leak-clear")
		reach(t, r, "leak-clear", "source")
		say(t, r, answer)
		finish(t, r)
		if !fed && !slices.Contains(stepsPassed(r), "nozzle-swap/nip") {
			t.Errorf("%s: the nozzle is not tightened in this session", answer)
		}
		got := slices.ContainsFunc(stepsPassed(r), func(s string) bool {
			return strings.HasSuffix(s, "/leak-clear.dry")
		})
		if got != fed {
			t.Errorf("%s: fed %v", answer, got)
		}
	}
}

// TestACoverHeldByPlasticIsLeftOn: leads run in that plastic; a cover torn off takes them along.
func TestACoverHeldByPlasticIsLeftOn(t *testing.T) {
	lib := library(t)
	for _, fixing := range []string{"2 mm key", "clips or magnets"} {
		m := machine(lib, "full")
		m.Settings["cover-fixing"] = fixing
		r := begin(t, lib, m, "fans-blow")
		reach(t, r, "cover-off", "lift")
		say(t, r, "plastic holds it")
		finishStopped(t, r)
		if r.W.Stopped == "" || r.W.Ledger().Out["cover"] != 0 {
			t.Errorf("%s: stopped %q, with %s", fixing, r.W.Stopped, walk.LedgerLine(r.W.Ledger()))
		}
	}
}

// TestALeakSeenAtTheTipIsClearedInThatSession: what comes out above the tip buries the leads with
// the next print (common practice), and the sheet of the session itself is one.
func TestALeakSeenAtTheTipIsClearedInThatSession(t *testing.T) {
	lib := library(t)
	for _, c := range [][3]string{{"nozzle-swap-look", "tip-open", "leak above"},
		{"sock-check", "pick", "leak from above"}} {
		r := begin(t, lib, machine(lib, machineKinds[1]...), c[0], "first-layer")
		reach(t, r, c[0], c[1])
		say(t, r, c[2])
		finish(t, r)
		passed := stepsPassed(r)
		cleared := slices.Index(passed, "leak-clear/cold-off")
		printed := slices.IndexFunc(passed, func(s string) bool {
			return strings.HasPrefix(s, "first-layer/")
		})
		if cleared < 0 || printed < cleared {
			t.Errorf("%s: cleared at %d, printed at %d of %v", c[0], cleared, printed, passed)
		}
	}
}
