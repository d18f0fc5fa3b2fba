package screentest

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/exp/golden"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// Size is that of a terminal, in cells.
type Size struct{ W, H int }

// Place is a screen, and the keys that lead to it.
type Place struct {
	Name  string
	Empty bool // of a bench without machines
	Keys  []string
}

// Opener opens a place at a size.
type Opener func(t testing.TB, w, h int, p Place, o theme.Options) *Desk

// FromBench opens a place from a full bench, with a session begun on Heron.
func FromBench(t testing.TB, w, h int, p Place, o theme.Options) *Desk {
	d := New(t, w, h, !p.Empty, o)
	if !p.Empty {
		Begin(t, d)
	}
	return d.Keys(p.Keys...)
}

// FromSession opens a place from a bench with one full machine and the whole library, when all but
// a few were done last.
func FromSession(t testing.TB, w, h int, p Place, o theme.Options) *Desk {
	t.Helper()
	now := Now.AddDate(0, 0, -100)
	d, _, _ := Session(t, func() time.Time { return now })
	now = Now
	d.Pass(now)
	d.Look()
	d.E.Theme = theme.New(o)
	d.Send(tea.WindowSizeMsg{Width: w, Height: h})
	return d.Keys(p.Keys...)
}

// Begin begins a session on Heron and leaves it at a step.
func Begin(t testing.TB, d *Desk) {
	t.Helper()
	es, err := d.S.Append(model.Action{Machine: "m1", Ordinal: 1,
		Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "care session"}}}})
	if err != nil {
		t.Fatal(err)
	}
	_, err = d.S.Append(model.Action{Machine: "m1", Session: es[0].Session, Ordinal: 2,
		Facts: []model.Fact{{Kind: model.KindWalk,
			Walk: &model.Walked{What: "paused", Position: "step 14 of 61"}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
}

// Frames holds places to their golden frames at two sizes, to every size, to ASCII where that is
// asked for, and their keys to one meaning each. The golden files are those of the test's package.
func Frames(t *testing.T, open Opener, places []Place) {
	for _, p := range places {
		for _, z := range []Size{{80, 24}, {120, 40}} {
			t.Run(p.Name+"-"+strconv.Itoa(z.W)+"x"+strconv.Itoa(z.H), func(t *testing.T) {
				d := open(t, z.W, z.H, p, theme.Options{Dark: true})
				golden.RequireEqual(t, d.View())
				OneMeaning(t, p.Name, d.R.Keys())
			})
		}
		t.Run(p.Name+"-sizes", func(t *testing.T) {
			open(t, 80, 24, p, theme.Options{Dark: true, Profile: theme.TrueColour}).Fits(
				EverySize...)
			d := open(t, 120, 40, p, theme.Options{Dark: true, ASCII: true, NoColour: true})
			for _, r := range d.View() {
				if r != '\n' && (r < ' ' || r > '~') {
					t.Fatalf("%s draws %q", p.Name, r)
				}
			}
			d.Keys("?")
			d.Fits(EverySize...)
		})
	}
}

// Fits fails if any frame at these sizes is wider or higher than its terminal.
func (d *Desk) Fits(sizes ...Size) {
	d.T.Helper()
	for _, z := range sizes {
		d.Send(tea.WindowSizeMsg{Width: z.W, Height: z.H})
		lines := strings.Split(d.View(), "\n")
		if len(lines) > z.H {
			d.T.Fatalf("%dx%d: %d lines", z.W, z.H, len(lines))
		}
		for _, l := range lines {
			if n := theme.Width(l); n > z.W {
				d.T.Fatalf("%dx%d: a line of %d cells: %q", z.W, z.H, n, l)
			}
		}
	}
}

// EverySize is what a person may make of a terminal, the least of it too.
var EverySize = func() (out []Size) {
	for _, w := range []int{1, 2, 5, 13, 39, 40, 41, 55, 63, 71, 72, 79, 80, 81, 103, 104, 129, 130,
		200, 240} {
		for _, h := range []int{1, 2, 5, 9, 10, 11, 15, 16, 24, 40, 70} {
			out = append(out, Size{w, h})
		}
	}
	return out
}()

// meanings has the letters that are keys, each with what it does and the words under which it may
// stand in a key line. Digits choose in a list; the line of a swap and the answers of what stands
// alone have letters of their own.
var meanings = map[string]struct {
	does  string
	words []string
}{
	"a": {"adds", []string{"add", "add a machine", "add a symptom", "new counter"}},
	"b": {"takes back, in a session", []string{"back"}},
	"c": {"care", []string{"care", "care before it"}},
	"d": {"drawer", []string{"drawer"}},
	"e": {"edits what is on record",
		[]string{"", "edit", "costs", "correction", "record is wrong"}},
	"f": {"what is wrong", []string{"findings", "fails"}},
	"g": {"materials", []string{"materials"}},
	"h": {"hot", []string{"hot"}},
	"l": {"leaves out the rest", []string{"leave out"}},
	"m": {"meters", []string{"meters"}},
	"n": {"no where yes or no is asked; a note in a session",
		[]string{"note", "stay", "the machine"}},
	"o": {"order", []string{"order added", "pressing first", "plan again"}},
	"p": {"pauses", []string{"pause"}},
	"q": {"leaves", []string{"leave"}},
	"r": {"not read", []string{"not read"}},
	"s": {"symptom", []string{"symptom"}},
	"t": {"time: at hand, or of what was done", []string{"minutes", "when"}},
	"u": {"takes back what was saved", []string{"undo", "strike", "put back"}},
	"v": {"pace", []string{"step by step", "page by page"}},
	"w": {"swap", []string{"swap"}},
	"x": {"passes over, with a reason", []string{"skip", "cut short"}},
	"y": {"yes", []string{"go on", "leave without saving", "set the tag", "so it is"}},
	"G": {"gives up, with a reason", []string{"give up"}},
	"!": {"cautions", []string{"cautions"}},
	"/": {"finds", []string{"find"}},
	".": {"more of it, or less", []string{"", "large gauges", "small gauges",
		"all", "all names", "counted only"}},
	"?": {"help", []string{""}},
}

// OneMeaning holds a list of keys to the table: no key stands twice in it, and one has one meaning
// wherever it works.
func OneMeaning(t testing.TB, place string, ks []screen.Key) {
	t.Helper()
	seen := map[string]string{}
	for _, k := range ks {
		if !k.Enabled() {
			continue
		}
		free := k.Help().Key == "letter" || slices.Contains(k.Keys(), "up") ||
			slices.Contains(k.Keys(), "down")
		for _, name := range k.Keys() {
			if was, twice := seen[name]; twice {
				t.Errorf("%s: %q is %q and %q", place, name, was, k.Help().Desc)
			}
			seen[name] = k.Help().Desc
			letter := strings.TrimPrefix(name, "ctrl+")
			if free || len(letter) > 1 || letter == " " || letter >= "1" && letter <= "9" ||
				name == "ctrl+s" || name == "ctrl+u" {
				continue
			}
			if m, known := meanings[letter]; !known || !slices.Contains(m.words, k.Help().Desc) {
				t.Errorf("%s: %s %q, but that key %s", place, name, k.Help().Desc, m.does)
			}
		}
	}
}
