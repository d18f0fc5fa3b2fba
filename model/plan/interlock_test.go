package plan

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// seqOf gives steps by id out of the fixture and the set-up actions.
func seqOf(t testing.TB, more []*model.Procedure, ids string) []*model.Procedure {
	return byID(t, slices.Concat(more, bench(), setUps()), strings.Fields(ids)...)
}

const opened = "P=unpl H=cold F=unloaded C=on T=off M=det B=low D=open V=clear S=proved"

// lax is a set-up action whose file forgot every require.
func lax(id, variable, from, to string) *model.Procedure {
	return setUp(id, variable, from, to, 0, 0, "")
}

// slinger is a machine whose gantry stands on blocks when it is off; onBlocks is how it stands
// then.
var slinger = model.NewFeatureSet("open-frame", "bedslinger")

const onBlocks = "P=off H=cold B=low"

func one(p *model.Procedure) []*model.Procedure { return []*model.Procedure{p} }

// dry is a machine of which the kinds of bushing, nut and window are not known.
var dry = model.NewFeatureSet("enclosed", "top-panel", "rods-steel", "z-screw", "layer-sensor")

// wet is care that uses a supply.
func wet(id, supply string) *model.Procedure {
	p := care(id, "oil", 1, 0, "", "")
	p.Supplies = []model.Supply{{Part: supply}}
	return p
}

