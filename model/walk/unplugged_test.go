package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// stand answers all that is asked of the state with these words, what is not among them as it was.
func stand(t *testing.T, r *walktest.Run, says map[model.Variable]string) {
	t.Helper()
	for p := r.W.Prompt(r.Now); p.Kind == walk.AskState ||
		p.Kind == walk.AskLedger; p = r.W.Prompt(r.Now) {
		text := says[p.Variable]
		if text == "" {
			text = walktest.Good(r.W, r.Context(), p)
		}
		if rep := say(t, r, text); rep.Refusal != "" {
			t.Fatalf("%s: %q: %s", p.Question, text, rep.Refusal)
		}
	}
}

// standsDark is a machine that stands unplugged, cold and unloaded.
var standsDark = map[model.Variable]string{model.Power: "H1 since 07:00", model.Heat: "21",
	model.Filament: "unloaded", model.Bed: "low"}

// What is done on a dark machine that is left so is done without its power, and what only power
// shows is owed.
func TestLeftUnplugged(t *testing.T) {
	lib := library(t)
	r := beginAs(t, lib, machine(lib, "full"), walk.Start{Leave: model.Unplugged}, "rods-wipe")
	stand(t, r, standsDark)
	for _, b := range r.W.Blocks {
		if slices.Contains([]string{"as-found", "plug-in", "switch-on", "heat", "unplug"}, b.ID) {
			t.Errorf("%s is planned: %v", b.ID, order(r))
		}
	}
	reach(t, r, "close-out", "ready")
	for _, word := range []string{"ready", "limited"} {
		if rep := say(t, r, word); !strings.Contains(rep.Refusal,
			"slots on the screen against the rolls") {
			t.Errorf("%s: %q", word, rep.Refusal)
		}
	}
	say(t, r, "checks owed")
	finish(t, r)
	if r.W.State() != "checks owed" || !r.W.End.Unplugged {
		t.Errorf("it is left %s, unplugged %t", r.W.State(), r.W.End.Unplugged)
	}
	tagged := slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Finding != nil && e.Finding.Procedure == "close-out" &&
			strings.HasPrefix(e.Finding.Text, "Tag the plug: checks owed, no print")
	})
	if !tagged {
		t.Error("whoever plugs it in without the program is told nothing")
	}
	var owed []string
	for _, e := range r.J.Entries {
		if e.Finding != nil && e.Finding.Hash != "" {
			owed = append(owed, e.Finding.Procedure+"/"+e.Finding.Step)
		}
	}
	if !slices.Equal(owed, []string{"changer-on/slots"}) {
		t.Errorf("owed: %v", owed)
	}
}

// Nothing owed: it is ready, and that nothing is owed is not said in its place.
func TestNothingIsOwed(t *testing.T) {
	lib := library(t)
	m := machine(lib, "enclosed", "corexy", "top-panel", "rods-carbon", "bush-polymer")
	r := beginAs(t, lib, m, walk.Start{Leave: model.Unplugged}, "rods-wipe")
	stand(t, r, standsDark)
	reach(t, r, "close-out", "ready")
	if rep := say(t, r, "checks owed"); !strings.Contains(rep.Refusal, "No check") {
		t.Errorf("checks owed: %q", rep.Refusal)
	}
	say(t, r, "ready")
	finish(t, r)
	if r.W.State() != "ready" {
		t.Errorf("it is left %s", r.W.State())
	}
}

// A proof that work names cannot be had without power: it is due, and the machine is not ready
// before it.
func TestAProofIsDueWhereItIsLeftUnplugged(t *testing.T) {
	lib := library(t)
	r := beginAs(t, lib, machine(lib, "full"), walk.Start{Leave: model.Unplugged}, "belts-reset")
	stand(t, r, standsDark)
	finish(t, r)
	var due []string
	for _, e := range r.J.Entries {
		if e.Due != nil {
			due = append(due, e.Due.Procedure)
		}
	}
	if !slices.Contains(due, "self-check") || r.W.State() != "checks owed" {
		t.Errorf("due %v, left %s", due, r.W.State())
	}
}

