package walk_test

import (
	"testing"

	"bench/oilcan/model"
)

// TestAHeatedChangerIsASecondPlug: a changer that dries has a supply of its own, so a machine with
// one is never unplugged by one plug: how many there are is asked and not taken for one, and the
// count is two at least, whatever is on record.
func TestAHeatedChangerIsASecondPlug(t *testing.T) {
	lib := library(t)
	kind := []string{"full", "changer-dryer"}
	for _, id := range []string{"unplug", "plug-in"} {
		for _, s := range lib.Get(id).For(model.NewFeatureSet("changer", "changer-dryer"),
			nil).Settings {
			if s.Default == "1" {
				t.Errorf("%s takes %s for 1 where nobody said", id, s.Name)
			}
		}
	}
	for _, kept := range []string{"", "1"} {
		m := machine(lib, kind...)
		m.Settings["supplies"] = "1"
		m.Settings["supplies-dryer"] = kept
		r := begin(t, lib, m, "rods-wipe")
		reach(t, r, "unplug", "supplies-dryer")
		if rep := say(t, r, "1"); rep.Refusal == "" {
			t.Fatal("one plug of two, and hands go in")
		}
		if kept == "1" {
			say(t, r, "set 2")
		}
		if rep := say(t, r, "2"); rep.Refusal != "" {
			t.Errorf("two plugs with %q on record: %s", kept, rep.Refusal)
		}
	}
}

// TestEveryPlugIsCounted: a machine fed by more than one plug is counted out and in, however many
// there are.
func TestEveryPlugIsCounted(t *testing.T) {
	lib := library(t)
	for _, id := range []string{"unplug", "plug-in"} {
		for n, want := range map[string]bool{"1": false, "2": true, "6": true, "7": true,
			"12": true} {
			p := lib.Get(id).For(model.NewFeatureSet("open-frame"),
				map[string]string{"supplies": n})
			if got := p.Step("supplies") != nil; got != want {
				t.Errorf("%s with %s plugs: counted %t", id, n, got)
			}
		}
	}
}
