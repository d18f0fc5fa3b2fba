package screen

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/exp/golden"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// places are the screens of this package and what leads to them from the bench.
var places = []struct {
	name  string
	empty bool
	keys  []string
}{
	{"bench", false, nil},
	{"bench-empty", true, nil},
	{"bench-find", false, []string{"/", "kn"}},
	{"bench-session", false, []string{"/", "her", "enter", "enter"}},
	{"swap-part", false, []string{"/", "her", "enter", "w"}},
	{"swap-end", false, []string{"/", "her", "enter", "w", "b"}},
	{"swap-saved", false, []string{"/", "her", "enter", "w", "b", "w"}},
	{"help", false, []string{"?"}},
	{"machine", false, []string{"enter", "n"}},
	{"machine-large", false, []string{"enter", "n", "."}},
	{"machine-end", false, []string{"enter", "n", "end"}},
	{"meters", false, []string{"/", "her", "enter", "m"}},
	{"meters-refused", false, []string{"/", "her", "enter", "m", "12", "enter"}},
	{"machine-form", false, []string{"a"}},
	{"machine-form-start", false, []string{"a", "Dunlin", "enter"}},
	{"machine-form-many", false, []string{"a", "Dunlin", "enter", "1", "1"}},
	{"machine-form-leave", false, []string{"a", "Du", "esc"}},
	{"machine-edit", false, []string{"/", "her", "enter", "e"}},
	{"care-list", false, []string{"/", "her", "enter", "enter", "n", "2"}},
	{"care-list-last", false, []string{"/", "her", "enter", "enter", "n", "2", "down", "enter", "03/04/2026", "enter"}},
	{"findings", false, []string{"/", "tea", "enter", "f"}},
	{"findings-add", false, []string{"f", "a"}},
	{"findings-close", false, []string{"/", "tea", "enter", "f", "enter"}},
	{"findings-none", false, []string{"f"}},
	{"clear-tag", false, []string{"/", "tea", "enter", "enter", "5"}},
	{"drawer", false, []string{"d"}},
	{"lives", false, []string{"/", "her", "enter", "enter", "n", "3"}},
	{"drawer-count", false, []string{"d", "enter"}},
	{"book", false, []string{"/", "her", "enter", "enter", "n", "4"}},
	{"book-strike", false, []string{"/", "her", "enter", "enter", "n", "4", "down", "u"}},
	{"job", false, []string{"/", "tea", "enter", "enter", "1"}},
	{"job-names", false, []string{"/", "tea", "enter", "enter", "1", "te", "tab", "jobs/", "f"}},
	{"job-broken", false, []string{"/", "tea", "enter", "enter", "1", "testdata/jobs/br", "enter"}},
	{"job-verdict", false, []string{"/", "her", "enter", "enter", "n", "1", "testdata/jobs/f", "enter"}},
	{"job-unattended", false, []string{"/", "her", "enter", "enter", "n", "1", "testdata/jobs/f", "enter", "3", "4", "PLA", "enter"}},
	{"job-material", false, []string{"/", "her", "enter", "enter", "n", "1", "testdata/jobs/f", "enter", "4", "0=PL,1"}},
	{"retire", false, []string{"/", "kno", "enter", "enter", "6"}},
}

// begin begins a session on Heron and leaves it at a step.
func begin(t testing.TB, d *desk) {
	t.Helper()
	es, err := d.s.Append(model.Action{Machine: "m1", Ordinal: 1, Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "care session"}}}})
	if err != nil {
		t.Fatal(err)
	}
	_, err = d.s.Append(model.Action{Machine: "m1", Session: es[0].Session, Ordinal: 2, Facts: []model.Fact{{Kind: model.KindWalk,
		Walk: &model.Walked{What: "paused", Position: "step 14 of 61"}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.run(d.r.poll(true))
}

func open(t testing.TB, w, h, i int, o theme.Options) *desk {
	p := places[i]
	d := newDesk(t, w, h, !p.empty, o)
	if !p.empty {
		begin(t, d)
	}
	return d.keys(p.keys...)
}

func TestFrames(t *testing.T) {
	for i, p := range places {
		for _, size := range []rect{{80, 24}, {120, 40}} {
			t.Run(p.name+"-"+itoa(size.w)+"x"+itoa(size.h), func(t *testing.T) {
				golden.RequireEqual(t, open(t, size.w, size.h, i, theme.Options{Dark: true}).view())
			})
		}
	}
}

func TestFrameInColourAndInASCII(t *testing.T) {
	t.Run("colour", func(t *testing.T) {
		golden.RequireEqual(t, open(t, 80, 24, 0, theme.Options{Dark: true, Profile: theme.ANSI256}).view())
	})
	t.Run("ascii", func(t *testing.T) {
		v := open(t, 80, 24, 0, theme.Options{Dark: true, ASCII: true}).view()
		for _, r := range v {
			if r > 126 {
				t.Errorf("%q is not ASCII", r)
			}
		}
		golden.RequireEqual(t, v)
	})
}

// No line is wider than the terminal, there are no more lines than it has, and nothing panics.
func TestEverySize(t *testing.T) {
	for i, p := range places {
		t.Run(p.name, func(t *testing.T) {
			d := open(t, 80, 24, i, theme.Options{Dark: true, Profile: theme.TrueColour})
			for _, w := range []int{1, 2, 3, 5, 8, 13, 20, 39, 40, 41, 47, 55, 63, 71, 72, 73, 79, 80, 81, 100, 103, 104, 110, 129, 130, 160, 200, 240} {
				for _, h := range []int{1, 2, 3, 5, 9, 10, 11, 12, 15, 16, 17, 20, 24, 30, 40, 55, 70} {
					d.send(tea.WindowSizeMsg{Width: w, Height: h})
					lines := strings.Split(d.view(), "\n")
					if len(lines) > h {
						t.Fatalf("%dx%d: %d lines", w, h, len(lines))
					}
					for _, l := range lines {
						if n := theme.Width(l); n > w {
							t.Fatalf("%dx%d: a line of %d cells: %q", w, h, n, l)
						}
					}
				}
			}
		})
	}
}

// With ASCII asked for, no screen draws anything else, and with no colours nothing but text is sent.
func TestASCIIAndNoColourEverywhere(t *testing.T) {
	for i, p := range places {
		for _, r := range open(t, 120, 40, i, theme.Options{Dark: true, ASCII: true, NoColour: true}).view() {
			if r != '\n' && (r < ' ' || r > '~') {
				t.Errorf("%s draws %q", p.name, r)
				break
			}
		}
	}
}

// The frame of a full bench, and a key on it; see DEVELOPERS.md for figures.
func BenchmarkBenchKeyAndFrame(b *testing.B) {
	d := newDesk(b, 120, 40, true, theme.Options{Dark: true, Profile: theme.ANSI256})
	down, up := keyNames["down"], keyNames["up"]
	for i := 0; b.Loop(); i++ {
		k := down
		if i%2 == 1 {
			k = up
		}
		d.r.Update(k)
		d.r.View()
	}
}
