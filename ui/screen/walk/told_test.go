package walk_test

import (
	"strconv"
	"testing"
	"time"

	"github.com/charmbracelet/x/exp/golden"

	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// sheet is a session that was done on paper a day before, at its first row.
func sheet(t *testing.T, only ...string) (*screentest.Desk, session.Desk, string) {
	t.Helper()
	d, at, m := screentest.Session(t, func() time.Time { return screentest.Now })
	from := screentest.Now.Add(-24 * time.Hour)
	c, err := at.ChooseThen(m, session.Choice{Only: only},
		session.Then{From: from, To: from.Add(2 * time.Hour)})
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	return d, at, s.W.ID
}

// TestASheetIsTold: rows are ticked by enter, a reading is typed, a choice takes its digit, a row
// gone to tells what was otherwise or not done, each under the hour it was; nothing is asked of the
// machine before all is told.
func TestASheetIsTold(t *testing.T) {
	d, at, id := sheet(t, "blade-check")
	d.Shows("told from paper", "0 of 2 told", "Read the machine before touching it", "1 no   2 yes")
	d.Hides("How does the machine stand?")
	d.Keys("enter")
	d.Shows("enter does nothing here")
	d.Keys("1", "99", "enter", "-", "enter", "-", "enter", "-", "enter")
	d.Shows("All that is left is ticked")
	d.Keys("t", "13:00x", "enter")
	d.Shows("is no date")
	d.Keys("ctrl+u", "yesterday 07:00", "enter")
	d.Shows("is not within the session")
	d.Keys("esc", "up", "1")
	d.Shows("1 of 2 told", "Check and change the cutter blade")
	d.Keys("up", "x", "enter")
	d.Shows("Type it first")
	d.Keys("no tray at hand", "enter")
	s, err := at.Open(id)
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, b := range s.W.Blocks {
		for i := range b.Proc.Steps {
			if _, ok := s.W.AnswerAt(b.ID, b.Proc.Steps[i].Name); ok {
				told++
			}
		}
	}
	if told < 9 || !s.W.Telling() {
		t.Errorf("%d rows are on record, still telling: %v", told, s.W.Telling())
	}
}

// Frames of a sheet: its first row that wants an answer, one gone to, all that is left ticked.
func TestSheetFrames(t *testing.T) {
	from := screentest.Now.Add(-24 * time.Hour)
	then := &session.Then{From: from, To: from.Add(2 * time.Hour)}
	for _, size := range []screentest.Size{{W: 80, H: 24}, {W: 120, H: 40}} {
		for name, keys := range map[string][]string{
			"reading": nil, "gone-to": {"down", "down", "down"},
			"ticked": {"31", "enter", "4", "enter", "4", "enter", "1"},
		} {
			t.Run(name+"-"+strconv.Itoa(size.W)+"x"+strconv.Itoa(size.H), func(t *testing.T) {
				d, _ := begunOf(t, "own", "frame-sample", then, size.W, size.H,
					theme.Options{Dark: true, NoColour: true})
				d.Keys(keys...)
				golden.RequireEqual(t, d.View())
				screentest.OneMeaning(t, name, d.R.Keys())
				d.Fits(screentest.EverySize...)
			})
		}
	}
}
