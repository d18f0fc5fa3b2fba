package command

import (
	"fmt"
	"strings"

	"bench/oilcan/ui/theme"
)

// gap is the space between two columns.
const gap = "  "

// table is rows of cells, aligned when written; a cell is a text, which is made safe, or
// theme.Painted. Columns named in right are aligned at their right end. indent stands before every
// row.
type table struct {
	indent string
	right  []int
	rows   [][]string
}

func (t *table) add(cells ...any) {
	row := make([]string, len(cells))
	for i, c := range cells {
		if p, ok := c.(theme.Painted); ok {
			row[i] = string(p)
			continue
		}
		row[i] = theme.Safe(fmt.Sprint(c))
	}
	t.rows = append(t.rows, row)
}

// answer is one value for programs, or one line for people.
func answer(a *app, value any, format string, args ...any) error {
	if a.flags.json {
		return a.writeJSON(value)
	}
	a.say(format, args...)
	return nil
}

// list answers with rows: as they are for programs, a line each for people. none is said
// where there is no row; "" says nothing.
func list[T any](a *app, rows []T, none string, t table, line func(T) []any) error {
	if a.flags.json {
		return a.writeJSON(append([]T{}, rows...))
	}
	if len(rows) == 0 && none != "" {
		a.say("%s", none)
	}
	for _, r := range rows {
		t.add(line(r)...)
	}
	t.write(a)
	return nil
}

func (t *table) write(a *app) {
	for _, l := range t.lines(a) {
		a.say("%s", l)
	}
}

// lines are the rows, every column as wide as its widest cell.
func (t *table) lines(a *app) []theme.Painted {
	var out []theme.Painted
	var widths []int
	for _, r := range t.rows {
		for i, c := range r {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], theme.Width(a.th.Plain(c)))
		}
	}
	atRight := map[int]bool{}
	for _, i := range t.right {
		atRight[i] = true
	}
	for _, r := range t.rows {
		var b strings.Builder
		b.WriteString(t.indent)
		for i, c := range r {
			c = a.th.Plain(c)
			fill := strings.Repeat(" ", widths[i]-theme.Width(c))
			if i > 0 {
				b.WriteString(gap)
			}
			if atRight[i] {
				c, fill = fill+c, ""
			}
			b.WriteString(c)
			if i < len(r)-1 {
				b.WriteString(fill)
			}
		}
		out = append(out, theme.Painted(b.String()))
	}
	return out
}
