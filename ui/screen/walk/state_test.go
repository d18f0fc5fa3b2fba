package walk_test

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// stateAsked is a session at its first screen, where all of the machine's state is asked.
func stateAsked(t *testing.T) *screentest.Desk {
	t.Helper()
	d, at, m := screentest.Session(t, func() time.Time { return screentest.Now })
	c, err := at.Choose(m, session.Choice{Only: []string{"plate-wash", "belt-tone"}},
		screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	return d
}

// What is said of the machine before all rows have an answer is not written yet: esc asks before it
// drops it.
func TestEscAsksBeforeTheStateIsDropped(t *testing.T) {
	d := stateAsked(t)
	d.Keys("off", "enter", "esc")
	d.Shows("Leave without saving what you typed?", "How does the machine stand?")
	d.Keys("n")
	d.Hides("Leave without saving")
	d.Shows("power      off")
	d.Keys("esc", "esc")
	d.Hides("Leave without saving")
	d.Shows("power      off")
	d.Keys("esc", "y")
	d.Shows("most pressing")
}

// With nothing said there is nothing to ask about.
func TestEscLeavesAnUntouchedState(t *testing.T) {
	d := stateAsked(t)
	d.Keys("esc")
	d.Shows("most pressing")
}

// The key line says "? more" on every row of the state, so it is so, until something is typed that
// it would belong to.
func TestHelpOnEveryRowOfTheState(t *testing.T) {
	d := stateAsked(t)
	for i := range 8 {
		d.Keys("?")
		d.Shows("help: Heron")
		d.Keys("?")
		d.Hides("help: Heron")
		d.Keys("tab")
		if t.Failed() {
			t.Fatalf("row %d:\n%s", i+1, d.View())
		}
	}
}

// A letter that answers nothing is said to, with those that do.
func TestALetterOfNoAnswerIsSaid(t *testing.T) {
	d := stateAsked(t)
	d.Keys("off", "enter", "20", "enter", "z")
	d.Shows("z does nothing here:")
	d.Keys("tab")
	d.Hides("does nothing here")
}

// On a low screen the row the keys go to is in view, and a line that says what is above names
// cautions only where there are some.
func TestTheRowAskedIsInViewOnALowScreen(t *testing.T) {
	d := stateAsked(t)
	for _, h := range []int{10, 14} {
		d.Send(tea.WindowSizeMsg{Width: 40, Height: h})
		for range 8 {
			d.Shows("> ")
			d.Hides("cautions")
			d.Keys("tab")
		}
	}
}

// What is typed as a reason is seen on a low screen.
func TestAReasonIsSeenOnALowScreen(t *testing.T) {
	d, _ := sampleWalk(t, 40, 10, theme.Options{Dark: true})
	d.Keys("n", "seen")
	d.Shows("seen_")
}

// Who types a temperature and goes on with tab has said it: it is taken as enter takes it, and
// what cannot be is refused.
func TestTabTakesWhatIsTyped(t *testing.T) {
	d := stateAsked(t)
	d.Keys("off", "enter", "2", "1", "tab")
	d.Shows("heat       21")
	d = stateAsked(t)
	d.Keys("off", "enter", "9", "9", "9", "9", "tab")
	d.Shows("heat", "9 999 °C cannot be")
}