// breaches hold each engine rule the planner can see, broken by a sequence whose files would let it
// happen. The letters are those of the rules (common practice): a vapour, b hot, d what blocks
// power, e who brings power, i and j the head open, k unknown kinds.
var breaches = []struct {
	name  string
	fs    model.FeatureSet
	own   []*model.Procedure
	steps string
	start string
	want  string
}{
	{name: "a: switching on with vapour in the air", own: one(lax("on", "power", "off", "on")),
		steps: "on", start: "P=off H=cold V=drying", want: "vapour drying"},
	{name: "a: plugging in with vapour in the air",
		own: one(lax("plug", "power", "unplugged", "off")), steps: "plug",
		start: "P=unpl H=cold V=drying", want: "vapour drying"},
	{name: "a: heating with vapour in the air", own: one(lax("warm", "heat", "cold", "hot")),
		steps: "warm", start: "H=cold V=drying", want: "switch off first"},
	{name: "a: a block that owns power in vapour",
		own: one(owning(care("screws-oil", "powered", 1, 0, "", ""), "power")), steps: "screws-oil",
		start: opened + " V=drying", want: "vapour is in the air"},
	{name: "a: a new filter in vapour", own: one(care("filter-swap", "filter", 1, 0, "", "")),
		steps: "filter-swap", start: opened + " V=drying", want: "load the new filter"},
	{name: "a: a file that clears vapour by itself",
		own: one(leaving(care("x", "dust", 1, 0, "", ""), "V=clear")), steps: "x", start: opened +
			" V=drying", want: "only the airing"},
	{name: "a: airing behind a shut door", own: one(lax("air-it", "vapour", "drying", "clear")),
		steps: "air-it", start: "P=unpl H=cold V=drying", want: "door open"},
	{name: "a: the door shut on vapour", own: one(lax("shut", "door", "open", "closed")),
		steps: "shut", start: opened + " V=drying", want: "before anything closes"},
	{name: "a: the top laid on vapour", own: one(lax("lid", "top", "off", "on")), steps: "lid",
		start: opened + " V=drying", want: "before anything closes"},
	{name: "a: solvent under power",
		own: one(leaving(care("x", "solvent", 1, 0, "", ""), "V=drying")), steps: "x",
		start: "H=cold D=open T=off", want: "cold and unplugged only"},
	{name: "a: solvent on a hot machine",
		own: one(leaving(care("x", "solvent", 1, 0, "", ""), "V=drying")), steps: "x",
		start: opened + " H=hot", want: "cold and unplugged only"},
	{name: "a: solvent under the top",
		own: one(leaving(care("x", "solvent", 1, 0, "", ""), "V=drying")), steps: "x",
		start: opened + " T=on", want: "door and top open"},
	{name: "b: hands in a hot machine", own: one(care("x", "dust", 1, 0, "D=open", "")), steps: "x",
		start: "P=off H=hot D=open B=low", want: "below 45 °C"},
	{name: "b: the door of a hot machine", own: one(lax("door", "door", "closed", "open")),
		steps: "door", start: "H=hot", want: "below 45 °C"},
	{name: "b: the cover of a machine under power", own: one(lax("cover", "cover", "on", "off")),
		steps: "cover", start: "H=cold D=open", want: "cold and unplugged"},
	{name: "b: the top of a machine only switched off", own: one(lax("top", "top", "on", "off")),
		steps: "top", start: "P=off H=cold", want: "cold and unplugged"},
	{name: "b: hot owned by a stranger",
		own: one(owning(care("x", "dust", 1, 0, "D=open", ""), "hot")), steps: "x",
		start: "P=off H=hot D=open B=low", want: "owns hot"},
	{name: "d: switching on with the cover off", own: one(lax("on", "power", "off", "on")),
		steps: "on", start: "P=off H=cold C=off", want: "cover off"},
	{name: "d: switching on with the top off", own: one(lax("on", "power", "off", "on")),
		steps: "on", start: "P=off H=cold T=off", want: "top off"},
	{name: "d: switching on without the changer", own: one(lax("on", "power", "off", "on")),
		steps: "on", start: "P=off H=cold M=det", want: "changer detached"},
	{name: "d: switching on with the door open", own: one(lax("on", "power", "off", "on")),
		steps: "on", start: "P=off H=cold D=open", want: "door open"},
	{name: "d: power owned under an open head",
		own: one(owning(care("screws-oil", "powered", 1, 0, "", ""), "power")), steps: "screws-oil",
		start: opened + " C=off", want: "cover is off"},
	{name: "d: heat on an unproved sensor", own: one(lax("warm", "heat", "cold", "hot")),
		steps: "warm", start: "H=cold S=unproved", want: "sensor is unproved"},
	{name: "d: care that heats on an unproved sensor",
		own: one(leaving(care("x", "proof", 1, 0, "P=on", ""), "H=hot")), steps: "x",
		start: "H=cold S=unproved", want: "sensor is unproved"},
	{name: "d: heat inside a block on an unproved sensor",
		own: one(owning(care("nozzle-swap", "hot", 1, 0, "", ""), "power")), steps: "nozzle-swap",
		start: opened + " C=off S=unproved", want: "sensor is unproved"},
	{name: "d: a file that proves the sensor by itself",
		own: one(leaving(care("x", "dust", 1, 0, "", ""), "S=proved")), steps: "x", start: opened +
			" S=unproved", want: "only switching on"},
	{name: "d: an action that proves the sensor by itself",
		own: one(lax("prove", "sensor", "unproved", "proved")), steps: "prove", start: "S=unproved",
		want: "only switching on"},
	{name: "e: care that leaves power on",
		own: one(leaving(care("x", "dust", 1, 0, "", ""), "P=on")), steps: "x",
		start: "P=off H=cold", want: "only switching on brings power"},
	{name: "e: power owned by a stranger",
		own: one(owning(care("x", "dust", 1, 0, "", ""), "power")), steps: "x", start: opened,
		want: "owns power"},
	{name: "e: power owned by a block that begins switched on",
		own: one(owning(care("screws-oil", "powered", 1, 0, "", ""), "power")), steps: "screws-oil",
		start: "", want: "begins and ends unplugged"},
	{name: "e: power owned by a block that ends switched off",
		own:   one(leaving(owning(care("screws-oil", "powered", 1, 0, "", ""), "power"), "P=off")),
		steps: "screws-oil", start: opened, want: "begins and ends unplugged"},
	{name: "stone cold on a hot machine", own: one(care("x", "stone-cold", 1, 0, "", "")),
		steps: "x", start: "H=hot", want: "stone cold"},
	{name: "stone cold after a set-up action heated",
		own: one(care("x", "stone-cold", 1, 0, "", "")), steps: "heat unload cool x",
		start: "H=cold", want: "stone cold"},
	{name: "stone cold after care that may heat",
		own: []*model.Procedure{care("x", "stone-cold", 1, 0, "", ""),
			leaving(care("y", "off-machine", 1, 0, "P=on V=clear", ""), "H=hot")},
		steps: "y cool x", start: "H=cold", want: "stone cold"},
	{name: "stone cold after the sensor was proved by heat",
		own: one(care("x", "stone-cold", 1, 0, "", "")), steps: "switch-on x",
		start: "P=off H=cold S=unproved", want: "stone cold"},
	{name: "i: anything but the switch with the head open under power", steps: "lower-bed",
		start: "C=off", want: "switch off first"},
	{name: "i: care with the head open under power", steps: "desiccant-look", start: "C=off",
		want: "switch off first"},
	{name: "j: a proof on an open head", own: one(care("x", "proof", 1, 0, "", "")), steps: "x",
		start: opened + " C=off", want: "whole machine"},
	{name: "k: alcohol on unknown bushings", fs: dry,
		own: one(wet("rods-wipe", "isopropyl alcohol")), steps: "rods-wipe", start: opened,
		want: "unknown"},
	{name: "k: oil on unknown nuts", fs: dry, own: one(wet("screws-oil", "thin oil")),
		steps: "screws-oil", start: opened, want: "unknown"},
	{name: "k: alcohol on an unknown window", fs: dry,
		own: one(wet("layer-lens-clean", "isopropyl alcohol")), steps: "layer-lens-clean",
		start: opened, want: "unknown"},
	{name: "the plug of a hot machine", own: one(lax("pull", "power", "off", "unplugged")),
		steps: "pull", start: "P=off H=hot", want: "read it first"},
	{name: "power off over a bed that may drop", own: one(lax("off", "power", "on", "off")),
		steps: "off", start: "B=high", want: "may drop"},
	{name: "a require not met", steps: "fans-blow", start: "", want: "requires power unplugged"},
	{name: "a change that is none", steps: "open-door", start: "P=off H=cold D=open",
		want: "already"},
	{name: "the door of a machine under power", own: one(lax("door", "door", "closed", "open")),
		steps: "door", start: "H=cold", want: "power off"},
	{name: "care over the blocks of a gantry", fs: slinger,
		own: one(care("look", "off-machine", 1, 0, "", "")), steps: "switch-on look",
		start: onBlocks, want: "free it first"},
	{name: "a proof over the blocks of a gantry", fs: slinger,
		own: one(care("look", "proof", 1, 0, "P=on", "")), steps: "switch-on look", start: onBlocks,
		want: "free it first"},
	{name: "heat over the blocks of a gantry", fs: slinger,
		own: one(lax("warm", "heat", "cold", "hot")), steps: "switch-on warm", start: onBlocks,
		want: "free it first"},
	{name: "a jog over the blocks of a gantry", fs: slinger,
		own: one(lax("down", "bed", "low", "high")), steps: "switch-on down", start: onBlocks,
		want: "free it first"},
	{name: "a gantry freed while it is hot", fs: slinger, steps: "switch-on gantry-free",
		start: onBlocks + " H=hot", want: "requires heat cold"},
	{name: "a gantry freed twice", fs: slinger, steps: "switch-on gantry-free gantry-free",
		start: onBlocks, want: "no block stands"},
	{name: "blocks drawn by hand with the plug in", fs: slinger,
		own: one(lax("gantry-held", "bed", "low", "high")), steps: "gantry-held", start: onBlocks,
		want: "plug out"},
}

