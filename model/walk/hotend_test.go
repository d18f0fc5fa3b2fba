package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk/walktest"
)

// TestALooseHeaterIsMeasuredBeforeHeat: common practice: a heater or sensor that was loose in its
// block is measured with the plug out before anything heats, and whatever reads open, short or
// leaking gets no power.
func TestALooseHeaterIsMeasuredBeforeHeat(t *testing.T) {
	lib := library(t)
	for _, bad := range [][2]string{{"heater-shows", "near zero"}, {"heater", "0.4"},
		{"to-block", "0.2"}, {"sensor-shows", "open"}} {
		r := begin(t, lib, machine(lib, "full"), "sock-check")
		reach(t, r, "sock-check", "tug")
		say(t, r, "loose")
		reach(t, r, "sock-check", "parted")
		if is := r.W.Believed[model.Power]; is != "unplugged" {
			t.Fatalf("plugs are parted with power %s", is)
		}
		reach(t, r, "sock-check", bad[0])
		say(t, r, bad[1])
		say(t, r, bad[1])
		finish(t, r)
		if r.W.Stopped == "" || r.W.Believed[model.Power] != "unplugged" {
			t.Errorf("%s %s: stopped %q, power %s", bad[0], bad[1], r.W.Stopped,
				r.W.Believed[model.Power])
		}
	}
}

// TestAHeaterFarFromItsLabelGetsNoHeat: more than 15 % below label or record is a short between
// turns, more than 15 % above a joint that gives way and burns (from memory); neither gets power.
// How far it is off is not asked after it was typed: the figures are there.
func TestAHeaterFarFromItsLabelGetsNoHeat(t *testing.T) {
	lib := library(t)
	for _, kind := range []string{"cartridge, ohms known", "ceramic or unknown"} {
		for _, c := range [][2]string{{"heater-shows", "open"}, {"heater", "16.7"},
			{"heater", "12.1"}} {
			m := machine(lib, "full")
			m.Settings["heater-kind"], m.Settings["heater-label"] = kind, "14.4"
			step := c[0]
			if step == "heater" && kind == "ceramic or unknown" {
				step = "heater-own"
				m.Values = map[string][]model.Recorded{"heater resistance": {{Value: 14.4}}}
			}
			r := begin(t, lib, m, "heater-ohms")
			reach(t, r, "heater-ohms", step)
			say(t, r, c[1])
			say(t, r, c[1])
			finish(t, r)
			if r.W.Stopped == "" || r.W.Believed[model.Power] != "unplugged" {
				t.Errorf("%s, %s %s: stopped %q, power %s", kind, step, c[1], r.W.Stopped,
					r.W.Believed[model.Power])
			}
		}
	}
}

// TestOneFigureForAHeater: whichever procedure measures it, a heater is held to the same share of
// its own record.
func TestOneFigureForAHeater(t *testing.T) {
	lib := library(t)
	loose, yearly := lib.Get("sock-check").Step("heater").Near, lib.Get("heater-ohms").Step(
		"heater-own").Near
	if *loose != *yearly || yearly.Share != lib.Get("heater-ohms").Step("heater").Near.Share {
		t.Errorf("%+v after it was loose, %+v yearly", loose, yearly)
	}
}

// TestATableFigureIsOneOfASensor: 100 kohm at 25 °C with B 3950 is 259 kohm at 5 °C and 53 at 40
// (calculated); a Pt100 and a Pt1000 are 101.95 and 1155.4 ohm there (IEC 60751). A figure in the
// wrong unit is read again.
func TestATableFigureIsOneOfASensor(t *testing.T) {
	lib := library(t)
	for kind, c := range map[model.Feature][3]string{"sensor-ntc": {"table-ntc", "259", "100000"},
		"sensor-pt": {"table-pt", "1155.4", "1.1"}} {
		r := begin(t, lib, machine(lib, "enclosed", "corexy", string(kind)), "heater-ohms")
		reach(t, r, "heater-ohms", c[0])
		if rep := say(t, r, c[2]); rep.Refusal == "" {
			t.Errorf("%s takes %s", c[0], c[2])
		}
		if rep := say(t, r, c[1]); rep.Refusal != "" {
			t.Errorf("%s of %s: %s", c[0], c[1], rep.Refusal)
		}
	}
}

