package picture

import (
	"encoding/xml"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/demo"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

var remake = flag.Bool("remake", false, "draw the pictures of the README anew")

var now = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

// pictures are those of the README: their names, the keys from the bench of the demo, and what has
// to stand there.
var pictures = []struct {
	name  string
	w, h  int
	keys  string
	shows string
}{
	{"bench", 120, 26, "", "most pressing"},
	{"session", 120, 22,
		"down c enter enter enter enter enter enter 5 enter 2 enter enter o 2 5 enter l o o m l c",
		"WARNING"},
}

// TestPictures draws each and holds that there is one of each beside this file; with -remake it
// writes them.
func TestPictures(t *testing.T) {
	for _, p := range pictures {
		frame := shot(t, p.w, p.h, strings.Fields(p.keys))
		if !strings.Contains(frame, p.shows) {
			t.Errorf("%s: its keys lead elsewhere now:\n%s", p.name, frame)
		}
		svg := SVG(frame, p.w, p.h, Dark)
		wellFormed(t, svg)
		file := p.name + ".svg"
		if *remake {
			if err := os.WriteFile(file, []byte(svg), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatalf("%v: go test ./ui/picture -remake", err)
		}
		wellFormed(t, string(data))
	}
}

// shot is the frame that keys lead to on the bench of the demo.
func shot(t *testing.T, w, h int, keys []string) string {
	t.Helper()
	lib, problems := procedures.Load("")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s, err := store.Open(filepath.Join(t.TempDir(), "demo.oilcan"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.AppendAll(demo.Actions(lib.All(), now, 1)); err != nil {
		t.Fatal(err)
	}
	d := screentest.Open(t, s, w, h,
		screen.Deps{Store: s, Library: lib,
			Theme: theme.New(theme.Options{Dark: true, Profile: theme.TrueColour}),
			Now:   func() time.Time { return now }, Real: screentest.Afresh(), Title: "north bench",
			Operator: "LN",
			Desk:     session.Desk{Store: s, Lib: lib, By: "LN"}})
	return d.Keys(keys...).View()
}

func wellFormed(t *testing.T, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// A run of one style is one text held to its cells; a reversed one has a ground; what is wide takes
// two cells; what the frame holds is text and never markup.
func TestRuns(t *testing.T) {
	svg := SVG("a\x1b[1;31mbc\x1b[0m\x1b[7m日<\x1b[0m", 10, 1, Light)
	wellFormed(t, svg)
	for _, want := range []string{`>a</text>`, `font-weight="bold" textLength="16.8"`, `>bc</text>`,
		`textLength="25.2"`, `>日&lt;</text>`, `<rect x="37.2"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in\n%s", want, svg)
		}
	}
}
