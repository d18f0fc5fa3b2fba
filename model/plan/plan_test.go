package plan

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// TRADE's monthly session in a good technician's order (common practice), its steps written as the
// design's set-up actions.
var technician = []string{
	"as-found", "unload", "nozzle-swap-look", "desiccant-look", "cool", "lower-bed", "switch-off",
	"unplug", "open-door",
	"plate-wash", "electrical-look-look", "changer-off", "top-off", "belt-tone",
	"cover-off", "fans-blow", "gears-blow-look", "sock-check-look", "blade-check-look",
	"chute-clear-look", "wiper-check-look",
	"feed-path-look", "cover-on", "rods-wipe", "layer-lens-clean", "camera-clean", "air", "top-on",
	"changer-on", "close-door",
	"plug-in", "switch-on", "self-check", "bed-tram-look", "first-layer", "close-out",
}

func TestMonthlyIsNoWorseThanTheTechnician(t *testing.T) {
	all := slices.Concat(bench(), setUps())
	r := Request{Features: full(), Procedures: byID(t, all, monthly...), SetUps: setUps()}
	his := byID(t, all, technician...)
	if err := Verify(r.Features, his, nil); err != nil {
		t.Fatalf("the technician's order is refused: %v", err)
	}
	if err := VerifyOrder(his); err != nil {
		t.Fatalf("the technician's order is refused: %v", err)
	}
	p := mustMake(t, r)
	ours := appraise(stepsOf(r, p))
	if ours.compare(appraise(his)) > 0 {
		t.Errorf("ours is worse\nours %v\nhis  %v", ours, appraise(his))
	}
	if ours.cost != p.Cost || !p.Optimal {
		t.Errorf("the plan says cost %v, optimal %v; its sequence costs %v", p.Cost, p.Optimal,
			ours.cost)
	}
}

func TestALookWalksAlone(t *testing.T) {
	for _, start := range []model.Condition{nil, state("P=off"), state("P=unpl H=cold")} {
		get := library(bench())
		p, ids, err := Assemble(get, full(), nil, []string{"desiccant-look"},
			Request{SetUps: setUps(), Start: start})
		if err != nil {
			t.Fatal(err)
		}
		if sequence(p) != "desiccant-look" || len(ids) != 1 || p.SetUpActions != 0 ||
			p.Cost != 0.25 {
			t.Errorf("start %v: %s, cost %v", start, sequence(p), p.Cost)
		}
		if p.Goal[model.Power] != p.Start[model.Power] {
			t.Errorf("power was %s and is to be %s", p.Start[model.Power], p.Goal[model.Power])
		}
	}
}

// library gives procedures by id.
func library(list []*model.Procedure) func(string) *model.Procedure {
	m := map[string]*model.Procedure{}
	for _, p := range list {
		m[p.ID] = p
	}
	return func(id string) *model.Procedure { return m[id] }
}

