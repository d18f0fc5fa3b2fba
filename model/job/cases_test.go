package job

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// oneCase is what a file of testdata/cases must be read as. The files are our own, one for each way
// of writing that was met; the figures were worked out by hand from how each was made.
type oneCase struct {
	moves, skipped, bad int64
	first               string    // the first warning, from its line on
	fault               string    // why reading ended; empty: it did not
	changes, manual     int64     // by T, by hand
	used                []float64 // mm, of the tools that move filament or were chosen
	layers              int64     // -1: not looked at here
	also                string    // service calls and what is not known
	doubt               string    // what is said of it that cannot be right; empty: nothing is
	flow                string    // how M221 is said
	seconds             float64   // of movement
	held                string    // the nozzle, at which temperature for how many seconds
	own                 bool      // the second reader does not know its words
}

var cases = map[string]oneCase{
	// lines that are not as they should be
	"stray-words":    {moves: 3, skipped: 1, bad: 1, first: "6: X has no number", used: mms(3)},
	"bare-words":     {moves: 3, skipped: 1, bad: 1, first: "5: X has no number", used: mms(3)},
	"no-break-space": {moves: 3, bad: 2, first: "7: it has a no-break space in it", used: mms(3)},
	"tool-question": {
		moves:   3,
		skipped: 1,
		bad:     1,
		first:   "7: '?' begins no word",
		changes: 1,
		used:    mms(1, 2),
	},
	"nested-comment": {
		moves:   3,
		skipped: 1,
		bad:     1,
		first:   "2: the comment in parentheses",
		used:    mms(3),
	},
	"arc-misses": {
		moves: 3,
		bad:   1,
		first: "6: the arc begins 10.000 mm from its centre and ends 13.000",
		used:  mms(3),
	},
	"expression": {
		moves:   3,
		skipped: 4,
		bad:     4,
		first:   "5: '[' begins an expression",
		used:    mms(3),
	},
	"open-comment": {
		moves:   3,
		skipped: 1,
		bad:     1,
		first:   "6: the comment in parentheses",
		used:    mms(3),
	},
	"word-twice": {
		moves:   3,
		skipped: 1,
		bad:     1,
		first:   "6: the word X stands twice",
		used:    mms(3),
	},
	"power-of-ten": {
		moves:   3,
		skipped: 3,
		bad:     3,
		first:   "6: a number with a power of ten",
		used:    mms(3),
	},
	"two-commands": {
		moves:   3,
		skipped: 1,
		bad:     1,
		first:   "6: G28 and G1 on one line",
		used:    mms(3),
	},
	"damaged-sum": {moves: 2, skipped: 1, bad: 1, first: "6: the checksum is *", used: mms(2)},
	"beyond":      {moves: 4, skipped: 1, bad: 1, first: "6: X is beyond 1000000", used: mms(3)},
	"binary-tail": {moves: 3, fault: "line 8: the byte 0x00 is not text", used: mms(3)},
	"prose": {moves: 1, skipped: 2, bad: 2, first: "2: the word l stands twice",
		fault: "this is no print file", also: "DEAR 1, PLEASE 1"},
	"numbered":      {moves: 3, used: mms(3)},
	"small-letters": {moves: 3, changes: 1, manual: 1, used: mms(3, 0)},
	"spaces":        {moves: 3, used: mms(3)},
	"block-delete":  {moves: 3, used: mms(3)},
	"labels":        {moves: 5, used: mms(2)},

	// layers
	"vase":                {moves: 3*26 + 12*24, layers: 3 + 12, used: mms(3*24*.05 + 12*24*.02)},
	"vase-rounded":        {moves: 3*26 + 9*48, layers: 3 + 9, used: mms(3*24*.05 + 9*48*.02)},
	"vase-clockwise":      {moves: 3*26 + 7*24, layers: 3 + 7, used: mms(3*24*.05 + 7*24*.02)},
	"by-object":           {moves: 13*26 + 4, layers: 6 + 4 + 3, used: mms(13 * 20 * .5)},
	"purge-line":          {moves: 5*26 + 5, layers: 5, used: mms(5*20*.5 + 20)},
	"purge-low":           {moves: 5*26 + 5, layers: 5, used: mms(5*20*.5 + 20)},
	"purge-same":          {moves: 5*26 + 5, layers: 5, used: mms(5*20*.5 + 20)},
	"scarf":               {moves: 6*35 + 5, layers: 6, used: mms(6 * (24*.05 + .6))},
	"tower-below":         {moves: 8*21 + 3*6, layers: 8, used: mms(8*16*.5 + 3*4*.3)},
	"hop":                 {moves: 5 * 4 * 9, layers: 5, used: mms(5 * 4 * 4 * .5)},
	"layers-from-nothing": {moves: 13*5 + 1, layers: 13, used: mms(13 * 4 * .5)},

	// what cannot be right, or may not be
	"no-filament": {moves: 1200, doubt: "1 200 moves and no filament"},
	"drive-on-a": {
		moves: 1100,
		doubt: "1 100 moves have an A or B",
		also:  "G1 A 1100, G92 A 1, G92 B 1",
	},
	"on-off":  {moves: 1300 - 130, doubt: "(M101, M103)", also: "M101 65, M103 65"},
	"volumes": {moves: 5, used: mms(3), own: true},
	"thick-filament": {
		moves:  4 * 41,
		layers: 4,
		doubt:  "its lines would be 0.17 mm wide: it seems made for 2.85 mm",
	},
	"usual-filament":  {moves: 4 * 41, layers: 4},
	"still-hot":       {moves: 3, used: mms(3), doubt: "still held at 215 °C"},
	"still-hot-macro": {moves: 3, used: mms(3), also: "END_PRINT 1"},
	"cooled":          {moves: 3, used: mms(3)},
	"no-movement":     {doubt: "nothing moves in it"},
	"flow":            {moves: 3, used: mms(2.85), flow: "flow 95 %"},

	// time
	"m204-high":     {moves: 1, used: mms(1), seconds: 0.05 + 92.5/300},
	"m204-and-m201": {moves: 1, used: mms(1), seconds: 0.1 + 85./300},
	"hours-hot":     {moves: 1, used: mms(1), held: "260: 1800, 240: 900, 200: 600"},

	// published curves: see TestPublishedCurves
	"hilbert": {moves: 256, layers: 1}, "peano": {moves: 81, layers: 1},
	"koch": {moves: 193, layers: 1}, "dragon": {moves: 257, layers: 1},
	"arrowhead": {moves: 244, layers: 1}, "polygon-96": {moves: 97, layers: 1},

	// words that change the filament
	"select-m1020":    {moves: 4, changes: 2, used: mms(2, 2)},
	"select-m135":     {moves: 3, changes: 2, used: mms(2, 1)},
	"select-m108":     {moves: 2, changes: 1, used: mms(1, 1)},
	"m6-changes":      {moves: 3, changes: 2, used: mms(2, 1)},
	"m6-waits":        {moves: 3, changes: 2, used: mms(2, 1)},
	"manual":          {moves: 3, manual: 2, used: mms(3)},
	"tool-extras":     {moves: 3, changes: 2, used: mms(2, 1), also: "D 1, L 1, P 1, S 1"},
	"service-tools":   {moves: 2, changes: 1, used: mms(1, 1), also: "T1000 1, T255 1, T65535 1"},
	"first-tool-late": {moves: 2, changes: 1, used: mms(1, 1)},
	"changer-temperature": {moves: 2, changes: 1, used: mms(1, 1),
		also: "T1000 1, T255 1, M620.1 3, M620 2, M621 2, M620.11 1"},
}