// TestNoHeatWithoutTheFanOnTheFins: with the cover off the fan may hang on it: it is looked at
// before power comes, and must be seen to run before the hot end is asked for more.
func TestNoHeatWithoutTheFanOnTheFins(t *testing.T) {
	lib := library(t)
	for id, branch := range map[string][2]string{"nozzle-swap": {},
		"sock-check": {"peel", "stuck in plastic"}} {
		m := machine(lib, machineKinds[1]...)
		r := begin(t, lib, m, id)
		if branch[0] != "" {
			reach(t, r, id, branch[0])
			say(t, r, branch[1])
		}
		fan := map[string]string{"nozzle-swap": "fan-runs", "sock-check": "warm-fan"}[id]
		reach(t, r, id, fan)
		if !slices.ContainsFunc(r.W.Step().Options, func(o model.Option) bool {
			return strings.HasSuffix(o.Is, "nothing rises") && o.Miss != nil &&
				o.Miss.Then == model.ThenStop
		}) {
			t.Errorf("%s: a heater that burns unseen has no answer", id)
		}
		if hot := r.W.Believed[model.Heat]; hot != "cold" {
			t.Errorf("%s: asked for the fan with the machine %s", id, hot)
		}
		say(t, r, "stands still")
		finish(t, r)
		if r.W.Stopped == "" {
			t.Errorf("%s goes on without the fan", id)
		}
	}
}

// TestANozzleOfNobodyKnowsWhatIsNeverDue: hours wear brass and steel at rates that differ by a
// factor of five (from memory), so that none is counted before the kind is set.
func TestANozzleOfNobodyKnowsWhatIsNeverDue(t *testing.T) {
	lib := library(t)
	for _, id := range []string{"nozzle-swap", "hotend-swap"} {
		p := lib.Get(id)
		for is, want := range map[string]bool{"": false, "unknown": false, "brass": true,
			"hardened steel": true} {
			got := p.For(model.NewFeatureSet(p.Needs...),
				map[string]string{"nozzle-material": is}).Intervals
			if len(got) > 0 != want {
				t.Errorf("%s of %q: %d limits", id, is, len(got))
			}
		}
		i := slices.IndexFunc(p.Settings, func(s model.Setting) bool {
			return s.Name == "nozzle-material"
		})
		if i < 0 || p.Settings[i].Default != "" {
			t.Errorf("%s takes a kind for granted", id)
		}
	}
}

// TestWhatWasLooseIsNotPassedOver: neither the steps that measure it nor the rest of the procedure
// is left out.
func TestWhatWasLooseIsNotPassedOver(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "sock-check")
	reach(t, r, "sock-check", "tug")
	say(t, r, "loose")
	for _, step := range []string{"refix", "parted", "heater-shows", "heater", "to-block",
		"sensor-shows"} {
		reach(t, r, "sock-check", step)
		for _, verb := range []string{"skip no time", "leave no time"} {
			if rep := say(t, r, verb); rep.Refusal == "" {
				t.Fatalf("%s at %s is taken", verb, step)
			}
		}
	}
	finish(t, r)
}

// stuck walks a sock that is baked on to a step of its warm branch.
func stuck(t *testing.T, step string) *walktest.Run {
	t.Helper()
	lib := library(t)
	r := begin(t, lib, machine(lib, machineKinds[1]...), "sock-check")
	reach(t, r, "sock-check", "peel")
	say(t, r, "stuck in plastic")
	reach(t, r, "sock-check", step)
	return r
}

// TestAStuckSockIsWarmedByATrueSensor: plastic may have drawn the sensor out of its seat. It must
// read the room before anything is asked of the heater, and rise by its own heat (4 °C and 20 s
// from memory).
func TestAStuckSockIsWarmedByATrueSensor(t *testing.T) {
	for step, bad := range map[string]string{"warm-idle": "60", "warm-fan": "nothing rises"} {
		r := stuck(t, step)
		if is := r.W.Believed[model.Heat]; is != "cold" {
			t.Errorf("%s: the machine is %s already", step, is)
		}
		stopAt(t, r, bad)
		finishStopped(t, r)
	}
}

// TestWarmFromWorkIsNoFault: hands go in at 45 °C, so that bed and block may stand well over the
// room when power comes back. They are read again while they fall; what does not fall within the
// hour is a sensor that lies.
func TestWarmFromWorkIsNoFault(t *testing.T) {
	r := stuck(t, "warm-room")
	say(t, r, "22")
	reach(t, r, "sock-check", "warm-idle")
	for _, still := range []string{"44", "38", "33"} {
		say(t, r, still)
	}
	if r.W.Stopped != "" || r.W.Step().Name != "warm-idle" {
		t.Fatalf("stopped %q at %s: a block that was warm from work", r.W.Stopped, r.W.Step().Name)
	}
	if rep := say(t, r, "25"); rep.Refusal != "" || r.W.Step().Name != "warm-fan" {
		t.Errorf("at %s, refused %q", r.W.Step().Name, rep.Refusal)
	}
}