func TestVerifyRefuses(t *testing.T) {
	for _, c := range breaches {
		t.Run(c.name, func(t *testing.T) {
			fs := c.fs
			if fs == nil {
				fs = full()
			}
			err := Verify(fs, seqOf(t, c.own, c.steps), state(c.start))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("got %v, want it to say %q", err, c.want)
			}
		})
	}
}

// Over its blocks a gantry is lifted off them, or the machine is switched off again.
func TestOverBlocksThereIsAWayOnAndAWayBack(t *testing.T) {
	for _, steps := range []string{"switch-on gantry-free lower-bed switch-off",
		"switch-on switch-off switch-on gantry-free", "unplug gantry-held"} {
		if err := Verify(slinger, byID(t, setUps(), strings.Fields(steps)...),
			state(onBlocks)); err != nil {
			t.Errorf("%s: %v", steps, err)
		}
	}
	goal := model.Condition{model.Power: "on"}
	if err := VerifyClosed(slinger, byID(t, setUps(), "switch-on"), state(onBlocks), goal,
		false); err == nil {
		t.Error("a sequence that ends over the blocks passes as closed")
	}
}

// What a rule forbids is not planned either, whatever the files allow: the planner finds a lawful
// way round, or refuses.
func TestMakeKeepsTheInterlocks(t *testing.T) {
	lax := func(ids ...string) []*model.Procedure {
		var ups []*model.Procedure
		for _, u := range setUps() {
			if slices.Contains(ids, u.ID) {
				u.Require = nil
			}
			ups = append(ups, u)
		}
		return ups
	}
	solvent := leaving(care("wipe", "solvent", 1, 0, "", ""), "V=drying")
	cases := []struct {
		name  string
		ups   []*model.Procedure
		procs []*model.Procedure
		start string
		want  string // in the error; "" where a plan is made
	}{
		{"a lax switch-on", lax("switch-on", "plug-in"),
			[]*model.Procedure{care("look", "dust", 1, 0, "P=on", "")}, "P=off H=cold C=off",
			"no power comes back"},
		{"a lax cover-off", lax("cover-off"),
			[]*model.Procedure{care("look", "dust", 1, 0, "C=off", "")}, "H=cold",
			"cold and unplugged"},
		{"a lax heat", lax("heat"), []*model.Procedure{care("look", "hot", 1, 0, "H=hot", "")},
			"H=cold S=unproved", "unproved"},
		{"a lax unplug", lax("unplug"),
			[]*model.Procedure{care("look", "dust", 1, 0, "P=unpl", "")}, "P=off H=hot",
			"read it first"},
		{"solvent that asks for nothing", setUps(), []*model.Procedure{solvent}, "", ""},
		{"hands in that ask for nothing but the door", setUps(),
			[]*model.Procedure{care("look", "dust", 1, 0, "D=open", "")}, "", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p, err := Make(Request{Features: full(), Procedures: c.procs, SetUps: c.ups,
				Start: state(c.start)})
			if c.want == "" {
				if err != nil {
					t.Fatal(err)
				}
				if err := Verify(full(),
					stepsOf(Request{Features: full(), Procedures: c.procs, SetUps: c.ups},
						p), state(c.start)); err != nil {
					t.Error(err)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("got %v, want it to say %q", err, c.want)
			}
		})
	}
}

