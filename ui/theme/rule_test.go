package theme

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/exp/golden"
	"pgregory.net/rapid"

	"bench/oilcan/model"
)

var now = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

func in(days int) *time.Time {
	t := now.AddDate(0, 0, days)
	return &t
}

// gauge is a measured gauge with its word by the rules: fresh < 0.8 low <= wearing < low <= due <=
// high < past.
func gauge(meter model.Meter, used, low, high float64) model.Gauge {
	g := model.Gauge{Meter: meter, Used: used, Low: low, High: high, Fraction: used / low,
		Measured: true, Known: true, Word: model.WordFresh}
	switch {
	case used > high:
		g.Word = model.WordPast
	case used >= low:
		g.Word = model.WordDue
	case used/low >= 0.8:
		g.Word = model.WordWearing
	}
	return g
}

func samples() map[string]model.Gauge {
	blade := gauge(model.Cuts, 2410, 3000, 5000)
	blade.Title, blade.Last, blade.DueLow, blade.Basis, blade.Why = "Check the cutter blade", now.AddDate(0, 0, -83), in(17), "common practice", model.Reason{Kind: model.WithoutStarts}
	dry := gauge(model.Days, 8, 7, 10)
	dry.Title, dry.Last, dry.DueHigh, dry.Basis = "Look at the desiccant", now.AddDate(0, 0,
		-8), in(2), "common practice"
	filter := gauge(model.Days, 102, 72, 90)
	filter.Title, filter.Last, filter.DueHigh, filter.Basis = "Change the carbon filter", now.AddDate(0, 0, -102), in(-12), "common practice"
	screws := gauge(model.Hours, 120, 500, 625)
	screws.Title, screws.Last, screws.DueLow, screws.Basis = "Oil the lead screws", now.AddDate(0,
		0, -20), in(400), "from memory"
	early := gauge(model.Days, 6, 30, 37.5)
	early.Title, early.Word, early.Why, early.Last = "Run the self-check", model.WordDue, model.Reason{Kind: model.AfterCare, Of: "belts-reset"}, now.AddDate(0, 0, -6)
	sure := blade
	sure.Why, sure.Forecast = model.Reason{},
		&model.Forecast{Level: 3000, Early: *in(10), Mid: *in(17), Late: *in(26), Own: true,
			Pace: "34 cuts a day by 83 days of readings", Next: *in(30), Due: 0.95, Fails: 0.62}
	guess := blade
	guess.Why, guess.DueLow, guess.Forecast = model.Reason{}, nil,
		&model.Forecast{Level: 3000, Early: *in(10), Mid: *in(28), Late: *in(70),
			Pace: "about 21 cuts a day, the usual pace at home, from memory: no history yet", Next: *in(
				30)}
	stale := sure
	stale.Word, stale.Estimated, stale.DueLow = model.WordDue, true, in(-5)
	return map[string]model.Gauge{"blade": blade, "sure": sure, "guess": guess, "stale": stale,
		"dry": dry, "filter": filter, "screws": screws, "early": early,
		"unknown": {Title: "Wipe the rods", Word: model.WordUnknown, Meter: model.Hours, Low: 200,
			High: 250, Basis: "from memory", Why: model.Reason{Kind: model.LastUnknown}},
		"asked": {Title: "Swap the wiper", Word: model.WordDue,
			Why: model.Reason{Kind: model.ByFinding}},
	}
}