func TestMake(t *testing.T) {
	open := model.NewFeatureSet("open-frame", "bedslinger")
	lid := full()
	lid["lid-changer"] = true
	cases := map[string]struct {
		r    Request
		want string
	}{
		"nothing": {Request{Features: full()}, ""},
		"a session that only closes": {Request{Features: full(),
			Start: state("P=unpl H=cold C=off T=off M=det B=low D=open V=drying")},
			"air cover-on top-on changer-on close-door plug-in switch-on"},
		"after a stop it closes without power": {Request{Features: full(),
			Start: state("P=unpl H=cold C=off T=off M=det B=low D=open V=drying"), Locked: true},
			"air cover-on top-on changer-on close-door"},
		"an open frame has no door and no top": {Request{Features: open,
			Procedures: []*model.Procedure{
				care("fans-blow", "dust", 2, 0, "P=unpl H=cold C=off B=low D=open T=off",
					"soft brush")}},
			"cool lower-bed switch-off unplug cover-off fans-blow cover-on plug-in switch-on gantry-free"},
		"power on with the cover off: first the switch, whatever the bed": {Request{Features: full(), Start: state("C=off D=open")},
			"switch-off cool-off unplug cover-on close-door plug-in switch-on"},
		"an unproved sensor is proved by switching on": {Request{Features: full(),
			Start: state("S=unproved H=cold B=low"), Procedures: []*model.Procedure{
				care("look", "proof", 1, 0, "P=on H=hot", "")}}, "switch-off switch-on heat look"},
		"what the machine was left in stays if nothing is needed": {Request{Features: full(),
			Start: state("P=off H=cold"), Procedures: []*model.Procedure{
				care("camera", "airing", 1, 0, "P=off H=cold", "")}}, "camera"},
		"a gantry on blocks is freed before all else": {Request{Features: open,
			Start: state("P=off H=cold B=low"), Procedures: []*model.Procedure{
				care("a-paper", "off-machine", 1, 0, "", ""),
				care("look", "proof", 1, 0, "P=on", "")}},
			"a-paper switch-on gantry-free look"},
		"one that will not jog is freed before the plug": {Request{Features: open,
			Settings:   map[string]string{"gantry-jog": "no"},
			Start:      state("P=off H=cold B=low"),
			Procedures: []*model.Procedure{care("look", "proof", 1, 0, "P=on", "")}},
			"unplug gantry-held plug-in switch-on look"},
		"switched on over its blocks it is freed at once": {Request{Features: open,
			Start:      model.Condition{"power": OverBlocks, "heat": "cold", "bed": "low"},
			Procedures: []*model.Procedure{care("look", "proof", 1, 0, "P=on", "")}},
			"gantry-free look"},
		"hot over its blocks it is switched off first": {Request{Features: open,
			Start:      model.Condition{"power": OverBlocks, "heat": "hot", "bed": "low"},
			Procedures: []*model.Procedure{care("look", "proof", 1, 0, "P=on", "")}},
			"switch-off cool-off switch-on gantry-free look"},
		"a gantry that stays off keeps its blocks": {Request{Features: open,
			Start: state("P=off H=cold B=low"), Procedures: []*model.Procedure{
				care("look", "dust", 1, 0, "P=off", "")}}, "look"},
		"dust before lens, whatever the ids": {Request{Features: full(),
			Start: state("P=unpl H=cold"), Procedures: []*model.Procedure{
				care("a-lens", "airing", 1, 0, "P=unpl", ""),
				care("z-dust", "dust", 1, 0, "P=unpl", "")}}, "z-dust a-lens"},
		"equal in all: by id": {Request{Features: full(), Procedures: []*model.Procedure{
			care("c", "dust", 1, 0, "", "x"), care("a", "dust", 1, 0, "", "x"),
			care("b", "dust", 1, 0, "", "x")}}, "a b c"},
		"the same tool twice is picked up once": {Request{Features: full(),
			Procedures: []*model.Procedure{
				care("a", "dust", 1, 0, "", "x"), care("b", "dust", 1, 0, "", "y"),
				care("c", "dust", 1, 0, "", "x,y")}}, "a c b"},
	}
	for _, name := range slices.Sorted(maps.Keys(cases)) {
		t.Run(name, func(t *testing.T) {
			r := cases[name].r
			r.SetUps = setUps()
			if got := sequence(mustMake(t, r)); got != cases[name].want {
				t.Errorf("got  %s\nwant %s", got, cases[name].want)
			}
		})
	}
	t.Run("lid changer", func(t *testing.T) {
		r := Request{Features: lid, SetUps: setUps(),
			Procedures: []*model.Procedure{care("x", "dust", 1, 0, "T=off", "")}}
		p := mustMake(t, r)
		// unload 2, cool 0.5, unplug 0.5, changer 3 + 4, top 1 + 1, plug-in 2.5, switch-on 0.5
		if p.Cost != 15 {
			t.Errorf("cost %v, want 15: %s", p.Cost, sequence(p))
		}
	})
}

