package theme

import (
	"math"
	"slices"
	"strings"
)

// Columns draws values beside one another as columns of two cells and a space, in eighths of the
// greatest; a value below nothing is not known and leaves its place empty.
func (t *Theme) Columns(values []float64) string {
	most := 0.0
	for _, v := range values {
		most = math.Max(most, v)
	}
	var b strings.Builder
	for i, v := range values {
		if i > 0 {
			b.WriteByte(' ')
		}
		switch {
		case v < 0 || !(most > 0):
			b.WriteString("  ")
		case v == 0:
			b.WriteString(strings.Repeat(t.glyph.left, 2))
		default:
			b.WriteString(strings.Repeat(t.glyph.column[clamp(int(math.Ceil(v/most*8)), 1, 8)], 2))
		}
	}
	return b.String()
}

// Course draws values as columns of one cell, in eighths from the least to the greatest: how they
// went, not how large they are.
func (t *Theme) Course(values []float64) string {
	if len(values) == 0 {
		return ""
	}
	least, most := slices.Min(values), slices.Max(values)
	var b strings.Builder
	for _, v := range values {
		level := 4
		if most > least {
			level = 1 + int(math.Round(7*(v-least)/(most-least)))
		}
		b.WriteString(t.glyph.column[level])
	}
	return b.String()
}

// Span draws an interval and what lies in it on a line of exactly w cells, given as shares of the
// line's length from its left end: low <= mid <= high.
func (t *Theme) Span(w int, low, mid, high float64) string {
	cell := func(share float64) int { return clamp(int(share*float64(w)), 0, w-1) }
	if w <= 0 || !(low <= mid && mid <= high) {
		return strings.Repeat(" ", max(0, w))
	}
	var b strings.Builder
	for i := range w {
		switch {
		case i == cell(mid):
			b.WriteString(t.glyph.rider)
		case i >= cell(low) && i <= cell(high):
			b.WriteString(t.glyph.used)
		default:
			b.WriteString(" ")
		}
	}
	return b.String()
}

// Mark is a point of a Plot, in shares of its width and height from the lower left corner.
type Mark struct{ X, Y float64 }

// Plot draws marks and a line, given as many marks, in exactly w by h cells; marks lie over the
// line. What lies outside is left out.
func (t *Theme) Plot(w, h int, line, marks []Mark) []string {
	if w <= 0 || h <= 0 {
		return nil
	}
	cells := make([][]string, h)
	for y := range cells {
		cells[y] = make([]string, w)
		for x := range cells[y] {
			cells[y][x] = " "
		}
	}
	put := func(ms []Mark, sign string) {
		for _, m := range ms {
			if m.X < 0 || m.X > 1 || m.Y < 0 || m.Y > 1 || math.IsNaN(m.X) || math.IsNaN(m.Y) {
				continue
			}
			cells[h-1-min(h-1, int(m.Y*float64(h)))][min(w-1, int(m.X*float64(w)))] = sign
		}
	}
	put(line, t.glyph.dot)
	put(marks, t.glyph.rider)
	out := make([]string, h)
	for y := range cells {
		out[y] = strings.Join(cells[y], "")
	}
	return out
}