func mms(v ...float64) []float64 { return v }

// readCase reads a file of testdata/cases.
func readCase(t *testing.T, name string, o Options) (Report, error) {
	t.Helper()
	b, err := os.ReadFile("testdata/cases/" + name + ".gcode")
	if err != nil {
		t.Fatal(err)
	}
	return scanText(string(b), o)
}

func TestCases(t *testing.T) {
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			r, err := readCase(t, name, Options{Time: true})
			if (err == nil) != (c.fault == "") ||
				err != nil && !strings.Contains(err.Error(), c.fault) {
				t.Fatalf("%v, want %q", err, c.fault)
			}
			got, want := []int64{r.Moves, r.Skipped, r.Bad, r.ToolChanges, r.ManualChanges},
				[]int64{c.moves, c.skipped, c.bad, c.changes, c.manual}
			if !slices.Equal(got, want) {
				t.Errorf(
					"moves, skipped, bad, changes, by hand are %v, want %v; %+v",
					got,
					want,
					r.Warnings,
				)
			}
			if first := firstWarning(
				&r,
			); !strings.HasPrefix(first, c.first) ||
				first != "" && c.first == "" {
				t.Errorf("the first warning is %q, want %q", first, c.first)
			}
			if c.layers > 0 && r.Layers != c.layers {
				t.Errorf("%d layers, want %d", r.Layers, c.layers)
			}
			var used []float64
			for _, f := range r.Filament {
				used = append(used, f.Used().MM())
			}
			if c.used != nil && !close(used, c.used) {
				t.Errorf("filament is %v mm, want %v", used, c.used)
			}
			if doubts := strings.Join(
				Doubts(&r, 0, 0),
				"; ",
			); c.fault == "" && c.moves != 0 ||
				c.doubt != "" {
				if (doubts == "") != (c.doubt == "") || !strings.Contains(doubts, c.doubt) {
					t.Errorf("the doubts are %q, want %q", doubts, c.doubt)
				}
			}
			if c.seconds > 0 {
				near(t, "time", r.Moving.Seconds(), c.seconds, 1e-6)
			}
			if c.held != "" && heldText(&r) != c.held {
				t.Errorf("held is %s, want %s", heldText(&r), c.held)
			}
			if r.FlowText() != c.flow {
				t.Errorf("the flow is %q, want %q", r.FlowText(), c.flow)
			}
			if also := named(append(slices.Clone(r.Service), r.Unknown...)); also != c.also {
				t.Errorf("service calls and unknown are %q, want %q", also, c.also)
			}
		})
	}
}

