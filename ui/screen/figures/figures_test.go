package figures_test

import (
	"errors"
	"fmt"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

var places = []screentest.Place{
	{Name: "all", Keys: []string{"8"}},
	{Name: "machine", Keys: []string{"/", "her", "enter", "enter", "n", "8"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, failing, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

// failing is a bench on which prints fail before the rods are wiped, and hardly after.
func failing(t testing.TB, w, h int, p screentest.Place, o theme.Options) *screentest.Desk {
	t.Helper()
	d := screentest.New(t, w, h, !p.Empty, o)
	if !p.Empty {
		fail(t, d)
		screentest.Begin(t, d)
	}
	d.E.Currency = "EUR"
	return d.Keys(p.Keys...)
}

// fail puts two sessions and what failed round them on record, and the price of a wiper.
func fail(t testing.TB, d *screentest.Desk) {
	t.Helper()
	at := func(days float64) time.Time {
		return screentest.Now.Add(-time.Duration(days * 24 * float64(time.Hour)))
	}
	put := func(days float64, session string, facts ...model.Fact) {
		if _, err := d.S.Append(model.Action{At: at(days), By: "kit", Machine: "m1", Session: session,
			Ordinal: 1, Facts: facts}); err != nil {
			t.Fatal(err)
		}
	}
	price := 1.6
	if _, err := d.S.Append(model.Action{Facts: []model.Fact{{Kind: model.KindStock,
		Stock: &model.StockMove{Part: "wiper", Price: &price}}}}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		days  float64
		hands float64
	}{{60, 41}, {20, 62.5}} {
		for i := range 8 {
			f := &model.PrintFailed{Symptom: "layer-shift"}
			if i == 7 {
				f = &model.PrintFailed{Note: "the power went"}
			}
			put(c.days+0.5+0.3*float64(i), "", model.Fact{Kind: model.KindFailed, Failed: f})
		}
		es, err := d.S.Append(model.Action{At: at(c.days), By: "kit", Machine: "m1", Ordinal: 1,
			Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "care session"}}}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err = d.S.Append(model.Action{At: at(c.days), By: "kit", Machine: "m1",
			Session: es[0].Session, Ordinal: 2, Facts: []model.Fact{{Kind: model.KindClosed,
				Closed: &model.Closed{State: "ready", Hands: c.hands, Waited: 20}}}}); err != nil {
			t.Fatal(err)
		}
		put(c.days, "", model.Fact{Kind: model.KindCare,
			Care: &model.CareDone{Procedure: "rods-wipe", Outcome: model.OutcomeDone}})
	}
	d.Look()
}

// All machines lead to the months of one; the other way is esc.
func TestFromAllToOne(t *testing.T) {
	d := failing(t, 120, 40, screentest.Place{Keys: []string{"8"}}, theme.Options{Dark: true})
	d.Shows("in 100 h", "machine")
	for range 9 {
		d.Keys("up")
	}
	d.Keys("enter")
	d.Shows("   figures", "months up to")
	d.Keys("esc")
	d.Shows("what care takes")
}

// flaky is a data file that fails while it is told to, and counts how often it is read.
type flaky struct {
	screen.Store
	fails *bool
	reads *int
}

func (f flaky) Entries(of store.Filter) ([]model.Entry, error) {
	if *f.reads++; *f.fails {
		return nil, errors.New("the disk does not answer")
	}
	return f.Store.Entries(of)
}

// TestReadOnce: the record is read when the page is opened and after it went on, not for a forecast;
// where it cannot be read the page says so and how to go on, and says nothing stale.
func TestReadOnce(t *testing.T) {
	fails, reads := true, 0
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true}, func(x *screen.Deps) {
		x.Store = flaky{x.Store, &fails, &reads}
	})
	d.Keys("8")
	d.Shows("The record could not be read: r reads it again, esc goes back.",
		"The disk does not answer")
	d.Hides("reckoning")
	fails = false
	d.Keys("esc")
	d.Shows(" read again")
	d.Keys("r")
	d.Shows("Heron", "printed")
	d.Hides("could not be read", " read again")
	n := reads
	same := *d.Data()
	d.Send(screen.DataChanged{Data: &same})
	for range 3 {
		d.Send(screen.DataChanged{Data: d.Data()})
	}
	if reads != n {
		t.Errorf("the same bench was read %d times more", reads-n)
	}
	if _, err := d.S.Append(model.Action{Machine: "m1", Facts: []model.Fact{{Kind: model.KindFailed,
		Failed: &model.PrintFailed{Symptom: "layer-shift"}}}}); err != nil {
		t.Fatal(err)
	}
	d.Look()
	if reads == n {
		t.Error("what is new was not read")
	}
}

// However many machines there are, the one under the cursor is in view.
func TestCursorInView(t *testing.T) {
	d := failing(t, 80, 24, screentest.Place{Keys: []string{"8"}}, theme.Options{Dark: true})
	for i := range 40 {
		if _, err := d.S.Append(model.Action{Facts: []model.Fact{{Kind: model.KindMachine,
			Machine: &model.MachineFact{Name: fmt.Sprintf("Wren%02d", i), Duty: model.Home}}}}); err != nil {
			t.Fatal(err)
		}
	}
	d.Look()
	d.Keys("end")
	d.Shows("Wren39")
	d.Keys("home")
	d.Shows("Heron")
	d.Hides("Wren39")
}

// What fails less after care is said so, with the interval; what is logged meanwhile is counted.
func TestCarePays(t *testing.T) {
	d := failing(t, 120, 60, places[1], theme.Options{Dark: true})
	d.Shows("does care pay?", "any session, twice", "16 in 144 h", "fewer after", "the 95 % interval")
	d.Keys("esc", "9", "w", "8")
	d.Shows("1 × Corners of the part lift")
	d.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
	d.Shows("lines 1–")
}
