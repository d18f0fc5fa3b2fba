package theme

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"

	"bench/oilcan/model"
)

// linear is the linear share of one sRGB channel (IEC 61966-2-1; WCAG 2.2 has the same).
func linear(v int) float64 {
	c := float64(v) / 255
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

// luminance is WCAG 2.2's relative luminance of an sRGB colour.
func luminance(rgb int) float64 {
	return 0.2126*linear(rgb>>16) + 0.7152*linear(rgb>>8&0xff) + 0.0722*linear(rgb&0xff)
}

// contrast is WCAG 2.2's contrast ratio.
func contrast(a, b int) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// indexed is the colour of a palette index from 16 up, as xterm defines it: a cube of six levels
// and 24 greys.
func indexed(i int) int {
	if i >= 232 {
		v := 8 + 10*(i-232)
		return v<<16 | v<<8 | v
	}
	level := [6]int{0, 95, 135, 175, 215, 255}
	i -= 16
	return level[i/36]<<16 | level[i/6%6]<<8 | level[i%6]
}

func TestContrastOracle(t *testing.T) {
	// published: WCAG 2.2, black on white is 21:1, and #767676 on white is the well-known limit
	// 4.54:1
	if got := contrast(0, 0xffffff); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white %v", got)
	}
	if got := contrast(0x767676, 0xffffff); math.Abs(got-4.54) > 0.005 {
		t.Errorf("767676 on white %v", got)
	}
}

// Every text colour keeps 4.5:1 (WCAG 2.2, 1.4.3) on the backgrounds it is made for; those for any
// background on black, and 3:1 on white.
func TestContrast(t *testing.T) {
	dark, light := map[int]float64{0x000000: 4.5, 0x1e1e1e: 4.5}, map[int]float64{0xffffff: 4.5,
		0xfafafa: 4.5}
	for _, set := range []struct {
		name string
		colours
		grounds map[int]float64
	}{{"dark", darkColours, dark}, {"light", lightColours, light},
		{"any", anyColours, map[int]float64{0x000000: 4.5, 0xffffff: 3}}} {
		for role, st := range map[string]lipgloss.Style{"accent": set.accent, "dim": set.dim,
			"due": set.due, "past": set.past} {
			rgb, palette := tones(t, st.GetForeground())
			for bg, least := range set.grounds {
				for kind, fg := range map[string]int{"rgb": rgb, "palette": indexed(palette)} {
					if r := contrast(fg, bg); r < least {
						t.Errorf("%s %s as %s on %06x: %.2f:1", set.name, role, kind, bg, r)
					}
				}
			}
		}
	}
	for word, st := range map[string]lipgloss.Style{"DANGER": danger, "WARNING": warning,
		"CAUTION": caution, "NOTICE": notice} {
		fg, fg256 := tones(t, st.GetForeground())
		bg, bg256 := tones(t, st.GetBackground())
		if r := contrast(fg, bg); r < 4.5 {
			t.Errorf("%s: %.2f:1", word, r)
		}
		if r := contrast(indexed(fg256), indexed(bg256)); r < 4.5 {
			t.Errorf("%s in the palette: %.2f:1", word, r)
		}
	}
}

// tones gives a colour as 0xRRGGBB and as its palette index.
func tones(t *testing.T, c lipgloss.TerminalColor) (rgb, palette int) {
	t.Helper()
	full, ok := c.(lipgloss.CompleteColor)
	if !ok {
		t.Fatalf("%v is not one colour in every profile", c)
	}
	if _, err := fmt.Sscanf(full.TrueColor, "#%x", &rgb); err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Sscan(full.ANSI256, &palette); err != nil {
		t.Fatal(err)
	}
	return rgb, palette
}

// Colours only repeat: with none, and with no sequences at all, every word is still there.
func TestWordsWithoutColour(t *testing.T) {
	for name, o := range map[string]Options{"dumb": {}, "dumb, light": {ASCII: true},
		"no colour": {NoColour: true, Profile: TrueColour},
		"16": {Profile: ANSI16,
			Dark: true}, "256": {Profile: ANSI256}, "true": {Profile: TrueColour, Dark: true}} {
		th := New(o)
		for _, w := range []string{"DANGER", "WARNING", "CAUTION", "NOTICE", "past", "due",
			"wearing", "fresh", "unknown"} {
			s := th.SignalWord(w)
			if w == strings.ToLower(w) {
				s = th.Word(model.GaugeWord(w))
			}
			if !strings.Contains(s, w) || Width(s) != len(w) {
				t.Errorf("%s: %q for %s", name, s, w)
			}
			if o.Profile == Plain && s != w {
				t.Errorf("%s: a sequence in %q", name, s)
			}
			if o.NoColour && (strings.Contains(s, ";") || strings.Contains(s, "[3") ||
				strings.Contains(s, "[4")) {
				t.Errorf("%s: a colour in %q", name, s)
			}
		}
	}
	th := New(Options{NoColour: true, Profile: ANSI256})
	if got := th.Text.Chosen.Text("x"); got != "\x1b[7mx\x1b[0m" {
		t.Errorf("reverse is kept without colours, got %q", got)
	}
	if got := th.SignalWord("DANGER\x1b[5m"); got != "DANGER␛[5m" {
		t.Errorf("a word of an own file is made safe, got %q", got)
	}
}