// close tells whether two lists say the same to a nanometre.
func close(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(a, b float64) bool { return math.Abs(a-b) < 1e-6 })
}

func firstWarning(r *Report) string {
	if len(r.Warnings) == 0 {
		return ""
	}
	return fmt.Sprintf("%d: %s", r.Warnings[0].Line, r.Warnings[0].Reason)
}

func heldText(r *Report) string {
	var out []string
	for _, h := range r.Held {
		out = append(out, fmt.Sprintf("%.0f: %.0f", h.At, h.Time.Seconds()))
	}
	return strings.Join(out, ", ")
}

func named(list []Count) string {
	var out []string
	for _, c := range list {
		out = append(out, fmt.Sprint(c.Name, " ", c.N))
	}
	return strings.Join(out, ", ")
}

// TestCasesAgainstTheReference: the second reader says the same of all files that it knows how to
// read.
func TestCasesAgainstTheReference(t *testing.T) {
	for name, c := range cases {
		if c.bad > 0 || c.fault != "" || c.own {
			continue
		}
		b, err := os.ReadFile("testdata/cases/" + name + ".gcode")
		if err != nil {
			t.Fatal(err)
		}
		r, want := mustScan(t, string(b), Options{}), newReference()
		want.file(string(b))
		compare(t, name, &r, want)
	}
}

// TestCasesAreAllLookedAt: no file lies there unread.
func TestCasesAreAllLookedAt(t *testing.T) {
	files, err := filepath.Glob("testdata/cases/*")
	if err != nil || len(files) < 50 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		if _, has := cases[strings.TrimSuffix(filepath.Base(f), ".gcode")]; !has {
			t.Errorf("%s is in no table", f)
		}
	}
}

// TestOtherFilament: what a file is made for shows by the width of its lines, either way, and by the
// nozzle where that is on record.
func TestOtherFilament(t *testing.T) {
	for _, c := range []struct {
		file             string
		filament, nozzle float64
		want             string
	}{
		{"usual-filament", 1.75, 0.4, ""},
		{"usual-filament", 1.75, 0, ""},
		{"usual-filament", 2.85, 0.4, "its lines would be 1.19 mm wide: it seems made for 1.75 mm"},
		{"usual-filament", 2.85, 0, "it seems made for 1.75 mm"},
		{"thick-filament", 2.85, 0, ""},
		{"thick-filament", 1.75, 0.4, "its lines would be 0.17 mm wide: it seems made for 2.85 mm"},
		{"usual-filament", 1.75, 0.25, ""},
		{"volumes", 2.85, 0, "it is made for filament of 1.75 mm (M200), and 2.85 mm is loaded"},
	} {
		r, err := readCase(t, c.file, Options{Time: true})
		if err != nil {
			t.Fatal(err)
		}
		got := strings.Join(Doubts(&r, c.filament, c.nozzle), "; ")
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s with %v, nozzle %v: %q, want %q", c.file, c.filament, c.nozzle, got, c.want)
		}
	}
}

// TestCasesShort: counting changes alone says the same, and reads the rest only where changes are
// written otherwise than they commonly are.
func TestCasesShort(t *testing.T) {
	long := []string{
		"m6-changes",
		"m6-waits",
		"manual",
		"small-letters",
		"open-comment",
		"expression",
		"tool-question",
		"binary-tail",
	}
	for name, c := range cases {
		b, err := os.ReadFile("testdata/cases/" + name + ".gcode")
		if err != nil {
			t.Fatal(err)
		}
		got, err := ToolChanges(context.Background(), bytes.NewReader(b), int64(len(b)), Options{})
		if c.fault != "" {
			continue
		}
		if err != nil || got[0].Changes != c.changes || got[0].Manual != c.manual {
			t.Errorf("%s: %+v %v, want %d and %d", name, got, err, c.changes, c.manual)
		}
		if got[0].Short == slices.Contains(long, name) {
			t.Errorf("%s: found without the rest is %v", name, got[0].Short)
		}
	}
}

// TestCasesAllWays: each file says the same in every way of reading it.
func TestCasesAllWays(t *testing.T) {
	for name := range cases {
		b, err := os.ReadFile("testdata/cases/" + name + ".gcode")
		if err != nil {
			t.Fatal(err)
		}
		agree(t, b)
	}
}
