package walk_test

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	screenwalk "bench/oilcan/ui/screen/walk"
	"bench/oilcan/ui/session"
)

// atStep are the screens of a session of one procedure, answered well up to a step.
func atStep(t *testing.T, procedure, step string) (*screentest.Desk, *session.Session) {
	t.Helper()
	now := screentest.Now
	d, at, m := screentest.Session(t, func() time.Time { return now })
	c, err := at.Choose(m, session.Choice{Only: []string{procedure}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	for range 400 {
		if _, err := s.Settle(now); err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(now)
		switch {
		case p.Step != nil && p.Step.Name == step:
			d.Look()
			d.Pass(now)
			d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
			return d, s
		case p.Kind == walk.AskWait:
			now = p.Wait.Until
		default:
			now = now.Add(time.Second)
			say(t, s, walktest.Good(s.W, s.Context(now), p), now)
		}
	}
	t.Fatalf("%s is not reached", step)
	return nil, nil
}

// Who leaves a machine that is hot under power, or at a step that starts it, is told so and has to
// mean it; n and esc stay.
func TestLeavingAMachineThatIsHotOrMovesAsks(t *testing.T) {
	for _, c := range []struct{ step, says string }{
		{"ask-50", "Power is on and this step heats it: leave it so?"},
		{"estop-check.heat-60", "Power is on, it is hot and this step heats it: leave it so?"},
		{"estop-check.stop", "Power is on, it is hot and this step moves it: leave it so?"},
		{"estop-check.falls", "Power is on and it is hot: leave it so?"},
	} {
		t.Run(c.step, func(t *testing.T) {
			d, s := atStep(t, "estop-check", c.step)
			pause := screentest.Runes("p")
			if c.step == "ask-50" {
				pause = tea.KeyMsg{Type: tea.KeyCtrlP} // letters are answers there
			}
			if s.W.Step().Gate == model.Measure {
				d.Keys("esc") // what is typed is left first
			}
			for _, leave := range []tea.KeyMsg{{Type: tea.KeyEsc}, pause} {
				d.Send(leave)
				d.Shows(c.says, "leave it so   ")
				d.Keys("esc")
				d.Hides("leave it so?")
				d.Send(leave)
				d.Keys("n")
				d.Hides("leave it so?", "most pressing")
				if d.Bench().Sessions[s.W.ID].Paused {
					t.Fatal("it is paused")
				}
			}
			d.Keys("esc", "y")
			d.Shows("most pressing")
			if !d.Bench().Sessions[s.W.ID].Paused {
				t.Error("it is not paused")
			}
		})
	}
}

// Where nothing is on leaving asks nothing: without power, and with it while all is cold and still.
func TestLeavingAColdMachineAsksNothing(t *testing.T) {
	for _, step := range []string{"quiet", "watch"} {
		d, s := atStep(t, "estop-check", step)
		d.Keys("esc")
		d.Shows("most pressing")
		if !d.Bench().Sessions[s.W.ID].Paused {
			t.Errorf("at %s it is not paused", step)
		}
	}
}

// What an answer brought is in view, also where the next page fills the screen.
func TestWhatWasNotedIsInView(t *testing.T) {
	d, s := atStep(t, "electrical-glance", "alarm")
	d.Shows("missing")
	for _, a := range screenwalk.Lettered(s.W.Choices(s.W.Step())) {
		if a.Says() == "missing" {
			d.Keys(string(a.Letter()))
		}
	}
	for _, h := range []int{24, 16, 13} {
		d.Send(tea.WindowSizeMsg{Width: 80, Height: h})
		d.Shows("noted  Hang what is missing", "prints unattended.", "Tools on the roll:")
	}
	d.Send(tea.WindowSizeMsg{Width: 50, Height: 11})
	d.Shows("noted  Hang what is missing", "Tools on the roll:")
}
