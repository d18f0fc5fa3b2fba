package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/procedures"
)

var stoppedKinds = [][]model.Feature{
	model.FullFeatures,
	{"open-frame", "bedslinger", "rods-steel", "bush-ball", "lined-hotend", "bed-cable",
		"direct-drive", "nozzle-threaded", "sock", "cutter"},
	{"enclosed", "corexy", "rails", "rollers", "remote-drive", "metal-hotend", "changer",
		"lid-changer", "mains-bed", "bed-cable"},
	{"rods-steel"},
}

func stoppedMachine(features []model.Feature) *model.Machine {
	return &model.Machine{MachineFact: model.MachineFact{ID: "M1", Name: "Heron",
		Features: features, Settings: map[string]string{}},
		Tag: &model.Tag{Kind: model.TagStopped, Why: "scorch smell."}}
}

// TestAStoppedMachineMayBeLookedAt: whatever may be looked at, all together and each alone, is
// planned with the plug out first, is counted whole at the end, and never comes to power, heat,
// motors or unloading; power is locked in it.
func TestAStoppedMachineMayBeLookedAt(t *testing.T) {
	d := Desk{Lib: procedures.Open("")}
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for _, kind := range stoppedKinds {
		m := stoppedMachine(kind)
		ids := d.Inspections(m)
		if !slices.Contains(ids, "electrical-look") || !slices.Contains(ids, "cable-check") ||
			!slices.Contains(ids, "heater-ohms") {
			t.Errorf("%v may be looked at by %v", kind, ids)
		}
		for choice, want := range map[bool]int{false: len(d.FirstInspections(m)), true: len(ids)} {
			c, err := d.Choose(m, Choice{All: choice}, now)
			if err != nil || len(c.IDs) != want || want == 0 ||
				!slices.Contains(c.IDs, "electrical-look") {
				t.Errorf("%v, all %v: %v, %v", kind, choice, c.IDs, err)
			}
		}
		choices := []Choice{{}, {All: true}, {Minutes: 30}}
		for _, id := range ids {
			choices = append(choices, Choice{Only: []string{id}})
		}
		for _, choice := range choices {
			c, err := d.Choose(m, choice, now)
			if err != nil {
				t.Errorf("%v, %v: %v", kind, choice, err)
				continue
			}
			darkAllTheWay(t, d, c)
			for _, q := range d.Questions(m, c.Plan) {
				if q.Setting != nil && q.Setting.Name == "heaters" {
					t.Error(
						"how many heaters have a target is asked of a machine that gets no power")
				}
			}
			a, err := d.BeginAction(m, c, now)
			if err != nil {
				t.Fatal(err)
			}
			if b := a.Facts[0].Begun; b == nil || !b.Locked {
				t.Error("power is not locked in it")
			}
		}
	}
}

// darkAllTheWay holds a plan to the plug first and to nothing that takes power.
func darkAllTheWay(t *testing.T, d Desk, c Chosen) {
	t.Helper()
	ids := c.Plan.IDs()
	if slices.Contains(ids, "as-found") || !slices.Contains(ids, "close-out") || len(ids) < 2 {
		t.Errorf("planned: %v", ids)
	}
	first := slices.DeleteFunc(slices.Clone(c.Plan.Sequence[:2]), func(it plan.Item) bool {
		return it.ID == "cool-off"
	})
	if first[0].ID != "unplug" {
		t.Errorf("it begins with %s", c.Plan.Sequence[0].ID)
	}
	for _, it := range c.Plan.Sequence {
		if slices.Contains([]string{"unload", "heat", "cool", "switch-on", "plug-in", "lower-bed",
			"gantry-free"}, it.ID) {
			t.Errorf("%s stands in the plan of a stopped machine", it.ID)
		}
		if p := d.Lib.Get(it.ID); p != nil && (p.Require[model.Power] == model.On ||
			p.Require[model.Heat] == model.Hot) {
			t.Errorf("%s needs power or heat", it.ID)
		}
	}
}

// TestWhatIsMoreThanALookWaits: until the stop is closed by name.
func TestWhatIsMoreThanALookWaits(t *testing.T) {
	d := Desk{Lib: procedures.Open("")}
	m := stoppedMachine(model.FullFeatures)
	for _, id := range []string{"self-check", "rods-wipe", "nozzle-swap", "as-found", "screws-oil",
		"first-layer", "plate-wash", "belts-reset",
		"estop-check", "tube-wear", "feed-path", "flow-check", "fan-swap", "fans-blow", "sock-check"} {
		if d.inspects(m, id) {
			t.Errorf("%s may be done at a stopped machine", id)
		}
		_, err := d.Choose(m, Choice{Only: []string{id}}, time.Now())
		if id != "as-found" &&
			(err == nil || !strings.Contains(err.Error(), "is stopped (scorch smell)")) {
			t.Errorf("%s: %v", id, err)
		}
	}
}

// A tag is cleared by a word; what is out of the machine is not, and is said.
func TestWhatNoWordSettles(t *testing.T) {
	m := &model.Machine{}
	if got := StillOpen(m); got != "" {
		t.Errorf("nothing is open: %q", got)
	}
	m.Ledger.Out = map[string]int{"cover screw": 2}
	m.Ledger.Flags = map[string]string{"strand": "set"}
	if got := StillOpen(m); !strings.Contains(got, "cover screw") ||
		strings.Contains(got, "strand") {
		t.Errorf("%q", got)
	}
}
