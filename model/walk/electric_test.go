package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// TestWhatMayCarryMainsOrArcStops: a cracked jacket on a cable that may carry mains, and a heater's
// plug gone brown or loose, leave the machine unplugged until a qualified person was there; nothing
// of it is only written down. That a damaged cord or a browned contact takes the appliance out of
// use is common practice.
func TestWhatMayCarryMainsOrArcStops(t *testing.T) {
	lib := library(t)
	lifts := []string{"enclosed", "corexy", "z-screw", "mains-bed", "bed-cable"}
	slings := []string{"open-frame", "bedslinger", "bed-cable"}
	for _, c := range []struct {
		id, step, answer string
		features         []string
	}{
		{"bed-cable", "jacket-mains", "cracked", lifts},
		{"bed-cable", "jacket", "cracked, mains or not known", slings},
		// at 10 A and more it arcs once it bends or warms
		{"bed-cable", "jacket", "cracked, label says 12 to 48 V", slings},
		{"electrical-look", "bed-cable", "cracked, label says 12 to 48 V", slings},
		{"electrical-look", "bed-mains-cable", "cracked", lifts},
		{"electrical-look", "bed-cable", "cracked, mains or not known", slings},
		{"cable-check", "plugs", "brown, of a heater", slings},
		{"cable-check", "latches", "one of a heater does not", slings},
	} {
		t.Run(c.id+" "+c.answer, func(t *testing.T) {
			r := begin(t, lib, machine(lib, c.features...), c.id)
			reach(t, r, c.id, c.step)
			stopAt(t, r, c.answer)
			finishStopped(t, r)
			if !tagged(r, "stopped") {
				t.Error("it is not tagged as stopped")
			}
		})
	}
}

// TestNoStepMovesAMachineOntoABareBed: before the machine moves by itself the plate lies in, with
// nothing on it; "bare" would have it taken off, and the nozzle meets the bed (common practice).
func TestNoStepMovesAMachineOntoABareBed(t *testing.T) {
	lib := library(t)
	for _, id := range []string{"estop-check", "estop-check-look"} {
		p := lib.Get(id)
		texts := map[string]string{}
		for _, s := range p.Steps {
			texts[s.Name] = s.Do
		}
		for _, l := range p.Later {
			texts[l.Name] = l.Do
		}
		said := false
		for name, do := range texts {
			if strings.Contains(strings.ToLower(do), "bed bare") {
				t.Errorf("%s, %s: %q", id, name, do)
			}
			said = said || strings.Contains(do, "Plate in, nothing on it")
		}
		if !said {
			t.Errorf("%s moves and nowhere says that the plate is in", id)
		}
	}
}

// TestABedThatLiftsIsNotEasedByHand: only a bed that slides can be pushed to its ends; one that
// lifts lies on its stops, and is moved by its motors with every hand out.
func TestABedThatLiftsIsNotEasedByHand(t *testing.T) {
	lib := library(t)
	lifts := lib.Get("bed-cable").For(model.NewFeatureSet("enclosed", "corexy", "z-screw",
		"bed-cable"), nil)
	for _, s := range lifts.Steps {
		if strings.Contains(s.Do, "Ease the bed") {
			t.Errorf("%s: %q", s.Name, s.Do)
		}
	}
	carried := slices.ContainsFunc(lifts.Later, func(l model.Later) bool {
		return slices.Contains(l.Drives, "motion") && strings.Contains(l.Do, "hands out") &&
			strings.Contains(l.Do, "loop")
	})
	if !carried {
		t.Error("the loop of a bed that lifts is never watched while it moves")
	}
}
