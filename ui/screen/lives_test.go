package screen

import (
	tea "github.com/charmbracelet/bubbletea"

	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// wearBlades gives Heron six blades that gave out long before the rule of thumb.
func wearBlades(t *testing.T, d *desk) {
	t.Helper()
	changes := 3412.0
	for i := range 6 {
		at := fixedNow.Add(-time.Duration(7*24-20*i) * time.Hour)
		changes += []float64{900, 1000, 1150, 1250, 1100, 950}[i]
		if _, err := d.s.Append(model.Action{At: at, By: "kit", Machine: "m1", Facts: []model.Fact{
			{Kind: model.KindReading, Reading: &model.Reading{Meter: model.Changes, Value: changes, How: "typed"}},
			{Kind: model.KindSwap, Swap: &model.Swapped{Part: "blade", End: "worn", Resets: []string{"blade-check", "blade-check-look"}}}}}); err != nil {
			t.Fatal(err)
		}
	}
	d.run(d.r.poll(true))
}

// A part that gives out early is said on the bench; its lives are drawn, set beside the rule of thumb, and
// for stated costs there is an age to renew it.
func TestLivesAreShown(t *testing.T) {
	d := newDesk(t, 120, 60, true, theme.Options{Dark: true})
	wearBlades(t, d)
	d.shows("blade short-lived: half by 1,100 cuts, rule of thumb from 3,000 ")
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	d.shows("blade short-lived: half by 1,100")
	d.send(tea.WindowSizeMsg{Width: 120, Height: 60})
	d.keys("/", "her", "enter", "enter")
	d.shows("short-lived", "by own lives", "h a month", "look for a cause")
	d.keys("3")
	d.shows("rule of thumb 3,000–5,000 cuts (common practice)", "own 6 ends", "they wear out", "95 %", "◆")
	d.keys("e")
	d.shows("cost of a planned and an unplanned change")
	d.keys("5", "enter")
	d.shows("Type two numbers")
	d.keys("space", "40", "enter")
	d.shows("For 5 planned and 40 unplanned: renewed at")
	d.keys("e", "40 5", "enter")
	d.shows("For 40 planned and 5 unplanned: an unplanned")
}

// The drawer says what to order and by when, and what that rests on.
func TestDrawerAdvises(t *testing.T) {
	d := newDesk(t, 80, 24, true, theme.Options{Dark: true})
	d.keys("d")
	d.shows("order 1 now", "blade: 2 left, at the minimum of 2")
	d.keys("enter", "9", "ctrl+s")
	d.hides("order 1 now", "at the minimum")
}

// The sessions a machine's page names are read from the journal, newest first.
func TestEndedSessions(t *testing.T) {
	day := func(n int) time.Time { return fixedNow.AddDate(0, 0, n) }
	var es []model.Entry
	for i := range 7 {
		id := itoa(i)
		es = append(es, model.Entry{Session: id, At: day(i), Fact: model.Fact{Begun: &model.Begun{Title: "care " + id}}},
			model.Entry{Session: id, At: day(i), Fact: model.Fact{Closed: &model.Closed{State: "ready"}}})
	}
	got := ended(es)
	if len(got) != sessionsShown || got[0].title != "care 6" || got[4].title != "care 2" {
		t.Errorf("%+v", got)
	}
}

// A quick swap takes a date and a count as people write them, and is undone with one key.
func TestSwapWithDateAndCount(t *testing.T) {
	d := newDesk(t, 80, 24, true, theme.Options{Dark: true})
	d.keys("/", "her", "enter", "w", "b", ".", "tomorrow", "enter")
	d.shows("is no date")
	d.keys("ctrl+u", "3000", "enter")
	d.shows("below the last reading")
	d.keys("ctrl+u", "yesterday 3600", "enter")
	d.shows(". yesterday 3600")
	d.keys("w")
	d.shows("saved 09:14   blade on Heron, worn, 2026-11-24 12:00; 1 left", "u undo")
	p := d.bench().Machines["m1"].Parts["blade"]
	if len(p.Lives) != 2 || p.Base[model.Changes] != 3600 || !p.Since.Equal(fixedNow.AddDate(0, 0, -1).Truncate(24*time.Hour).Add(12*time.Hour)) {
		t.Errorf("%+v", p)
	}
	d.keys("u")
	d.shows("undone 09:14")
	if p := d.bench().Machines["m1"].Parts["blade"]; len(p.Lives) != 1 {
		t.Errorf("after undoing %+v", p)
	}
}

// The first look draws without the forecast; the forecast and what to order follow by themselves, and only
// while no later look has come.
func TestForecastFollowsTheFirstLook(t *testing.T) {
	d := newDesk(t, 80, 24, true, theme.Options{Dark: true})
	first, err := d.r.env.look(fixedNow)
	if err != nil {
		t.Fatal(err)
	}
	told := func(x *Data) bool { return x.Gauges["m1"][0].Forecast != nil || x.Gauges["m1"][4].Forecast != nil }
	if told(first) || first.Buy != nil {
		t.Error("the first look waits for the forecast")
	}
	later := d.r.data
	d.send(forecasted{of: first, data: first})
	if d.r.data != later {
		t.Error("the forecast of an older look is taken")
	}
	d.r.data = nil
	_, cmd := d.r.Update(polled{Data: first})
	if d.r.data != first {
		t.Fatal("the first look is not shown")
	}
	d.run(cmd)
	if !told(d.r.data) || d.r.data.Buy == nil {
		t.Error("no forecast followed")
	}
	d.shows("order now: blade (2 left")
}