// A machine that is on and hot at the beginning is read, unloaded and cooled, then left unplugged.
func TestFoundOnAndLeftUnplugged(t *testing.T) {
	lib := library(t)
	r := beginAs(t, lib, machine(lib, "full"), walk.Start{Leave: model.Unplugged}, "blade-check",
		"self-check")
	watched(t, r, nil)
	ids := order(r)
	if !slices.Contains(ids, "as-found") || !slices.Contains(ids, "unload") ||
		slices.Contains(ids, "plug-in") || slices.Contains(ids, "self-check") {
		t.Errorf("it went %v", ids)
	}
	if r.W.Believed[model.Power] != model.Unplugged {
		t.Errorf("power is %s", r.W.Believed[model.Power])
	}
}

// What an earlier session owes is asked for behind the next switching on, and its finding is
// settled by that.
func TestOwedChecksAreAskedAtTheNextPower(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	owed := append(carried(lib, m, "changer-on", "slots"),
		carried(lib, m, "fans-blow", "hot-end-fan")...)
	for name, x := range map[string]struct {
		leave  string
		ids    []string
		stands map[model.Variable]string
	}{
		"care on a dark machine":   {"", []string{"camera-clean"}, standsDark},
		"the checks alone":         {model.On, []string{"close-out"}, standsDark},
		"found on, and dark later": {model.Unplugged, []string{"camera-clean"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			r := beginAs(t, lib, m, walk.Start{Leave: x.leave, Owed: owed}, x.ids...)
			stand(t, r, x.stands)
			watched(t, r, nil)
			asked, settled := map[string]bool{}, map[string]bool{}
			for _, e := range r.J.Entries {
				if e.Walk != nil && e.Walk.What == walk.Passed {
					asked[e.Walk.ID+"/"+e.Walk.Step] = true
				}
				if e.Settled != nil {
					settled[e.Settled.Finding] = true
				}
			}
			if !asked["owed/changer-on.slots"] || !asked["owed-hot/fans-blow.hot-end-fan"] ||
				!settled["F-slots"] || !settled["F-hot-end-fan"] {
				t.Errorf("asked %t and %t, settled %v: %v", asked["owed/changer-on.slots"],
					asked["owed-hot/fans-blow.hot-end-fan"], settled, order(r))
			}
		})
	}
}

// What an earlier session owes and this one could not have either stays its finding, and is no
// second one.
func TestStillOwedIsOneFinding(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := beginAs(t, lib, m,
		walk.Start{Leave: model.Unplugged,
			Owed: carried(lib, m, "changer-on", "slots")}, "camera-clean")
	stand(t, r, standsDark)
	finish(t, r)
	for _, e := range r.J.Entries {
		if e.Settled != nil || e.Finding != nil && e.Finding.Step == "slots" {
			t.Errorf("written: %+v %+v", e.Settled, e.Finding)
		}
	}
	if r.W.State() != "checks owed" {
		t.Errorf("it is left %s", r.W.State())
	}
}

// loadedInTheDark is a dark machine with filament in the head.
var loadedInTheDark = map[model.Variable]string{model.Power: "H1 since 07:00", model.Heat: "21",
	model.Filament: "loaded", model.Bed: "low"}

