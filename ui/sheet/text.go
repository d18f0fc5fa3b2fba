package sheet

import (
	"strings"

	"bench/oilcan/ui/theme"
)

// Line is one line of a page as text; Head where it begins a part.
type Line struct {
	Text string
	Head bool
}

// Text lays a page without gauges and boxes out in lines of at most w cells, below its title, safe
// to draw.
func (d Doc) Text(w int) []Line {
	var out []Line
	add := func(texts ...string) {
		for _, t := range texts {
			out = append(out, Line{Text: t})
		}
	}
	wrap := func(lead, text string) {
		for i, l := range theme.Wrap(theme.Safe(text), max(10, w-len(lead))) {
			if i > 0 {
				lead = strings.Repeat(" ", len(lead))
			}
			add(lead + l)
		}
	}
	for _, t := range d.Under {
		wrap("", t)
	}
	for _, p := range d.Parts {
		add("")
		for _, l := range theme.Wrap(theme.Safe(p.Head), max(10, w)) {
			out = append(out, Line{Text: l, Head: true})
		}
		for _, t := range p.Text {
			wrap("  ", t)
		}
		add(columns(p.Rows, w)...)
		for _, t := range p.List {
			wrap("  ", t)
		}
	}
	add("")
	for _, t := range d.Foot {
		wrap("", t)
	}
	return out
}

// Between two columns stand so many cells, and a column is no narrower than that.
const gap, narrowest = 2, 8

// columns sets rows in columns; where they are too wide for w cells the widest is wrapped.
func columns(rows [][]string, w int) []string {
	var wide []int
	for _, r := range rows {
		for i, c := range r {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], theme.Width(theme.Safe(c)))
		}
	}
	for over(wide, w) > 0 {
		at := 0
		for i, n := range wide {
			if n > wide[at] {
				at = i
			}
		}
		if wide[at] <= narrowest {
			break
		}
		wide[at]--
	}
	var out []string
	for _, r := range rows {
		out = append(out, row(r, wide)...)
	}
	return out
}

// over is by how many cells columns are too wide.
func over(wide []int, w int) int {
	n := 0
	for _, c := range wide {
		if c > 0 {
			n += gap + c
		}
	}
	return n - w
}

// row is one row in columns, as many lines as its longest cell takes.
func row(cells []string, wide []int) []string {
	var lines []string
	at := 0
	for i, c := range cells {
		if wide[i] == 0 {
			continue
		}
		at += gap
		for j, part := range theme.Wrap(theme.Safe(c), wide[i]) {
			if j == len(lines) {
				lines = append(lines, "")
			}
			lines[j] += strings.Repeat(" ", at-theme.Width(lines[j])) + part
		}
		at += wide[i]
	}
	return lines
}
