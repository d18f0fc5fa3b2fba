package outside

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/ui/screen/screentest"
)

// hostile is typed, as a paste could bring it.
const hostile = "\x1b[200~\x1b]52;c;QUJD\x07red\u009b31m\u202eabc\u200b\x1b[201~"

// obeyedParts are what of the hostile texts a terminal would obey or hide: none may be written to it.
var obeyedParts = []string{"\x1b]52", "\x07", "\x1b[35;5m", "\u009b", "\u0085", "\u202e", "\u2066",
	"\u200b", "\u200d", "\ufeff", "\u00ad", "\x7f"}

// TestHostileTextOnATerminal walks the screens of the built program over a bench in which all that is
// stored is hostile, and looks at every byte the terminal was sent.
func TestHostileTextOnATerminal(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(screentest.HostileFile(t))
	if err != nil {
		t.Fatal(err)
	}
	type stop struct{ keys, shows string }
	page := []stop{{"\r", "n the machine"}, {"n", "goes on"}} // the session begun is passed by
	for name, way := range map[string][]stop{
		"bench":         {{"?", "most pressing"}},
		"machine":       append(slices.Clip(page), stop{"?", "esc"}),
		"print file":    append(slices.Clip(page), stop{"1", "Which file"}, stop{"no\r", "no such file"}),
		"care list":     append(slices.Clip(page), stop{"2", "kept by"}),
		"lives":         append(slices.Clip(page), stop{"3", "how long its parts last"}),
		"book":          append(slices.Clip(page), stop{"4", "booked to print"}, stop{"u", "This is struck"}),
		"a session":     append(slices.Clip(page), stop{"4", "booked to print"}, stop{"j", "session"}, stop{"\r", "not closed yet"}),
		"find":          append(slices.Clip(page), stop{"4", "booked to print"}, stop{"/", "find"}, stop{"pri", "pri_"}),
		"whole book":    {{"4", "all machines"}, {"1", "from the day"}},
		"findings":      append(slices.Clip(page), stop{"f", "standing"}, stop{"a", "a new finding"}),
		"form":          append(slices.Clip(page), stop{"e", "question 1"}),
		"meters":        append(slices.Clip(page), stop{"m", "what the counters show"}),
		"symptoms":      append(slices.Clip(page), stop{"s", "what do you see?"}, stop{"\r", "esc"}),
		"swap":          {{"w", "esc"}},
		"drawer":        {{"d", "in stock"}},
		"session":       {{"c", "How does the machine stand?"}, {"?", "esc"}},
		"what is typed": append(slices.Clip(page), stop{"f", "standing"}, stop{"a", "a new finding"}, stop{hostile, "QUJD"}, stop{"\x13", "standing"}),
	} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "bench.oilcan")
			if err := os.WriteFile(file, data, 0o600); err != nil {
				t.Fatal(err)
			}
			s := sit(t, []string{"OILCAN_NOW=" + pinned}, bin, "--file", file)
			s.waits("most pressing")
			for _, stop := range way {
				s.keys(stop.keys)
				s.waits(stop.shows)
			}
			s.keys("\x03")
			s.ends()
			for _, part := range obeyedParts {
				if strings.Contains(s.all(), part) {
					t.Errorf("%q reaches the terminal: %q", part, s.all())
				}
			}
			if !strings.Contains(s.all(), "red") {
				t.Error("no stored text was drawn")
			}
		})
	}
}