// A dark machine is not heated only to unload: its filament is parted at the head, and the stub
// owed until there is heat.
func TestADarkMachineIsNotHeatedToUnload(t *testing.T) {
	lib := library(t)
	for _, remote := range []bool{false, true} {
		kind, want := "direct-drive", "part-filament/stub-pushed"
		if remote {
			kind = "remote-drive"
		}
		m := machine(lib, "enclosed", "corexy", "top-panel", "changer", "rods-carbon",
			"bush-polymer", kind)
		r := beginAs(t, lib, m, walk.Start{Leave: model.Unplugged}, "rods-wipe")
		stand(t, r, loadedInTheDark)
		watched(t, r, nil)
		if ids := order(r); !slices.Contains(ids, "part-filament") ||
			slices.Contains(ids, "heat") || r.W.Ledger().Flags["strand"] != "left" {
			t.Fatalf("%s: it went %v and leaves %s", kind, ids, walk.LedgerLine(r.W.Ledger()))
		}
		var owed []model.Found
		for _, e := range r.J.Entries {
			if e.Finding != nil {
				owed = append(owed, *e.Finding)
			}
		}
		i := slices.IndexFunc(owed, func(f model.Found) bool {
			return f.Procedure+"/"+f.Step == want
		})
		if i < 0 || slices.ContainsFunc(owed, func(f model.Found) bool {
			return strings.Contains(f.Text, "A stub of filament")
		}) {
			t.Fatalf("%s: found %v", kind, owed)
		}
		// the next session under power takes it out before anything is loaded
		m.Ledger = r.W.Ledger()
		next := beginAs(t, lib, m,
			walk.Start{Leave: model.On,
				Owed: carried(lib, m, "part-filament", owed[i].Step)}, "close-out")
		stand(t, next, map[model.Variable]string{model.Power: "H1 since 07:00", model.Heat: "21",
			model.Filament: "parted", model.Bed: "low"})
		watched(t, next, nil)
		if next.W.Ledger().Flags["strand"] != "" || next.W.State() != "ready" ||
			next.W.Believed[model.Filament] == model.Parted {
			t.Errorf("%s: left %s with %s, filament %s", kind, next.W.State(),
				walk.LedgerLine(next.W.Ledger()), next.W.Believed[model.Filament])
		}
	}
}

// A head that has to be empty is emptied of a stub as of all else, and what is owed for the stub
// goes with it.
func TestAStubComesOutWithUnloading(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Ledger.Flags = map[string]string{"strand": "left"}
	r := beginAs(t, lib, m, walk.Start{Owed: carried(lib, m, "part-filament", "stub-pushed")},
		"gears-blow")
	stand(t, r, map[model.Variable]string{model.Power: "H1 since 07:00", model.Heat: "21",
		model.Filament: "parted", model.Bed: "low"})
	watched(t, r, map[string]string{"unload/draw": "parted"})
	settled := slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Settled != nil && e.Settled.Finding == "F-stub-pushed"
	})
	if ids := order(r); !slices.Contains(ids, "unload") || !settled ||
		r.W.Ledger().Flags["strand"] != "" {
		t.Errorf("it went %v, settled %t, %s", ids, settled, walk.LedgerLine(r.W.Ledger()))
	}
}

// A machine that is on is unloaded: nothing is cut while there is power to draw it out.
func TestAMachineThatIsOnIsUnloaded(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	stand(t, r, map[model.Variable]string{model.Heat: "21"})
	if ids := order(r); slices.Contains(ids, "part-filament") || !slices.Contains(ids, "unload") {
		t.Errorf("it goes %v", ids)
	}
}

// The hand goes to the head and cutters close there: it is warned of wherever filament is cut cold,
// and nothing that can fall hangs up (common practice).
func TestTheCutAtTheHeadIsWarnedOf(t *testing.T) {
	lib := library(t)
	m := machine(lib, "enclosed", "corexy", "top-panel", "changer", "rods-carbon", "bush-polymer",
		"direct-drive")
	r := beginAs(t, lib, m, walk.Start{Leave: model.Unplugged}, "rods-wipe")
	stand(t, r, loadedInTheDark)
	reach(t, r, "part-filament", "bare")
	if standing(r, "hot") == "" {
		t.Error("a hand goes to the collar, and nothing says that the head may burn")
	}
	reach(t, r, "part-filament", "part")
	if standing(r, "cut-end") == "" {
		t.Error("the cut is not warned of")
	}
	for _, id := range []string{"part-filament", "changer-off"} {
		if setUp(lib, id).Require[model.Bed] != model.Low {
			t.Errorf("%s: the collar is pressed under what can fall", id)
		}
	}
	off := setUp(lib, "changer-off")
	cuts := slices.ContainsFunc(off.Cautions, func(c model.Caution) bool {
		return c.ID == "cut-end" && slices.Contains(c.Before, "cut")
	})
	if !cuts || !slices.Contains(off.Gear, "glasses") {
		t.Error("changer-off: the same cut has no glasses")
	}
}