// Rule g: what was opened is closed, and the ladder is kept.
func TestVerifyClosedAndOrder(t *testing.T) {
	goal := model.Condition{model.Power: "on"}
	for name, start := range map[string]string{
		"cover off": "C=off P=unpl", "top off": "T=off P=unpl", "changer detached": "M=det P=unpl",
		"door open":     "D=open",
		"vapour drying": "V=drying P=unpl", "sensor unproved": "S=unproved", "power off": "P=off",
	} {
		if err := VerifyClosed(full(), nil, state(start), goal, false); err == nil ||
			!strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	up := seqOf(t, nil, "plug-in switch-on")
	if err := VerifyClosed(full(), up, state("P=unpl H=cold"), goal, true); err == nil ||
		!strings.Contains(err.Error(), "locked") {
		t.Errorf("power under a lock: %v", err)
	}
	if err := VerifyClosed(full(), up, state("P=unpl H=cold"), goal, false); err != nil {
		t.Error(err)
	}
	if err := VerifyOrder(seqOf(t, nil, "rods-wipe fans-blow")); err == nil {
		t.Error("solvent before dust is let through")
	}
	if err := VerifyOrder(seqOf(t, nil, "bed-tram self-check")); err == nil {
		t.Error("a procedure before the one it names under after is let through")
	}
}

const whole = "P=off H=cold C=on T=on M=mtd D=cl V=clear S=proved B=low"

func flag(name string) model.Ledger { return model.Ledger{Flags: map[string]string{name: "set"}} }
func out(name string) model.Ledger  { return model.Ledger{Out: map[string]int{name: 1}} }
func in(name string) model.Ledger   { return model.Ledger{Inside: map[string]int{name: 2}} }

func power(owner string) func(Standing) string {
	return func(s Standing) string { return s.PowerOn(owner) }
}

func begin(id string) func(Standing) string {
	return func(s Standing) string { return s.Begin(library(append(bench(), setUps()...))(id)) }
}

// refusals are those a walk meets, one a rule.
var refusals = []struct {
	name   string
	ask    func(Standing) string
	state  string
	ledger model.Ledger
	locked bool
	want   string // "" passes
}{
	{name: "power on a whole machine", ask: power("switch-on"), state: whole},
	{name: "locked", ask: power("switch-on"), state: whole, locked: true, want: "locked"},
	{name: "a: vapour", ask: power("switch-on"), state: whole + " V=drying", want: "airing"},
	{name: "a: vapour, an owner too", ask: power("screws-oil"), state: whole + " V=drying",
		want: "airing"},
	{name: "b: a hot machine", ask: begin("fans-blow"), state: opened + " C=off H=hot",
		want: "heat is hot"},
	{name: "c: oil before the lens", ask: begin("layer-lens-clean"), state: opened,
		ledger: flag("oil"), want: "oil"},
	{name: "c: oil before air", ask: begin("fans-blow"), state: opened + " C=off",
		ledger: flag("oil"), want: "oil"},
	{name: "c: oil before put-back", ask: begin("top-on"), state: opened, ledger: flag("oil"),
		want: "oil"},
	{name: "c: oil before power", ask: power("switch-on"), state: whole, ledger: flag("oil"),
		want: "oil"},
	{name: "c: not its own power", ask: power("screws-oil"), state: opened, ledger: flag("oil")},
	{name: "d: screws out", ask: power("switch-on"), state: whole, ledger: out("cover screws"),
		want: "cover screws"},
	{name: "d: something inside", ask: power("switch-on"), state: whole, ledger: in("wipes"),
		want: "wipes"},
	{name: "d: belts loosened", ask: power("screws-oil"), state: opened, ledger: flag("belts"),
		want: "belts"},
	{name: "d: a lost piece", ask: power("screws-oil"), state: opened, ledger: flag("lost-piece"),
		want: "lost"},
	{name: "d: a plug parted", ask: power("nozzle-swap"), state: opened + " C=off",
		ledger: flag("sensor-plug"), want: "parted"},
	{name: "d: the plug estop-check parts", ask: power("estop-check"), state: opened + " C=off",
		ledger: flag("sensor-plug")},
	{name: "d: the cover off", ask: power("switch-on"), state: whole + " C=off", want: "cover"},
	{name: "d: the cover off for the screws", ask: power("screws-oil"), state: opened + " C=off",
		want: "cover"},
	{name: "d: the cover off for the nozzle", ask: power("nozzle-swap"), state: opened + " C=off",
		ledger: out("cover screws")},
	{name: "d: other screws out for the nozzle", ask: power("nozzle-swap"), state: opened +
		" C=off", ledger: out("clamp screws"), want: "clamp screws"},
	{name: "d: the sock off for the nozzle", ask: power("nozzle-swap"), state: opened + " C=off",
		ledger: out("sock")},
	{name: "d: the sock off for the cut-off", ask: power("estop-check"), state: opened + " C=off",
		ledger: out("sock"), want: "sock"},
	{name: "d: blocks under the gantry stay", ask: power("nozzle-swap"), state: opened + " C=off",
		ledger: in("blocks")},
	{name: "d: the plate out for the screws", ask: power("screws-oil"), state: opened,
		ledger: out("plate")},
	{name: "d: paper left in for the screws", ask: power("screws-oil"), state: opened,
		ledger: in("paper"), want: "paper"},
	{name: "d: a strand left blocks no power", ask: power("switch-on"), state: whole,
		ledger: flag("strand")},
	{name: "e: a stranger with the top off", ask: power("fans-blow"), state: opened,
		want: "top is off"},
	{name: "e: the screws with the top off", ask: power("screws-oil"), state: opened},
	{name: "f: a state not known", ask: power("switch-on"), state: "V=clear S=proved",
		want: "not known"},
	{name: "f: vapour not known", ask: power("switch-on"), state: "C=on", want: "not known"},
	{name: "emergency", ask: begin("fans-blow"), state: whole + " P=on C=off",
		want: "switch off first"},
	{name: "a block that may begin", ask: begin("belts-reset"), state: opened},
}

func TestStandingRefuses(t *testing.T) {
	for _, c := range refusals {
		t.Run(c.name, func(t *testing.T) {
			got := c.ask(Standing{Features: full(), Believed: state(c.state), Ledger: c.ledger,
				Locked: c.locked, Opened: []string{"cover screws", "top"}})
			if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
				t.Errorf("got %q, want it to say %q", got, c.want)
			}
		})
	}
}

