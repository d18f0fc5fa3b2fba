package theme

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

var safeCases = []struct{ name, in, want string }{
	{"plain", "Heron 2", "Heron 2"},
	{"empty", "", ""},
	{"colour sequence", "a\x1b[31mred", "a␛[31mred"},
	{"title sequence", "\x1b]0;owned\x07", "␛]0;owned␇"},
	{"C1 introducer as a rune", "a\u009b31m", "a�31m"},
	{"C1 introducer as a byte", "a\x9b31m", "a�31m"},
	{"line breaks and tabs", "a\r\nb\tc\u0085d\u2028e", "a  b c�d e"},
	{"delete", "a\x7f", "a␡"},
	{"nul", "\x00", "␀"},
	{"direction override", "abc\u202edef\u2066", "abcdef"},
	{"zero width", "a\u200bb\u200dc\ufeff\u00ad", "abc"},
	{"variation selector", "\u26a0\ufe0f", "⚠"},
	{"flag", "\U0001f1e9\U0001f1ea", "DE"},
	{"skin tone", "\U0001f44d\U0001f3fd", "\U0001f44d"},
	{"keycap", "1\u20e3", "1"},
	{"accents stay", "e\u0301tude Müller", "e\u0301tude Müller"},
	{"marks piled up", "a" + strings.Repeat("\u0301", 40) + "b", "a\u0301\u0301\u0301b"},
	{"a mark alone", "\u0301a", "a"},
	{"wide", "日本", "日本"},
	{"half a rune", "a\xe6\x97", "a��"},
	{"too long", strings.Repeat("x", 900), strings.Repeat("x", 499) + "…"},
	{"too long and wide", strings.Repeat("日", 900), strings.Repeat("日", 499) + "…"},
	{"just as long as allowed", strings.Repeat("日", 500), strings.Repeat("日", 500)},
}

func TestSafe(t *testing.T) {
	for _, c := range safeCases {
		t.Run(c.name, func(t *testing.T) {
			if got := Safe(c.in); got != c.want {
				t.Errorf("Safe(%q) = %q, want %q", c.in, got, c.want)
			}
		})
	}
}

func FuzzSafe(f *testing.F) {
	if len(safeCases) == 0 {
		f.Fatal("no seeds")
	}
	for _, c := range safeCases {
		f.Add(c.in)
	}
	th := New(Options{})
	f.Fuzz(func(t *testing.T, s string) {
		got := Safe(s)
		if !utf8.ValidString(got) || utf8.RuneCountInString(got) > SafeRunes {
			t.Fatalf("%d runes, valid %v", utf8.RuneCountInString(got), utf8.ValidString(got))
		}
		for _, r := range got {
			if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == 0x2028 || r == 0x2029 {
				t.Fatalf("%U in %q", r, got)
			}
		}
		if again := Safe(got); again != got {
			t.Fatalf("twice is not once: %q then %q", got, again)
		}
		if padded := th.Pad(got, 20); Width(padded) != 20 {
			t.Fatalf("padded to %d cells: %q", Width(padded), padded)
		}
	})
}

func TestPadTruncBetween(t *testing.T) {
	th, ascii := New(Options{}), New(Options{ASCII: true})
	cases := []struct{ name, got, want string }{
		{"pad", th.Pad("ab", 4), "ab  "},
		{"pad cuts", th.Pad("abcdef", 4), "abc…"},
		{"ascii cuts with a tilde", ascii.Pad("abcdef", 4), "abc~"},
		{"a wide rune that does not fit whole", th.Pad("日本語", 4), "日… "},
		{"wide fits", th.Pad("日本", 4), "日本"},
		{"pad left", th.PadLeft("ab", 4), "  ab"},
		{"nothing", th.Pad("abc", 0), ""},
		{"negative", th.Pad("abc", -2), ""},
		{"one cell", th.Trunc("abc", 1), "…"},
		{"one cell, wide", th.Pad("日", 1), "…"},
		{"coloured", th.Pad("\x1b[31mabc\x1b[0m", 5), "\x1b[31mabc\x1b[0m  "},
		{"between", th.Between("left", "right", 12), "left   right"},
		{"between cuts the left", th.Between("a long left", "right", 10), "a l… right"},
		{"between, no room for the left", th.Between("left", "right", 5), "right"},
		{"between, no room at all", th.Between("left", "right", 3), "ri…"},
		{"between, nothing right", th.Between("left", "", 6), "left  "},
	}
	for _, c := range cases {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
}

func TestWrap(t *testing.T) {
	if got := strings.Join(Wrap("Loosen each clamp screw about one turn; leave it in its hole.",
		30), "|"); got != "Loosen each clamp screw about|one turn; leave it in its|hole." {
		t.Errorf("%q", got)
	}
	for _, l := range Wrap("日本語のながいながいことば unbreakablewordthatislong", 8) {
		if Width(l) > 8 {
			t.Errorf("%q is wider than 8", l)
		}
	}
	if got := strings.Join(Wrap("at most 12 345 678 of 13 500 h, 3 1000 and", 13), "|"); got !=
		"at most|12 345 678 of|13 500 h, 3|1000 and" {
		t.Errorf("%q", got)
	}
	if got := Wrap("x", 0); got != nil {
		t.Errorf("%q in no room", got)
	}
}

func BenchmarkSafe(b *testing.B) {
	for name, s := range map[string]string{"clean": "Check the cutter blade",
		"dirty": "a\x1b[31mred\u202e日本"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Safe(s)
			}
		})
	}
}