// TestASockBakedOnForGoodEndsColdAndUnplugged: nobody picks and tugs below a sock that would not
// come off.
func TestASockBakedOnForGoodEndsColdAndUnplugged(t *testing.T) {
	r := stuck(t, "warm-peel")
	for range 3 {
		say(t, r, "still stuck")
		if r.W.Step().Name != "warm-heat" {
			break
		}
		reach(t, r, "sock-check", "warm-peel")
	}
	var asked []string
	for r.W.Block() != nil && r.W.Block().ID == "sock-check" {
		asked = append(asked, r.W.Step().Name)
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if want := []string{"stuck-cool", "stuck-off"}; !slices.Equal(asked, want) {
		// what is left inside is asked before the head closes
		t.Errorf("after it is given up: %v", asked)
	}
	if is := r.W.Believed[model.Power]; is != "unplugged" {
		t.Errorf("power is %s", is)
	}
}

// TestAfterTheWrenchTheLeadsAreLookedAtBeforeHeat: a wrench that slips or turns the block draws
// heater or sensor out. Both are seen seated before the second heat, and felt cold before the
// machine gets power again.
func TestAfterTheWrenchTheLeadsAreLookedAtBeforeHeat(t *testing.T) {
	lib := library(t)
	for step, before := range map[string][]string{"leads": {"heat-again", "heat-again-lined"},
		"leads-cold": {"inside"}} {
		for _, bad := range lib.Get("nozzle-swap").Step(step).Options[1:] {
			r := begin(t, lib, machine(lib, machineKinds[1]...), "nozzle-swap")
			reach(t, r, "nozzle-swap", step)
			for _, name := range before {
				if slices.Contains(passedOf(r), "nozzle-swap/"+name) {
					t.Errorf("%s comes after %s", step, name)
				}
			}
			stopAt(t, r, bad.Is)
			finishStopped(t, r)
		}
	}
}

// TestANozzleThatHasCooledIsHeatedAgain: tightened cold it leaks hot. What cannot be turned, weeps
// or has cooled leads back to a heat that is read again, never over 300 °C.
func TestANozzleThatHasCooledIsHeatedAgain(t *testing.T) {
	lib := library(t)
	kind := []string{"open-frame", "bedslinger", "metal-hotend", "nozzle-threaded", "sock"}
	for _, c := range [][3]string{{"undo", "will not turn", "heat"},
		{"nip", "has cooled", "heat-again"}, {"feed", "weeps", "heat-again"}} {
		r := begin(t, lib, machine(lib, kind...), "nozzle-swap")
		reach(t, r, "nozzle-swap", c[0])
		say(t, r, c[1])
		for r.W.Step().Name != c[2] {
			if r.W.Step().Name == c[0] {
				t.Fatalf("%s, %s: no heat is read before it is tried again", c[0], c[1])
			}
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		if rep := say(t, r, "301"); rep.Refusal == "" {
			t.Errorf("%s: 301 °C passes", c[2])
		}
	}
}

// TestHotWorkIsWarnedOf: whatever is done at temperature with a hand near it carries its caution.
func TestHotWorkIsWarnedOf(t *testing.T) {
	p := library(t).Get("nozzle-swap")
	from, to := 0, 0
	for i, s := range p.Steps {
		switch s.Name {
		case "undo":
			from = i
		case "draw-out":
			to = i
		}
	}
	for _, s := range p.Steps[from : to+1] {
		hands := s.Gate != model.Note && s.Name != "kind" && s.Name != "brush-zero" &&
			s.Name != "heat-again" && s.Name != "heat-again-lined"
		warned := slices.ContainsFunc(p.Cautions, func(c model.Caution) bool {
			return c.ID == "hot-work" && slices.Contains(c.Before, s.Name)
		})
		if hands && !warned {
			t.Errorf("nobody is warned before %s", s.Name)
		}
	}
}

// TestAScrewThatRoundsBringsTheOthersBack: a socket that rounds ends the work, on machines of
// either key: the screws that are out go back in, and the plugs are joined before anything else.
func TestAScrewThatRoundsBringsTheOthersBack(t *testing.T) {
	lib := library(t)
	for key, fit := range map[string]string{"2 mm key": "fit-2", "1.5 mm key": "fit-1-5"} {
		m := machine(lib, "full")
		m.Settings["unit-fixing"], m.Settings["fan-screws"] = key, key
		for _, id := range []string{"hotend-swap", "fan-swap"} {
			r := begin(t, lib, m, id)
			reach(t, r, id, "all-out")
			say(t, r, "one rounds")
			if b, s := r.W.Block(), r.W.Step(); b.ID != id || s.Name != fit {
				t.Errorf("%s, %s: it goes on at %s", id, key, b.ID)
				continue
			}
			reach(t, r, id, "join")
			finish(t, r)
		}
	}
}
