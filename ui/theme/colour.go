package theme

import "strconv"

// colour is one role in every profile. RGB and palette index are chosen by hand; each text colour keeps
// at least 4.5:1 (WCAG 2.2, 1.4.3) against the background it is made for, which the tests compute.
type colour struct {
	attr  string // SGR attributes kept without colours: 1 bold, 7 reverse
	basic string // SGR of the 16-colour profile
	fg    int    // 0xRRGGBB, -1 none
	bg    int
	fg256 int // palette index, 0 none
	bg256 int
}

func (c colour) palette() string {
	s := ""
	if c.fg256 > 0 {
		s = "38;5;" + strconv.Itoa(c.fg256)
	}
	if c.bg256 > 0 {
		s = join(s, "48;5;"+strconv.Itoa(c.bg256))
	}
	return s
}

func (c colour) rgb() string {
	s := ""
	if c.fg256 > 0 {
		s = "38;2;" + triple(c.fg)
	}
	if c.bg256 > 0 {
		s = join(s, "48;2;"+triple(c.bg))
	}
	return s
}

func triple(v int) string {
	return strconv.Itoa(v>>16) + ";" + strconv.Itoa(v>>8&0xff) + ";" + strconv.Itoa(v&0xff)
}

// colours is one set, for a dark or a light background.
type colours struct{ accent, dim, due, past colour }

// With 16 colours nobody knows the real tones: there is no dim there, and on light backgrounds amber is
// written black on yellow, since yellow on white cannot be read.
var darkColours = colours{
	accent: colour{attr: "1", basic: "96", fg: 0x56b4e9, fg256: 74},
	dim:    colour{fg: 0x9a9a9a, fg256: 246},
	due:    colour{basic: "93", fg: 0xffb000, fg256: 214},
	past:   colour{attr: "1", basic: "91", fg: 0xff6b5e, fg256: 203},
}

var lightColours = colours{
	accent: colour{attr: "1", basic: "34", fg: 0x005faf, fg256: 25},
	dim:    colour{fg: 0x606060, fg256: 241},
	due:    colour{basic: "30;43", fg: 0x8a5a00, fg256: 94},
	past:   colour{attr: "1", basic: "31", fg: 0xaf0000, fg256: 124},
}

// The signal words' panels after ANSI Z535.4, from memory: DANGER white on safety red, WARNING black on
// safety orange, CAUTION black on safety yellow, NOTICE white on safety blue. Sixteen colours have no
// orange: there WARNING is black on the darker yellow.
var (
	danger  = colour{attr: "1", basic: "97;41", fg: 0xffffff, bg: 0xc8102e, fg256: 231, bg256: 160}
	warning = colour{attr: "1", basic: "30;43", fg: 0x000000, bg: 0xff8200, fg256: 16, bg256: 208}
	caution = colour{attr: "1", basic: "30;103", fg: 0x000000, bg: 0xffd100, fg256: 16, bg256: 220}
	notice  = colour{attr: "1", basic: "97;44", fg: 0xffffff, bg: 0x0057b8, fg256: 231, bg256: 25}
)