// Every exception is one the rules know, and only the four blocks bring power.
func TestExceptions(t *testing.T) {
	var power []string
	for _, e := range model.Exceptions {
		if e.Lifts == "" || strings.Trim(e.Lifts, "bde") != "" || e.Limb == "" || e.Limits == "" {
			t.Errorf("%+v", e)
		}
		if e.Power {
			power = append(power, e.Block)
		}
	}
	if want := []string{"nozzle-swap", "sock-check", "screws-oil", "estop-check",
		"leak-clear"}; !slices.Equal(power, want) {
		t.Errorf("power is owned by %v, want %v", power, want)
	}
}

// Which blocks may own what: hot by rule b, power by the block itself, live by rule d under
// somebody else's power. The planner refuses what the checker refuses.
func TestWhoMayOwn(t *testing.T) {
	want := map[model.Own][]string{
		model.OwnPower: {"estop-check", "leak-clear", "nozzle-swap", "screws-oil", "sock-check"},
		model.OwnHot: {"bed-tram", "cold-pull", "estop-check", "flow-check", "flow-check-look",
			"heater-swap", "leak-clear", "nozzle-swap", "plate-wash", "sock-check", "stub-out",
			"unload"},
		model.OwnLive: {"first-layer", "flow-check", "gantry-free", "heater-swap", "plate-wash",
			"stub-out", "switch-off"},
	}
	for _, o := range model.Owns {
		if got := model.OwnersOf(o); !slices.Equal(got, want[o]) {
			t.Errorf("%s is owned by %v, want %v", o, got, want[o])
		}
		for _, block := range []string{"blade-swap", "screws-oil", "unload", "gantry-free"} {
			err := allowed(&model.Procedure{ID: block, Owns: []model.Own{o}})
			if may := slices.Contains(want[o], block); may != (err == nil) {
				t.Errorf("%s owns %s: the planner says %v", block, o, err)
			}
		}
	}
}
