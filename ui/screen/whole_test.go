package screen

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// Two symptoms with long names: what is asked and told of them is never cut.
func TestAnOutcomeOfTwoSymptomsIsReadWhole(t *testing.T) {
	now := fixedNow
	d, at, m := sessionDesk(t, func() time.Time { return now })
	d.keys("s", "/", "under-extrusion", "enter", "enter", "1", "enter", "a", "/", "extruder-clicks", "enter", "enter", "1", "enter")
	d.shows("high for under-extrusion and extruder-clicks", "both your answers point to it")
	d.keys("enter")
	for i := 0; d.bench().Machines[m.ID].Session == "" && i < 40; i++ {
		d.keys("enter")
	}
	walkToTheEnd(t, d, at, d.bench().Machines[m.ID].Session, &now)
	d.shows("Did cold-pull cure it: under-extrusion and extruder-clicks?", "melt path closed 2026-11-25", "hands 2 min, waited 0")
	d.keys("1")
	d.shows("under-extrusion 5.1, was 5;", "extruder-clicks 5.1, was 5.")
	d.hides("Did cold-pull cure it")
}

// A symptom of fire or shock chosen by mistake: esc leads back to the list.
func TestEscLeavesTheStopPageForTheList(t *testing.T) {
	d := openSymptom(t, 80, 24, 9, theme.Options{Dark: true, NoColour: true})
	d.shows("STOP")
	d.keys("esc")
	d.shows("what do you see?", "Too little plastic comes out")
	d.keys("esc")
	d.shows("most pressing")
}

// Help says each key once.
func TestHelpSaysEscOnce(t *testing.T) {
	d := openSymptom(t, 80, 24, 0, theme.Options{Dark: true, NoColour: true}).keys("?")
	if n := strings.Count(d.view(), "\n   esc "); n != 1 {
		t.Errorf("esc is told %d times:\n%s", n, d.view())
	}
}

// Every step of what only a machine on rails, rollers and a z belt has is read whole at 80x24, and the
// session's title stands whole above it.
func TestStepsOfARailMachineAreReadWhole(t *testing.T) {
	now := fixedNow
	d, at, m := sessionDesk(t, func() time.Time { return now })
	fs := []model.Feature{"enclosed", "corexy", "top-panel", "rails", "rollers", "z-screw", "z-belt", "nut-metal", "belt-manual", "remote-drive", "nozzle-threaded"}
	f := model.MachineFact{ID: m.ID, Name: "Heron", Features: fs, Duty: model.Home, Settings: m.Settings}
	if _, err := d.s.Append(model.Action{At: now, Machine: m.ID, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}}); err != nil {
		t.Fatal(err)
	}
	m = d.bench().Machines[m.ID]
	c, err := at.Choose(m, sitting.Choice{Only: []string{"rails-grease", "rollers-set", "z-belt-check"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	d.run(d.r.poll(true))
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	d.send(Open{To: ToWalk{Session: s.W.ID, Fresh: true}})
	seen := map[string]bool{}
	for range 400 {
		s, err := at.Open(s.W.ID)
		if err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Block != nil {
			seen[p.Block.ID] = true
		}
		if v := d.view(); strings.Contains(v, "lines above") || strings.Contains(strings.Split(v, "\n")[0], "…") {
			t.Errorf("not read whole:\n%s", v)
		}
		now = now.Add(5 * time.Second)
		if p.Kind == walk.AskWait {
			now = now.Add(p.Left)
		}
		d.r.now = now
		d.run(d.r.all(Tick{now}))
		if p.Kind != walk.AskNone && p.Kind != walk.AskWait {
			d.answer(s, p, now)
		}
	}
	for _, id := range c.Plan.IDs() {
		if !seen[id] {
			t.Errorf("%s was not walked", id)
		}
	}
}

// A title that has no room beside the minutes stands whole, without them.
func TestTheTitleOfAWalkIsReadWhole(t *testing.T) {
	now := fixedNow
	d, at, m := sessionDesk(t, func() time.Time { return now })
	c, err := at.Choose(m, sitting.Choice{Only: []string{"cold-pull"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	d.run(d.r.poll(true))
	d.send(Open{To: ToWalk{Session: s.W.ID, Fresh: true}})
	d.shows("Heron   Pull a cold plug to clean the melt path")
}
