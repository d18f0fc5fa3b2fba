package theme

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// SafeRunes is the most runes Safe lets through; a longer text ends in an ellipsis.
const SafeRunes = 500

// maxMarks is how many combining marks may stand on one letter.
const maxMarks = 3

// Safe makes one row of text out of anything stored or imported: no control character reaches the
// terminal, no line break, no mark that changes direction or has no width of its own, no half of a
// broken encoding; at most SafeRunes runes. Safe of a safe text is itself.
func Safe(s string) string { return safe(s, SafeRunes) }

// safe is Safe with a limit of its own, in runes.
func safe(s string, limit int) string {
	if len(s) <= limit && plainASCII(s) {
		return s
	}
	var b strings.Builder
	b.Grow(min(len(s), 4*limit))
	n, marks := 0, maxMarks // a mark with nothing before it has nothing to stand on
	for i, size := 0, 0; i < len(s); i += size {
		var r rune
		r, size = utf8.DecodeRuneInString(s[i:])
		r = safeRune(r, size)
		if r < 0 {
			continue
		}
		if unicode.Is(unicode.Mn, r) {
			if marks++; marks > maxMarks {
				continue
			}
		} else {
			marks = 0
		}
		if n++; n > limit {
			return cutRunes(b.String(), limit-1) + "…"
		}
		b.WriteRune(r)
	}
	return b.String()
}

// safeRune is what is drawn for a rune decoded from size bytes; -1 for nothing.
func safeRune(r rune, size int) rune {
	switch {
	case r == utf8.RuneError && size <= 1, r >= 0x80 && r < 0xa0:
		return utf8.RuneError // a stray byte, a C1 control
	case r == '\t', r == '\n', r == '\r', r == 0x2028, r == 0x2029, r == 0x85:
		return ' '
	case r < 0x20:
		return 0x2400 + r // its picture
	case r == 0x7f:
		return 0x2421
	case r >= 0x1f1e6 && r <= 0x1f1ff:
		return 'A' + (r - 0x1f1e6) // flags: terminals disagree on their width
	case r >= 0x1f3fb && r <= 0x1f3ff: // skin tones, for the same reason
		return -1
	case r >= 0xfe00 && r <= 0xfe0f, r >= 0xe0100 && r <= 0xe01ef: // variation selectors
		return -1
	case unicode.Is(unicode.Cf, r), unicode.Is(unicode.Me, r): // bidi, zero width, enclosing marks
		return -1
	}
	return r
}

// plainASCII tells whether every byte is a printable ASCII character.
func plainASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < 0x20 || s[i] > 0x7e {
			return false
		}
	}
	return true
}

// cutRunes keeps the first n runes.
func cutRunes(s string, n int) string {
	for i := range s {
		if n == 0 {
			return s[:i]
		}
		n--
	}
	return s
}

// Width is the number of cells a text takes; colours take none.
func Width(s string) int {
	if plainASCII(s) {
		return len(s)
	}
	return ansi.StringWidth(s)
}

// Trunc cuts a text to at most width cells; where something is cut the last cell is "…" ("~" where
// only ASCII may be drawn). Colours are kept and closed.
func (t *Theme) Trunc(s string, width int) string {
	if width <= 0 {
		return ""
	}
	if Width(s) <= width {
		return s
	}
	return ansi.Truncate(s, width, t.glyph.more)
}

// Pad makes a text exactly width cells wide: cut, or filled with spaces on the right.
func (t *Theme) Pad(s string, width int) string {
	s = t.Trunc(s, width)
	return s + spaces(width-Width(s))
}

// PadLeft makes a text exactly width cells wide with the spaces on the left.
func (t *Theme) PadLeft(s string, width int) string {
	s = t.Trunc(s, width)
	return spaces(width-Width(s)) + s
}

// Between puts one text at the left end and one at the right end of width cells; the left one is
// cut where both do not fit.
func (t *Theme) Between(left, right string, width int) string {
	right = t.Trunc(right, width)
	room := width - Width(right)
	if right != "" {
		room-- // at least one space between
	}
	left = t.Trunc(left, max(room, 0))
	return left + spaces(width-Width(left)-Width(right)) + right
}

// Wrap breaks an unpainted text into lines of at most width cells at spaces, but not at those within
// a number (1 234); a word longer than a line is cut where it must be. Runs of spaces become one.
// Nil where there is no room or no word.
func Wrap(s string, width int) []string {
	if width <= 0 {
		return nil
	}
	var lines []string
	line, used := "", 0
	for _, word := range words(s) {
		w := Width(word)
		if used > 0 && used+1+w <= width {
			line, used = line+" "+word, used+1+w
			continue
		}
		if used > 0 {
			lines = append(lines, line)
		}
		for w > width {
			head := ansi.Truncate(word, width, "")
			if head == "" { // one wide character in one cell
				head, word = "?", string([]rune(word)[1:])
			} else {
				word = word[len(head):]
			}
			lines, w = append(lines, head), Width(word)
		}
		line, used = word, w
	}
	if used > 0 {
		lines = append(lines, line)
	}
	return lines
}

// words are what stands between spaces; a number written in groups of three digits is one of them.
func words(s string) []string {
	fields := strings.Fields(s)
	out := fields[:0]
	for _, f := range fields {
		if n := len(out); n > 0 && endsInGroup(out[n-1]) && beginsInGroup(f) {
			out[n-1] += " " + f
			continue
		}
		out = append(out, f)
	}
	return out
}

// endsInGroup tells whether a word ends in one to three digits that are no decimals.
func endsInGroup(s string) bool {
	d := 0
	for d < len(s) && digit(s[len(s)-1-d]) {
		d++
	}
	rest := s[:len(s)-d]
	return d >= 1 && d <= 3 && !strings.HasSuffix(rest, ".") && !strings.HasSuffix(rest, ",")
}

// beginsInGroup tells whether a word begins with three digits and no fourth.
func beginsInGroup(s string) bool {
	d := 0
	for d < len(s) && digit(s[d]) {
		d++
	}
	return d == 3
}

func digit(b byte) bool { return b >= '0' && b <= '9' }

const blank = "                                                                                                                                "

// spaces is n spaces; none where n is negative.
func spaces(n int) string {
	if n <= 0 {
		return ""
	}
	if n <= len(blank) {
		return blank[:n]
	}
	return strings.Repeat(" ", n)
}

// NoFormula makes a text safe to draw, and one that no spreadsheet computes. The signs are those of
// OWASP, CSV Injection; a tab or line break is none any more where it is safe.
func NoFormula(s string) string {
	s = Safe(s)
	if t := strings.TrimLeft(s, " "); t != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(t)[0]) {
		return "'" + s
	}
	return s
}