func TestRule(t *testing.T) {
	s := samples()
	cases := []struct {
		name  string
		g     model.Gauge
		width int
		want  string
	}{
		{"wearing", s["blade"], 24, "┃━━━━━━━━━━◆──▒▒▒▒▒▒▒▒┃ "},
		{"due by estimate stands where it is read", s["stale"], 24, "┃━━━━━━━━━━◆──▒▒▒▒▒▒▒▒┃ "},
		{"due, in the band, which is hatched on both sides alike", s["dry"], 24,
			"┃━━━━━━━━━━━━━━━▒▒◆▒▒▒┃ "},
		{"past, beyond the end", s["filter"], 24, "┃━━━━━━━━━━━━━━━━━▒▒▒▒┃◆"},
		{"fresh", s["screws"], 24, "┃━━━━◆────────────▒▒▒▒┃ "},
		{"due by a trigger stands where it is", s["early"], 24, "┃━━━◆─────────────▒▒▒▒┃ "},
		{"unknown", s["unknown"], 24, "┃────────?────────▒▒▒▒┃ "},
		{"due by a finding, no scale", s["asked"], 24, "┃          ◆          ┃ "},
		{"nothing used", gauge(model.Days, 0, 7, 10), 12, "┃◆─────▒▒▒┃ "},
		{"low and high the same, reached", gauge(model.Days, 7, 7, 7), 12, "┃━━━━━━━━◆┃ "},
		{"the low end exactly", gauge(model.Days, 7, 7, 10), 12, "┃━━━━━━◆▒▒┃ "},
		{"narrowest rule", s["blade"], 6, "┃━◆▒┃ "},
		{"narrowest rule, past", s["filter"], 6, "┃━━▒┃◆"},
		{"too narrow for a rule", s["blade"], 5, "━━━━─"},
		{"one cell", s["filter"], 1, "━"},
		{"no room", s["blade"], 0, ""},
		{"negative room", s["blade"], -3, ""},
	}
	th, ascii := New(Options{}), New(Options{ASCII: true})
	toASCII := strings.NewReplacer("┃", "|", "━", "=", "◆", "O", "─", "-", "▒", ":")
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for range 2 { // the second time from the kept drawings
				if got := th.Rule(c.width, c.g); got != c.want {
					t.Errorf("got  %q\nwant %q", got, c.want)
				}
			}
			if got, want := ascii.Rule(c.width, c.g), toASCII.Replace(c.want); got != want {
				t.Errorf("ascii: got %q, want %q", got, want)
			}
		})
	}
}

// A rule is drawn by four signs and its ends, small and large: nobody has to learn more.
func TestSignsOfARule(t *testing.T) {
	th := New(Options{})
	for name, g := range samples() {
		for width := MinRule; width < 120; width++ {
			small, large := th.Rule(width, g), th.Large(width, g, now)[1]
			if left := strings.Trim(small, "┃━◆─▒? "); left != "" {
				t.Fatalf("%s at %d: %q in %q", name, width, left, small)
			}
			if g.Low > 0 && large != small {
				t.Fatalf("%s at %d: large %q, small %q", name, width, large, small)
			}
		}
	}
}

func TestRuleColours(t *testing.T) {
	th := New(Options{Dark: true, Profile: ANSI256})
	s := samples()
	for name, want := range map[string]string{
		"blade":  "┃━━━━◆\x1b[38;5;246m▒▒▒\x1b[0m┃ ",
		"dry":    "\x1b[38;5;214m┃━━━━━━◆\x1b[0m\x1b[38;5;246m▒\x1b[0m┃ ",
		"filter": "\x1b[1;38;5;203m┃━━━━━━▒▒┃◆\x1b[0m",
	} {
		if got := th.Rule(11, s[name]); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
}

// At every width a rule is exactly as wide as asked, and the rider stands on its own side of the
// band.
func TestRuleIsTrue(t *testing.T) {
	th := New(Options{})
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(0.5, 5000).Draw(t, "low")
		g := gauge(model.Hours, rapid.Float64Range(0, 3*low).Draw(t, "used"), low,
			low*rapid.Float64Range(1, 2).Draw(t, "high"))
		width := rapid.IntRange(MinRule, 200).Draw(t, "width")
		r := []rune(th.Rule(width, g))
		if len(r) != width || Width(string(r)) != width {
			t.Fatalf("%d cells, want %d: %s", len(r), width, string(r))
		}
		rider, first, last := -1, -1, -1
		for i, c := range r {
			switch c {
			case '◆':
				rider = i
			case '▒':
				if first < 0 {
					first = i
				}
				last = i
			}
		}
		end := width - 2
		switch g.Word {
		case model.WordPast:
			if rider != width-1 || last > end {
				t.Fatalf("past: rider at %d in %s", rider, string(r))
			}
		case model.WordDue:
			if rider <= 0 || rider >= end || first >= 0 && rider < first-1 {
				t.Fatalf("due: rider at %d in %s", rider, string(r))
			}
		default:
			if rider < 1 || first < 0 || rider >= first {
				t.Fatalf("%s: rider at %d, band from %d in %s", g.Word, rider, first, string(r))
			}
		}
	})
}

