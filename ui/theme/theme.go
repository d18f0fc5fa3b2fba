// Package theme is how oilcan looks: a few colours, the gauge drawn as a steel rule, and text made
// safe for a terminal. The styles are the styling library's, compiled once into the codes that
// paint: none is rendered while a frame is drawn. Colour never stands alone; every state has its
// word and its shape, and with no colour at all nothing is lost.
package theme

import (
	"strings"
	"sync"

	"bench/oilcan/model"
)

// Profile is how many colours the terminal has.
type Profile int

// The profiles. Plain writes no escape sequence at all.
const (
	Plain Profile = iota
	ANSI16
	ANSI256
	TrueColour
)

// Options are what a person set and what the terminal can do; New makes a theme of them.
type Options struct {
	Dark     bool // the terminal's background is known to be dark
	Light    bool // it is known to be light; neither: tones for both
	NoColour bool // no colours; bold and reverse remain
	ASCII    bool // nothing but ASCII is drawn
	Profile  Profile
}

// Detect reads the profile, the background and the character set from the environment: TERM,
// COLORTERM, TERM_PROGRAM, COLORFGBG, NO_COLOR, CLICOLOR, CLICOLOR_FORCE and the locale. terminal
// tells whether output goes to one. Nothing is asked of the terminal: a background it does not name
// is not known.
func Detect(env func(string) string, terminal bool) Options {
	o := Options{Profile: profileOf(env)}
	o.Dark, o.Light = groundOf(env("COLORFGBG"))
	force := env("CLICOLOR_FORCE") != "" && env("CLICOLOR_FORCE") != "0"
	if !terminal && !force {
		o.Profile = Plain
	}
	if force && o.Profile == Plain {
		o.Profile = ANSI16
	}
	o.NoColour = env("NO_COLOR") != "" || env("CLICOLOR") == "0" && !force
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(env(name)); v != "" { // the first that is set decides
			o.ASCII = !strings.Contains(v, "utf-8") && !strings.Contains(v, "utf8")
			break
		}
	}
	return o
}

// groundOf reads COLORFGBG, "15;0" or "15;default;0": the last number is the background among the
// 16 colours, by common practice dark from 0 to 6 and at 8, light at 7 and from 9 on.
func groundOf(colours string) (dark, light bool) {
	i := strings.LastIndexByte(colours, ';')
	if i < 0 {
		return false, false
	}
	switch colours[i+1:] {
	case "0", "1", "2", "3", "4", "5", "6", "8":
		return true, false
	case "7", "9", "10", "11", "12", "13", "14", "15":
		return false, true
	}
	return false, false
}

func profileOf(env func(string) string) Profile {
	term, deep := env("TERM"), env("COLORTERM")
	multiplexed := strings.HasPrefix(term, "screen") && env("TERM_PROGRAM") != "tmux"
	switch {
	case term == "" || term == "dumb" || strings.HasPrefix(term, "vt1"):
		return Plain
	case (deep == "truecolor" || deep == "24bit") && !multiplexed:
		return TrueColour
	case strings.Contains(term, "kitty"), strings.Contains(term, "direct"):
		return TrueColour
	case strings.Contains(term, "256color"), deep != "":
		return ANSI256
	}
	return ANSI16
}

// Paint colours a text. Paints do not nest: the end of the inner one ends both.
type Paint struct{ on string }

// Text paints s; an empty text, and every text where the paint is none, comes back as it is.
func (p Paint) Text(s string) string {
	if p.on == "" || s == "" {
		return s
	}
	return p.on + s + reset
}

const reset = "\x1b[0m"

// TextPaints paint words by how much they matter.
type TextPaints struct {
	Strong Paint // what must be read first
	Dim    Paint // what may be read last; never under 4.5:1 against the background
	Accent Paint // what is chosen
	Chosen Paint // a chosen row, reversed
}

// StatePaints are for the conditions of gauges.
type StatePaints struct {
	Due  Paint // amber
	Past Paint // red
	Good Paint // a gate passed, a count that agrees: the plain foreground, bold
}

// SignalPaints are for the signal words of cautions.
type SignalPaints struct {
	Danger, Warning, Caution, Notice Paint
}

// Theme is the look, made once by New and handed to every screen. Its drawings are kept by value,
// so the same gauge is drawn once.
type Theme struct {
	Options
	Text   TextPaints
	State  StatePaints
	Signal SignalPaints

	glyph glyphs
	codes []string // of all paints, and the one that ends them
	mu    sync.Mutex
	kept  map[ruleKey]string
}

// New makes the theme for a terminal, once; nothing in it asks the terminal anything.
func New(o Options) *Theme {
	t := &Theme{Options: o, glyph: unicodeGlyphs, kept: map[ruleKey]string{}}
	if o.ASCII {
		t.glyph = asciiGlyphs
	}
	c := o.colours()
	t.Text = TextPaints{Strong: o.compile(bold), Dim: o.compile(c.dim), Accent: o.compile(c.accent),
		Chosen: o.compile(bare.Reverse(true))}
	t.State = StatePaints{Due: o.compile(c.due), Past: o.compile(c.past), Good: o.compile(bold)}
	t.Signal = SignalPaints{Danger: o.compile(danger), Warning: o.compile(warning),
		Caution: o.compile(caution), Notice: o.compile(notice)}
	t.codes = t.paintCodes()
	return t
}

// colours are the roles for the background.
func (o Options) colours() colours {
	switch {
	case o.Dark:
		return darkColours
	case o.Light:
		return lightColours
	}
	return anyColours
}

// OfState is the paint of a gauge's condition: none for unknown, fresh and wearing.
func (t *Theme) OfState(w model.GaugeWord) Paint {
	switch w {
	case model.WordDue:
		return t.State.Due
	case model.WordPast:
		return t.State.Past
	}
	return Paint{}
}

// Word is a condition as a painted word.
func (t *Theme) Word(w model.GaugeWord) string { return t.OfState(w).Text(string(w)) }

// SignalWord is a caution's signal word in its colours: white on red for DANGER, black on orange
// for WARNING, black on yellow for CAUTION, white on blue for NOTICE. The word itself is always
// written; it is made safe and left plain where it is none of the four.
func (t *Theme) SignalWord(word string) string {
	switch word {
	case "DANGER":
		return t.Signal.Danger.Text(word)
	case "WARNING":
		return t.Signal.Warning.Text(word)
	case "CAUTION":
		return t.Signal.Caution.Text(word)
	case "NOTICE":
		return t.Signal.Notice.Text(word)
	}
	return Safe(word)
}

// Plain maps the few signs our own texts use beyond ASCII to ASCII where the theme asks for it: – ·
// × ° ± µ … and the like; what has no counterpart becomes "?".
func (t *Theme) Plain(s string) string {
	if !t.ASCII || plainASCII(s) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < 0x80:
			b.WriteRune(r)
		case asciiFor[r] != "":
			b.WriteString(asciiFor[r])
		default:
			b.WriteString(strings.Repeat("?", min(2, max(1, Width(string(r))))))
		}
	}
	return b.String()
}

var asciiFor = map[rune]string{
	'–': "-", '—': "-", '·': "-", '×': "x", '°': "deg ", '±': "+-", 'µ': "u", 'Ω': "ohm",
	'…': "...",
	'→': "->", '←': "<-", '↑': "up", '↓': "down", '≤': "<=", '≥': ">=", '‘': "'", '’': "'",
	'“': "\"", '”': "\"",
	'²': "2", '³': "3",
	'✓': "x", '▶': ">", '●': "*", '\u00a0': " ",
}
