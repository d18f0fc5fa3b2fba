package theme

import (
	"strings"
	"sync"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// ink is one colour in every profile: RGB, palette index, and the number of the 16 colours. What is
// empty is no colour in that profile. The tones are chosen by hand; each text colour keeps at least
// 4.5:1 (WCAG 2.2, 1.4.3) against the background it is made for, and amber is told from red by a
// colour-blind eye: the tests compute it.
func ink(rgb, palette, basic string) lipgloss.CompleteColor {
	return lipgloss.CompleteColor{TrueColor: rgb, ANSI256: palette, ANSI: basic}
}

// bare and bold are what the roles are made from.
var (
	bare = lipgloss.NewStyle()
	bold = bare.Bold(true)
)

// colours is one set of roles, for a dark background, a light one, or for any.
type colours struct{ accent, dim, due, past lipgloss.Style }

// With 16 colours nobody knows the real tones: there is no dim there, and where the background may
// be light amber is written black on yellow, since yellow on white cannot be read. anyColours are
// for a terminal that does not say what it is painted on: 4.5:1 on black and 3:1 on white, which is
// all that one tone can hold on both.
var (
	darkColours = colours{
		accent: bold.Foreground(ink("#56b4e9", "74", "14")),
		dim:    bare.Foreground(ink("#9a9a9a", "246", "")),
		due:    bare.Foreground(ink("#ffb000", "214", "11")),
		past:   bold.Foreground(ink("#ff6b5e", "203", "9")),
	}
	lightColours = colours{
		accent: bold.Foreground(ink("#005faf", "25", "4")),
		dim:    bare.Foreground(ink("#606060", "241", "")),
		due:    bare.Foreground(ink("#8a6200", "94", "0")).Background(ink("", "", "3")),
		past:   bold.Foreground(ink("#b0003a", "125", "1")),
	}
	anyColours = colours{
		accent: bold.Foreground(ink("#3d8ed0", "32", "12")),
		dim:    bare.Foreground(ink("#8a8a8a", "245", "")),
		due:    bare.Foreground(ink("#b58900", "136", "0")).Background(ink("", "", "3")),
		past:   bold.Foreground(ink("#dc3c5a", "197", "9")),
	}
)

// The signal words' panels after ANSI Z535.4, from memory: DANGER white on safety red, WARNING
// black on safety orange, CAUTION black on safety yellow, NOTICE white on safety blue. Sixteen
// colours have no orange: there WARNING is black on the darker yellow.
var (
	danger  = bold.Foreground(ink("#ffffff", "231", "15")).Background(ink("#c8102e", "160", "1"))
	warning = bold.Foreground(ink("#000000", "16", "0")).Background(ink("#ff8200", "208", "3"))
	caution = bold.Foreground(ink("#000000", "16", "0")).Background(ink("#ffd100", "220", "11"))
	notice  = bold.Foreground(ink("#ffffff", "231", "15")).Background(ink("#0057b8", "25", "4"))
)

// profiles are the colour profiles as the styling library knows them.
var profiles = map[Profile]termenv.Profile{ANSI16: termenv.ANSI, ANSI256: termenv.ANSI256,
	TrueColour: termenv.TrueColor}

// compiling guards the styling library's profile, which is one for the whole process.
var compiling sync.Mutex

// compile turns a style into the escape codes that paint it: rendering each text would cost fifty
// times as much in every frame. Without colours, bold and reverse remain; a plain terminal gets no
// code at all.
func (o Options) compile(s lipgloss.Style) Paint {
	if o.Profile == Plain {
		return Paint{}
	}
	if o.NoColour {
		s = s.UnsetForeground().UnsetBackground()
	}
	compiling.Lock()
	defer compiling.Unlock()
	lipgloss.SetColorProfile(profiles[o.Profile])
	on, _, _ := strings.Cut(s.Render("|"), "|")
	return Paint{on: on}
}