// Progress is as wide as asked for and ends full, in every profile; without colour it is the bar
// that tells by its signs.
func TestProgress(t *testing.T) {
	for _, o := range []Options{{}, {Profile: TrueColour, Dark: true},
		{Profile: ANSI16, Dark: true}, {Profile: TrueColour, NoColour: true}, {Profile: ANSI256,
			ASCII: true}} {
		th := New(o)
		for _, width := range []int{0, 3, 5, 40} {
			for _, share := range []float64{-1, 0, 0.5, 0.995, 1, 2, math.NaN()} {
				got := th.Progress(width, share)
				if Width(got) != width || th.Visible(got) != got {
					t.Errorf("%+v: %d cells, %g: %q", o, width, share, got)
				}
			}
		}
		if o.NoColour && th.Progress(8, 0.5) != th.Bar(8, 0.5) {
			t.Errorf("without colour: %q", th.Progress(8, 0.5))
		}
	}
	if th := New(Options{Profile: TrueColour, Dark: true}); th.Progress(8,
		0.5) != th.Text.Accent.Text("████")+th.Text.Dim.Text("░░░░") {
		t.Errorf("half of it: %q", th.Progress(8, 0.5))
	}
}

func TestBar(t *testing.T) {
	th := New(Options{})
	for share, want := range map[float64]string{-1: "────", 0: "────", 0.13: "────", 0.5: "━━──",
		0.63: "━━──", 1: "━━━━", 7: "━━━━"} {
		if got := th.Bar(4, share); got != want {
			t.Errorf("bar %v: %q, want %q", share, got, want)
		}
	}
}

// Golden frames of the large form, in each character set.
func TestLarge(t *testing.T) {
	var b strings.Builder
	for _, o := range []Options{{}, {ASCII: true}, {Dark: true, Profile: ANSI256}} {
		th := New(o)
		for _, name := range []string{"blade", "sure", "guess", "stale", "dry", "filter", "screws",
			"early", "unknown", "asked"} {
			g := samples()[name]
			for _, width := range []int{76, 38} {
				fmt.Fprintf(&b, "%s, %d cells\n", name, width)
				for _, l := range th.Large(width, g, now) {
					fmt.Fprintf(&b, "%s\n", l)
				}
			}
		}
	}
	golden.RequireEqual(t, []byte(b.String()))
}

func TestLargeNeverWider(t *testing.T) {
	for _, o := range []Options{{}, {ASCII: true}, {Dark: true, Profile: TrueColour}} {
		th := New(o)
		for name, g := range samples() {
			g.Title = "日本語のタイトル " + g.Title + " \x1b[31mred\n"
			for width := -1; width <= 130; width++ {
				for i, l := range th.Large(width, g, now) {
					if Width(l) > width || strings.ContainsAny(l, "\n\t") {
						t.Fatalf("%s at %d: line %d is %d cells: %q", name, width, i, Width(l), l)
					}
				}
			}
		}
	}
}

func BenchmarkRuleKept(b *testing.B) {
	th, g := New(Options{Dark: true, Profile: ANSI256}), samples()["blade"]
	b.ReportAllocs()
	for b.Loop() {
		th.Rule(24, g)
	}
}

func BenchmarkRuleDrawn(b *testing.B) {
	th, g := New(Options{Dark: true, Profile: ANSI256}), samples()["blade"]
	b.ReportAllocs()
	for b.Loop() {
		clear(th.kept)
		th.Rule(24, g)
	}
}

// A bench of 24 machines with 40 gauges each, as the first screen shows it.
func BenchmarkBench24(b *testing.B) {
	th := New(Options{Dark: true, Profile: ANSI256})
	var gs []model.Gauge
	for i := range 40 {
		gs = append(gs, gauge(model.Days, float64(60-i), 30, 37.5))
	}
	b.ReportAllocs()
	for b.Loop() {
		for i := range 24 {
			_ = th.Pad("Heron", 10) + th.Rule(24, gs[i]) + th.Word(gs[i].Word) + gs[i].UsedText()
		}
	}
}

// At the very end of the band nothing is said of a day on which it is past: any more use is.
func TestLargeAtItsHighEnd(t *testing.T) {
	g := samples()["blade"]
	g.Used, g.Word, g.DueHigh, g.Forecast = g.High, model.WordDue, &now, nil
	text := strings.Join(New(Options{}).Large(100, g, now), "\n")
	if !strings.Contains(text, "at its high end, ") || strings.Contains(text, "past") {
		t.Error(text)
	}
}
