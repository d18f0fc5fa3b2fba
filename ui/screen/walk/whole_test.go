package walk_test

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
)

// Every step of what only a machine on rails, rollers and a z belt has is read whole at 80x24, and
// the session's title stands whole above it.
func TestStepsOfARailMachineAreReadWhole(t *testing.T) {
	now := screentest.Now
	d, at, m := screentest.Session(t, func() time.Time { return now })
	fs := []model.Feature{"enclosed", "corexy", "top-panel", "rails", "rollers", "z-screw",
		"z-belt", "nut-metal", "belt-manual", "remote-drive", "nozzle-threaded"}
	f := model.MachineFact{ID: m.ID, Name: "Heron", Features: fs, Duty: model.Home,
		Settings: m.Settings}
	if _, err := d.S.Append(model.Action{At: now, Machine: m.ID,
		Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}}); err != nil {
		t.Fatal(err)
	}
	m = d.Bench().Machines[m.ID]
	c, err := at.Choose(m,
		session.Choice{Only: []string{"rails-grease", "rollers-set", "z-belt-check"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
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
		if v := d.View(); strings.Contains(v, "lines above") ||
			strings.Contains(strings.Split(v, "\n")[0], "…") {
			t.Errorf("not read whole:\n%s", v)
		}
		now = now.Add(5 * time.Second)
		if p.Kind == walk.AskWait {
			now = now.Add(p.Left)
		}
		d.Pass(now)
		if p.Kind != walk.AskNone && p.Kind != walk.AskWait {
			reply(d, s, p, now)
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
	now := screentest.Now
	d, at, m := screentest.Session(t, func() time.Time { return now })
	c, err := at.Choose(m, session.Choice{Only: []string{"cold-pull"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	d.Shows("Heron   Pull a cold plug to clean the melt path")
}