func TestSignalColours(t *testing.T) {
	th := New(Options{Dark: true, Profile: ANSI16})
	for word, want := range map[string]string{
		"DANGER": "\x1b[1;97;41mDANGER\x1b[0m", "WARNING": "\x1b[1;30;43mWARNING\x1b[0m",
		"CAUTION": "\x1b[1;30;103mCAUTION\x1b[0m", "NOTICE": "\x1b[1;97;44mNOTICE\x1b[0m",
	} {
		if got := th.SignalWord(word); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	seen := map[string]bool{}
	for _, p := range []Profile{ANSI16, ANSI256, TrueColour} {
		clear(seen)
		th := New(Options{Dark: true, Profile: p})
		for _, s := range []Paint{th.Signal.Danger, th.Signal.Warning, th.Signal.Caution,
			th.Signal.Notice} {
			if seen[s.on] {
				t.Errorf("profile %d: two signal words look the same: %q", p, s.on)
			}
			seen[s.on] = true
		}
	}
}

// The terminals and what they can are those termenv v0.16.0's EnvColorProfile was measured to give.
func TestDetect(t *testing.T) {
	cases := []struct {
		env      string
		terminal bool
		profile  Profile
		noColour bool
		ascii    bool
	}{
		{"TERM=xterm-256color", true, ANSI256, false, false},
		{"TERM=xterm-256color COLORTERM=truecolor", true, TrueColour, false, false},
		{"TERM=tmux-256color", true, ANSI256, false, false},
		{"TERM=screen-256color COLORTERM=truecolor", true, ANSI256, false, false},
		{"TERM=screen-256color COLORTERM=truecolor TERM_PROGRAM=tmux", true, TrueColour, false,
			false},
		{"TERM=xterm", true, ANSI16, false, false},
		{"TERM=linux", true, ANSI16, false, false},
		{"TERM=xterm-kitty", true, TrueColour, false, false},
		{"TERM=dumb", true, Plain, false, false},
		{"TERM=vt100", true, Plain, false, false},
		{"", true, Plain, false, false},
		{"TERM=xterm NO_COLOR=1", true, ANSI16, true, false},
		{"TERM=xterm CLICOLOR=0", true, ANSI16, true, false},
		{"TERM=dumb CLICOLOR_FORCE=1", true, ANSI16, false, false},
		{"TERM=xterm CLICOLOR_FORCE=1", false, ANSI16, false, false},
		{"TERM=xterm CLICOLOR_FORCE=1 NO_COLOR=1", true, ANSI16, true, false},
		{"TERM=xterm-256color", false, Plain, false, false},
		{"TERM=xterm LANG=C", true, ANSI16, false, true},
		{"TERM=xterm LANG=de_DE.UTF-8", true, ANSI16, false, false},
		{"TERM=xterm LC_ALL=C.utf8 LANG=C", true, ANSI16, false, false},
		{"TERM=xterm LC_CTYPE=POSIX LANG=en_GB.UTF-8", true, ANSI16, false, true},
	}
	for _, c := range cases {
		t.Run(fmt.Sprintf("%s %v", c.env, c.terminal), func(t *testing.T) {
			env := map[string]string{}
			for _, kv := range strings.Fields(c.env) {
				k, v, _ := strings.Cut(kv, "=")
				env[k] = v
			}
			got := Detect(func(k string) string { return env[k] }, c.terminal)
			if want := (Options{Profile: c.profile, NoColour: c.noColour,
				ASCII: c.ascii}); got != want {
				t.Errorf("got %+v, want %+v", got, want)
			}
		})
	}
}

// COLORFGBG as terminals write it (rxvt's manual page has "foreground;background", from memory).
func TestGround(t *testing.T) {
	for v, want := range map[string][2]bool{"": {}, "15;0": {true, false}, "0;15": {false, true},
		"15;default;0": {true, false}, "0;default": {},
		"7;8": {true, false}, "0;7": {false, true}, "12": {}, "0;99": {}, "0;-1": {}} {
		if dark, light := groundOf(v); [2]bool{dark, light} != want {
			t.Errorf("%q: dark %v, light %v", v, dark, light)
		}
	}
}

func TestPlainText(t *testing.T) {
	th := New(Options{ASCII: true})
	if got := th.Plain(
		"8 of 7–10 days · 14.4 ± 0.7 Ω, 日 é"); got != "8 of 7-10 days - 14.4 +- 0.7 ohm, ?? ?" {
		t.Errorf("%q", got)
	}
	if s := "7–10"; New(Options{}).Plain(s) != s {
		t.Error("changed where nothing was asked")
	}
}
