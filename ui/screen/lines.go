package screen

import (
	"strings"

	"bench/oilcan/ui/theme"
)

// Fit cuts a line that is too wide.
func Fit(t *theme.Theme, s string, w int) string {
	if theme.Width(s) <= w {
		return s
	}
	return t.Trunc(s, w)
}

// Clip keeps the first n lines.
func Clip(lines []string, n int) []string {
	if len(lines) > n {
		return lines[:n]
	}
	return lines
}

// WrapParts breaks a line at its separators only, so that no part stands on two lines.
func WrapParts(s, sep string, width int) []string {
	var out []string
	line := ""
	for part := range strings.SplitSeq(s, sep) {
		switch {
		case line == "":
			line = part
		case theme.Width(line+sep+part) <= width:
			line += sep + part
		default:
			out, line = append(out, line), part
		}
	}
	return append(out, line)
}

// Apart sets lines at the bottom apart from what is above them, where there is room.
func Apart(foot []string, h int) []string {
	if len(foot) == 0 || h < 12 {
		return foot
	}
	return append([]string{""}, foot...)
}

// Over sets lines above a foot, h in all: what does not fit is cut off, and the foot stands at the
// bottom.
func Over(lines, foot []string, h int) string {
	room := h - len(foot)
	return strings.Join(append(Pad(Clip(lines, max(0, room)), room), foot...), "\n")
}

// Wrapped breaks a text that was made safe into lines of w cells at most behind an indent.
func Wrapped(t *theme.Theme, indent, text string, w int, paint theme.Paint) []string {
	var out []string
	for _, l := range theme.Wrap(t.Plain(text), max(20, w)) {
		if l != "" {
			out = append(out, indent+paint.Text(l))
		}
	}
	return out
}

// UnderCursor is a line's beginning and what it is called, marked where the cursor stands on it.
func UnderCursor(t *theme.Theme, at bool, name string) (lead, shown string) {
	if at {
		return " " + t.Text.Accent.Text(">") + " ", t.Text.Accent.Text(name)
	}
	return "   ", name
}

// Pad fills up with empty lines.
func Pad(lines []string, n int) []string {
	for len(lines) < n {
		lines = append(lines, "")
	}
	return lines
}

// tail keeps the end of a text that is too wide for its line, where the typing goes on.
func tail(s string, w int) string {
	for theme.Width(s) > w && s != "" {
		_, n := firstRune(s)
		s = s[n:]
	}
	return s
}

func firstRune(s string) (string, int) {
	for i := range s {
		if i > 0 {
			return s[:i], i
		}
	}
	return s, len(s)
}

// TextWidth is the longest line of running text: readable at arm's length.
const TextWidth = 64

// PanesFrom is the width from which a screen has two panes side by side.
const PanesFrom = 110

// PanesApart is the room between two panes: no line, only air.
const PanesApart = 3

// Beside sets right beside left, from column at on.
func Beside(t *theme.Theme, left, right []string, at int) []string {
	out := make([]string, max(len(left), len(right)))
	for i := range out {
		if i < len(left) {
			out[i] = left[i]
		}
		if i < len(right) {
			out[i] = t.Pad(out[i], at) + right[i]
		}
	}
	return out
}

// WideText is the widest line of a page, row and answer together, in cells.
const WideText = 72

// Flow sets a lead and words with three spaces between on as many lines as they need.
func Flow(lead string, words []string, w int) []string {
	out := []string{" " + lead}
	for _, x := range words {
		last := &out[len(out)-1]
		if theme.Width(*last)+3+theme.Width(x) > w {
			out = append(out, "   "+x)
			continue
		}
		*last += "   " + x
	}
	return out
}