// A stub that does not come out is in the head still, and owed: nothing is loaded over it, neither
// by what else is owed nor by care, and what draws it out is due. The next session asks for it
// first.
func TestNothingIsLoadedOverAStubThatStays(t *testing.T) {
	lib := library(t)
	const step = "stub-pushed"
	for _, kind := range []string{"direct-drive", "remote-drive"} {
		m := machine(lib, "enclosed", "corexy", "top-panel", "changer", "rods-carbon",
			"bush-polymer", kind)
		m.Ledger.Flags = map[string]string{"strand": "left"}
		owed := append(carried(lib, m, "part-filament", step),
			carried(lib, m, "gears-blow", "feed")...)
		r := beginAs(t, lib, m, walk.Start{Leave: model.On, Owed: owed}, "first-layer", "close-out")
		stand(t, r, map[model.Variable]string{model.Power: "on", model.Heat: "21",
			model.Filament: "parted", model.Bed: "low"})
		reach(t, r, "owed-hot", "part-filament."+step)
		if rep := say(t, r, "fail"); !strings.Contains(rep.Note, "load nothing") {
			t.Errorf("%s: not out, and it says %q", kind, rep.Note+rep.Refusal)
		}
		if is := r.W.Believed[model.Filament]; is != model.Parted {
			t.Errorf("%s: filament is believed %s", kind, is)
		}
		watched(t, r, nil)
		for _, e := range r.J.Entries {
			switch x := e.Walk; {
			case x != nil && x.What == walk.Passed &&
				(x.Step == "gears-blow.feed" || x.ID == "first-layer"):
				t.Errorf("%s: %s/%s loads over the stub", kind, x.ID, x.Step)
			case e.Settled != nil:
				t.Errorf("%s: %s is settled", kind, e.Settled.Finding)
			}
		}
		due := slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
			return e.Due != nil && e.Due.Procedure == "cold-pull"
		})
		if !due || r.W.Ledger().Flags["strand"] != "left" {
			t.Errorf("%s: cold pull due %t, left with %s", kind, due, walk.LedgerLine(r.W.Ledger()))
		}
	}
}

// What stays in the head after unloading is written down: by a note on the screen, and in what the
// machine is left with.
func TestWhatUnloadingLeavesIsFlagged(t *testing.T) {
	lib := library(t)
	for step, answer := range map[string]string{"draw": "stuck", "left": "a stub is left",
		"stub-pushed": "fail"} {
		r := beginAs(t, lib, machine(lib, "full"), walk.Start{}, "gears-blow")
		answers := map[string]string{"unload/" + step: answer}
		is := model.Loaded
		if step == "stub-pushed" {
			answers["unload/draw"], is = "parted", model.Parted
		}
		stand(t, r, map[model.Variable]string{model.Power: "on", model.Heat: "200",
			model.Filament: is, model.Bed: "low"})
		watched(t, r, answers)
		if r.W.Ledger().Flags["strand"] != "left" {
			t.Errorf("%s answered %s: left with %s", step, answer, walk.LedgerLine(r.W.Ledger()))
		}
		fed := slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
			return e.Walk != nil && e.Walk.What == walk.Passed && e.Walk.Step == "gears-blow.feed"
		})
		if step == "stub-pushed" && fed {
			t.Error("filament is fed over a stub that would not come")
		}
	}
}
