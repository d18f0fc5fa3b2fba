package session

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// darkWords is how a machine stands in the dark, as it is asked.
var darkWords = map[model.Variable]string{model.Power: "unplugged since 07:00", model.Heat: "21",
	model.Filament: "unloaded", model.Bed: "low"}

// through answers a session well to its end, and gives the machine as it is left.
func through(t *testing.T, d Desk, m *model.Machine, c Choice, now *time.Time) (*Session,
	*model.Machine) {
	t.Helper()
	s := begin(t, d, m, c, *now)
	for range 400 {
		settle(t, s, *now)
		p := s.W.Prompt(*now)
		text := darkWords[p.Variable]
		switch {
		case p.Kind == walk.AskOver:
			return s, machine(t, d, m.ID)
		case p.Kind == walk.AskWait:
			*now = p.Wait.Until
			continue
		case text == "" || p.Kind != walk.AskState:
			text = walktest.Good(s.W, s.Context(*now), p)
		}
		*now = now.Add(20 * time.Second)
		if r, err := s.Answer(text, *now); err != nil || r.Refusal != "" {
			t.Fatalf("%s: %q: %s %v", p.Question, text, r.Refusal, err)
		}
	}
	t.Fatal("it does not end")
	return nil, nil
}

// A machine left unplugged says so and what it owes; a session of the checks alone asks for them
// under power, and nothing of them is left standing.
func TestWhatIsOwedGoesThroughTheDataFile(t *testing.T) {
	now, lib := ten, procedures.Open("")
	d, m := bench(t, lib, model.MachineFact{CareList: []string{"rods-wipe"},
		Settings: defaults(lib, map[string]string{"heaters": "3", "whole-count": "5",
			"plug-tag": ""})}, &now)
	s, m := through(t, d, m, Choice{Only: []string{"rods-wipe"}, Leave: model.Unplugged}, &now)
	if owed := m.OwedAtPower(); !m.LeftUnplugged() || len(owed) != 1 || owed[0].Step != "slots" ||
		s.W.State() != "checks owed" {
		t.Fatalf("left unplugged %t, %s, owed %v", m.LeftUnplugged(), s.W.State(), owed)
	}
	if walk.LeftOpen(m) {
		t.Error("it counts as left open")
	}
	s, m = through(t, d, m, Choice{}, &now)
	if s.W.Title != "checks owed under power" || len(m.OwedAtPower()) != 0 ||
		len(m.Findings) != 0 && m.Findings[0].Step == "slots" || m.LeftUnplugged() ||
		s.W.State() != "ready" {
		t.Errorf("%s: owed %v, left unplugged %t, %s", s.W.Title, m.OwedAtPower(),
			m.LeftUnplugged(), s.W.State())
	}
	if r, err := d.Store.Check(); err != nil || !r.OK() {
		t.Errorf("the file: %v %v", r, err)
	}
}

// A machine that is laid up or packed is not plugged in again by the session that does it.
func TestAMachineThatIsPutAwayIsLeftUnplugged(t *testing.T) {
	now, lib := ten, procedures.Open("")
	for _, id := range []string{"lay-up", "pack-move"} {
		d, m := bench(t, lib, model.MachineFact{CareList: []string{id},
			Settings: defaults(lib, map[string]string{"heaters": "3", "whole-count": "5",
				"plug-tag": ""})}, &now)
		s, m := through(t, d, m, Choice{Only: []string{id}}, &now)
		if s.W.Begun.Leave != model.Unplugged || !m.LeftUnplugged() {
			t.Errorf("after %s it is left %q, unplugged %t", id, s.W.Begun.Leave, m.LeftUnplugged())
		}
	}
}