func TestMakeRefuses(t *testing.T) {
	dust := func(req string) *model.Procedure { return care("dust", "dust", 1, 0, req, "") }
	needs := dust("")
	needs.Needs = []model.Feature{"cutter"}
	any := dust("")
	any.NeedsAny = []model.Feature{"cutter", "wiper"}
	cases := map[string]struct {
		r    Request
		want []string // all in the sentence
	}{
		"a feature it lacks": {Request{Features: model.NewFeatureSet("enclosed"),
			Procedures: []*model.Procedure{needs}}, []string{"dust", "cutter"}},
		"any of some features": {Request{Features: model.NewFeatureSet("enclosed"),
			Procedures: []*model.Procedure{any}}, []string{"dust", "cutter", "wiper"}},
		"a require out of reach": {Request{Procedures: []*model.Procedure{dust(
			"B=high P=unpl")}, Start: state("B=low P=unpl H=cold")}, []string{"dust", "bed high"}},
		"a require that is two": {Request{Procedures: []*model.Procedure{dust(
			"P=on C=off")}}, []string{"dust", "power on", "cover off together"}},
		"filament is never loaded": {Request{Procedures: []*model.Procedure{dust("F=loaded")},
			Start: state("F=unloaded")}, []string{"dust", "filament loaded"}},
		"locked": {Request{Procedures: []*model.Procedure{dust("P=on")},
			Start: state("P=unpl H=cold"), Locked: true}, []string{"dust", "power on", "locked"}},
		"a word that is no value": {Request{Procedures: []*model.Procedure{dust("P=humming")}},
			[]string{"dust", "humming"}},
		"a start that is no value": {Request{Start: state("P=humming")},
			[]string{"power", "humming"}},
		"asked twice": {Request{Procedures: []*model.Procedure{dust(""),
			dust("")}}, []string{"dust", "twice"}},
		"minutes that are no quarters": {Request{Procedures: []*model.Procedure{care("dust", "dust",
			0.1, 0, "", "")}}, []string{"dust", "0.25"}},
		"a circle of after": {Request{Procedures: []*model.Procedure{
			after(care("a", "dust", 1, 0, "", ""), "b"),
			after(care("b", "dust", 1, 0, "", ""), "c"),
			after(care("c", "dust", 1, 0, "", ""), "a")}},
			[]string{"a before c", "c before b", "b before a"}},
		"a circle of rung and after": {Request{Procedures: []*model.Procedure{
			after(care("a", "dust", 1, 0, "", ""), "b"), care("b", "belts", 1, 0, "", "")}},
			[]string{"a before b (rung dust before belts)", "b before a (a names it under after)"}},
		"two that exclude each other": {Request{Start: state("P=off H=cold B=low"), Locked: true,
			Procedures: []*model.Procedure{
				leaving(care("a", "dust", 1, 0, "B=low", ""), "B=high"),
				after(care("b", "dust", 1, 0, "B=low", ""), "a")}},
			[]string{"Title of a and Title of b"}},
		"a file at odds with an interlock": {Request{Procedures: []*model.Procedure{leaving(
			dust("P=on"), "V=drying")}}, []string{"dust", "power on", "unplugged"}},
		"power owned by a stranger": {Request{Procedures: []*model.Procedure{owning(
			dust("P=unpl"), "power")}}, []string{"dust", "owns power"}},
		"hot owned by a stranger": {Request{Procedures: []*model.Procedure{owning(
			dust("D=open"), "hot")}}, []string{"dust", "owns hot"}},
		"owned power under a lock": {Request{Locked: true, Procedures: []*model.Procedure{
			owning(care("screws-oil", "powered", 1, 0, "P=unpl C=on", ""), "power")}},
			[]string{"screws-oil", "locked"}},
	}
	for _, name := range slices.Sorted(maps.Keys(cases)) {
		t.Run(name, func(t *testing.T) {
			r := cases[name].r
			r.SetUps = setUps()
			if r.Features == nil {
				r.Features = full()
			}
			p, err := Make(r)
			if err == nil {
				t.Fatalf("no error but %s", sequence(p))
			}
			for _, w := range cases[name].want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
}

// Beyond the limit a plan is still made, checked, and says what is proven.
func TestBeyondTheLimit(t *testing.T) {
	r := Request{Features: full(), Procedures: twenty(6, 0.2), SetUps: setUps()}
	best := mustMake(t, r)
	r.Limit = 500
	p := mustMake(t, r)
	if p.Optimal || p.Bound <= 0 || p.Bound > best.Cost || p.Cost < best.Cost || p.Bound > p.Cost {
		t.Errorf("cost %v, bound %v, optimal %v; the best costs %v", p.Cost, p.Bound, p.Optimal,
			best.Cost)
	}
	if p.Cost > 1.2*best.Cost {
		t.Errorf("cost %v is far from the best, %v", p.Cost, best.Cost)
	}
	if q := mustMake(t, r); sequence(p) != sequence(q) {
		t.Errorf("not the same twice:\n%s\n%s", sequence(p), sequence(q))
	}
}

func TestPlanJSON(t *testing.T) {
	p := mustMake(t, Request{Features: full(),
		Procedures: byID(t, bench(), "fans-blow", "belt-tone"), SetUps: setUps()})
	data, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	want := []string{"bound", "cost", "filled", "goal", "handson", "machine", "optimal",
		"precedence", "sequence", "setup_actions", "start", "supplies", "tool_pickups", "tools", "waiting"}
	if keys := slices.Sorted(maps.Keys(got)); !slices.Equal(keys, want) {
		t.Errorf("keys %v\nwant %v", keys, want)
	}
	item := got["sequence"].([]any)[0].(map[string]any)
	if keys := slices.Sorted(maps.Keys(item)); !slices.Equal(keys,
		[]string{"change", "handson", "id", "kind", "waiting"}) {
		t.Errorf("an item has the keys %v", keys)
	}
	if got := p.Precedence; len(got) != 1 || got[0] != [2]string{"belt-tone", "fans-blow"} {
		t.Errorf("precedence %v", got)
	}
}

func TestLayOut(t *testing.T) {
	a, b := care("a", "dust", 1, 0, "", ""), care("b", "dust", 1, 0, "", "")
	pad, arm := model.Fit{Head: "button", Size: "M3", For: "wiper pad"}, model.Fit{Head: "cap",
		Size: "M2.5", For: "arm"}
	a.Tools = []model.Tool{{Name: "hex key 2 mm", Fits: []model.Fit{pad}},
		{Name: "torch", Only: model.Only{Features: []model.Feature{"knobs"}}}}
	b.Tools = []model.Tool{{Name: "hex key 2 mm", Fits: []model.Fit{pad, arm}}}
	dull := model.Only{Step: "judge", Is: []string{"dull"}}
	a.Supplies = []model.Supply{{Part: "blade", Quantity: 1, Only: dull},
		{Part: "lint-free wipe", Quantity: 4}}
	b.Supplies = []model.Supply{{Part: "lint-free wipe", Quantity: 2, Only: dull}}
	p := mustMake(t, Request{Features: full(), Procedures: []*model.Procedure{a, b},
		SetUps: setUps()})
	if len(p.Tools) != 1 || p.Tools[0].Name != "hex key 2 mm" ||
		!slices.Equal(p.Tools[0].Fits, []model.Fit{pad, arm}) ||
		!slices.Equal(p.Tools[0].For, []string{"a", "b"}) {
		t.Errorf("tools %+v", p.Tools)
	}
	if len(p.Supplies) != 2 || !p.Supplies[0].Maybe || p.Supplies[1].Quantity != 6 ||
		p.Supplies[1].Maybe {
		t.Errorf("supplies %+v", p.Supplies)
	}
	if p.ToolPickups != 3 { // key, blade and wipe for a; nothing new for b
		t.Errorf("%d pick-ups", p.ToolPickups)
	}
}

// After a stop nothing may switch on, and only switching on proves a sensor: the machine is closed
// with the sensor still unproved, and stays so.
func TestClosedAfterAStopWithTheSensorUnproved(t *testing.T) {
	r := Request{Features: full(), SetUps: setUps(), Locked: true,
		Start: state("P=unpl H=cold C=off T=on M=mtd B=low D=open V=clear S=unproved")}
	p := mustMake(t, r)
	if got, want := sequence(p), "cover-on close-door"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if _, asked := p.Goal[model.Sensor]; asked {
		t.Errorf("the goal asks for a sensor that nothing may prove: %v", p.Goal)
	}
}
