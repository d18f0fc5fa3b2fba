package swap_test

import (
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
	{Name: "swap-part", Keys: []string{"/", "her", "enter", "w"}},
	{Name: "swap-end", Keys: []string{"/", "her", "enter", "w", "b"}},
	{Name: "swap-saved", Keys: []string{"/", "her", "enter", "w", "b", "w"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func TestSwapIsThreeKeysAndUndone(t *testing.T) {
	d := screentest.Plain(t).On("her")
	lives := len(d.Machine("m1").Parts["blade"].Lives)
	d.Keys("w", "b", "w")
	d.Shows("saved 09:14   blade on Heron, worn at 3 412 changes; 1 left", "u undo")
	p := d.Machine("m1").Parts["blade"]
	if n := len(p.Lives); n != lives+1 || p.Lives[n-1].End != "worn" ||
		!p.Since.Equal(screentest.Now) {
		t.Errorf("blade after the swap: %+v", p)
	}
	d.Keys("j", "k", "u") // moving leaves the line standing
	d.Shows("undone 09:14", "; the book keeps both")
	d.Hides(" left; the book")
	if n := len(d.Machine("m1").Parts["blade"].Lives); n != lives {
		t.Errorf("%d lives after undo, want %d", n, lives)
	}
	if n := *d.Bench().Drawer["blade"].Count; n != 2 {
		t.Errorf("%v blades in the drawer after undo, want 2", n)
	}
}

// A part that was lost is looked for: the line says that a finding was made of it, as the command
// does.
func TestALostPartIsSaidToBeAFinding(t *testing.T) {
	d := screentest.Plain(t).On("her")
	d.Keys("w", "b", "x")
	d.Shows("finding noted: old blade not found: look for it")
	fs := d.Machine("m1").Findings
	if n := len(fs); n == 0 || fs[n-1].Kind != model.FoundLost {
		t.Errorf("findings: %+v", fs)
	}
}

// A letter of no part, and one of no answer, is said to be none.
func TestALetterOfNoPartIsSaid(t *testing.T) {
	d := screentest.Plain(t).On("her")
	d.Keys("w", "z")
	d.Shows("z does nothing here:", "new part on Heron:")
	d.Keys("b", "z")
	d.Shows("z does nothing here:", "old blade of Heron:")
}

func TestSwapLogsNothing(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(*screentest.Desk)
	}{
		{"esc at the part", func(d *screentest.Desk) { d.Keys("w", "esc") }},
		{"esc at the end, twice", func(d *screentest.Desk) { d.Keys("w", "b", "esc", "esc") }},
		{"a part the machine lacks", func(d *screentest.Desk) { d.On("teal").Keys("w", "b", "w") }},
		{"w held down", func(d *screentest.Desk) {
			at := screentest.Now
			for range 20 {
				d.Send(screen.Stamped{Key: screentest.Runes("w"), At: at})
				at = at.Add(30 * time.Millisecond)
			}
		}},
		{"w in one burst", func(d *screentest.Desk) {
			d.Send(screen.Stamped{Key: screentest.Runes("www"), At: screentest.Now})
		}},
		{"pasted", func(d *screentest.Desk) {
			d.Send(screen.Stamped{Key: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("wbw"),
				Paste: true}, At: screentest.Now})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := screentest.Plain(t).On("her")
			before, _ := d.S.Entries(store.Filter{})
			c.do(d)
			if after, _ := d.S.Entries(store.Filter{}); len(after) != len(before) {
				t.Errorf("%d entries were written", len(after)-len(before))
			}
		})
	}
}

// A quick swap takes a date and a count as people write them, and is undone with one key.
func TestSwapWithDateAndCount(t *testing.T) {
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true})
	d.Keys("/", "her", "enter", "w", "b", ".", "tomorrow", "enter")
	d.Shows("is no date")
	d.Keys("ctrl+u", "3000", "enter")
	d.Shows("below the last reading")
	d.Keys("ctrl+u", "yesterday 3600", "enter")
	d.Shows(". yesterday 3600")
	d.Keys("w")
	d.Shows("saved 09:14   blade on Heron, worn, 2026-11-24 12:00; 1 left", "u undo")
	p := d.Bench().Machines["m1"].Parts["blade"]
	if len(p.Lives) != 2 || p.Base[model.Changes] != 3600 ||
		!p.Since.Equal(screentest.Now.AddDate(0, 0, -1).Truncate(24*time.Hour).Add(12*time.Hour)) {
		t.Errorf("%+v", p)
	}
	d.Keys("u")
	d.Shows("undone 09:14")
	if p := d.Bench().Machines["m1"].Parts["blade"]; len(p.Lives) != 1 {
		t.Errorf("after undoing %+v", p)
	}
	d.Keys("b", "esc") // something else was done since: it is no news
	d.Hides("undone")
}
