package lives_test

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

var places = []screentest.Place{
	{Name: "lives", Keys: []string{"/", "her", "enter", "enter", "n", "3"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

// wearBlades gives Heron nine blades that gave out long before the rule of thumb.
func wearBlades(t *testing.T, d *screentest.Desk) {
	t.Helper()
	changes := 3412.0
	for i := range 9 {
		at := screentest.Now.Add(-time.Duration(7*24-20*i) * time.Hour)
		changes += []float64{900, 1000, 1150, 1250, 1100, 950, 1100, 1050, 1150}[i]
		if _, err := d.S.Append(model.Action{At: at, By: "kit", Machine: "m1", Facts: []model.Fact{
			{Kind: model.KindReading, Reading: &model.Reading{Meter: model.Changes, Value: changes,
				How: "typed"}},
			{Kind: model.KindSwap, Swap: &model.Swapped{Part: "blade", End: "worn",
				Resets: []string{"blade-check", "blade-check-look"}}}}}); err != nil {
			t.Fatal(err)
		}
	}
	d.Look()
}

// A part that gives out early is said on the bench; its lives are drawn, set beside the rule of
// thumb, and for stated costs there is an age to renew it.
func TestLivesAreShown(t *testing.T) {
	d := screentest.New(t, 120, 60, true, theme.Options{Dark: true})
	wearBlades(t, d)
	d.Shows("blade short-lived: half by 1 100 cuts, rule of thumb from 3 000 ")
	d.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
	d.Shows("blade short-lived: half by 1 100")
	d.Send(tea.WindowSizeMsg{Width: 120, Height: 60})
	d.Keys("/", "her", "enter", "enter")
	d.Shows("short-lived", "by own lives", "h a month", "look for a cause")
	d.Keys("3")
	d.Shows("rule of thumb 3 000–5 000 cuts (common practice)", "own 9 ends", "they wear out",
		"95 %", "◆")
	d.Keys("e")
	d.Shows("cost of a planned and an unplanned change")
	d.Keys("5", "enter")
	d.Shows("Type two numbers")
	d.Keys("space", "40", "enter")
	d.Shows("For 5 planned and 40 unplanned: renewed at")
	d.Keys("e", "40 5", "enter")
	d.Shows("For 40 planned and 5 unplanned: an unplanned")
}
