package theme

import (
	"math"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/bubbles/progress"
	"github.com/muesli/termenv"

	"bench/oilcan/model"
)

// glyphs are the signs a gauge is drawn with, each one cell wide.
type glyphs struct {
	end, used, left, band, rider, ask, tick, more string
	dot                                           string // the line of a Plot

	column [9]string // of Columns, in eighths from 1
}

var unicodeGlyphs = glyphs{
	end: "┃", used: "━", left: "─", band: "▒", rider: "◆", ask: "?", tick: "╵", more: "…", dot: "·",
	column: [9]string{"", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"},
}

var asciiGlyphs = glyphs{
	end: "|", used: "=", left: "-", band: ":", rider: "O", ask: "?", tick: "'", more: "~", dot: ".",
	column: [9]string{"", ".", ".", ".", ".", "-", "-", "=", "#"},
}

// ruleKey is all that a drawn rule depends on: places in cells, the condition, and what is known.
type ruleKey struct {
	cells            int // of the scale, without its ends
	low, high        int // the band's first cell, and the one after its last
	rider            int // -1: none; cells: beyond the right end
	word             model.GaugeWord
	measured, scaled bool
}

// MinRule is the least width a rule is drawn in; below it Rule draws a bar without ends.
const MinRule = 6

// Rule draws a gauge as a steel rule of exactly width cells by four signs: the stretch used drawn
// heavy, a rider where the machine stands, what is left thin, and the band hatched, on whichever
// side of the rider it lies. The scale goes from nothing to the band's high end and is true: the
// band's place differs from gauge to gauge. The last cell is kept for the rider of what is past.
func (t *Theme) Rule(width int, g model.Gauge) string {
	switch {
	case width <= 0:
		return ""
	case width < MinRule:
		return t.OfState(g.Word).Text(t.Bar(width, g.Fraction))
	}
	return t.drawn(keyOf(width-3, g))
}

// keyOf places a gauge on a scale of n cells.
func keyOf(n int, g model.Gauge) ruleKey {
	k := ruleKey{cells: n, rider: -1, word: g.Word, measured: g.Measured, scaled: g.Low > 0 &&
		g.High >= g.Low}
	if !k.scaled {
		if g.Word.Rank() <= model.WordDue.Rank() {
			k.rider = n / 2 // nothing to measure: a rider without a scale
		}
		return k
	}
	k.high = n
	k.low = clamp(int(math.Round(g.Low/g.High*float64(n))), 1, n-1)
	if g.Measured {
		k.rider = k.at(g.Used, g.Low, g.High)
	}
	return k
}

// at is the cell of a value. The band's edges are snapped to cells first, so that a value stands on
// its own side of them at every width.
func (k ruleKey) at(v, low, high float64) int {
	switch {
	case v < low:
		return within(v/low, 0, k.low)
	case v > high:
		return k.cells
	case high == low:
		return k.high - 1
	}
	return within((v-low)/(high-low), k.low, k.high)
}

// within is the cell a share of the way from one cell to before another.
func within(share float64, from, to int) int {
	return clamp(from+int(share*float64(to-from)), from, to-1)
}

func clamp(v, lo, hi int) int { return max(lo, min(v, hi)) }

// keepAtMost is how many drawings are kept before they are forgotten together.
const keepAtMost = 4096

// drawn draws a rule, or finds it drawn.
func (t *Theme) drawn(k ruleKey) string {
	t.mu.Lock()
	defer t.mu.Unlock()
	s, ok := t.kept[k]
	if !ok {
		if len(t.kept) >= keepAtMost {
			clear(t.kept)
		}
		s = t.draw(k)
		t.kept[k] = s
	}
	return s
}

// draw writes the cells in at most two runs of colour: up to the rider in the condition's, the rest
// dim.
func (t *Theme) draw(k ruleKey) string {
	g := &t.glyph
	var done, todo strings.Builder
	done.WriteString(g.end)
	for i := range k.cells {
		b := &done
		if i > k.rider || k.rider < 0 {
			b = &todo
		}
		b.WriteString(g.cell(k, i))
	}
	state := t.OfState(k.word)
	if k.rider == k.cells {
		return state.Text(done.String() + g.end + g.rider)
	}
	return state.Text(done.String()) + t.Text.Dim.Text(todo.String()) + g.end + " "
}

// cell is the sign of one cell of the scale.
func (g *glyphs) cell(k ruleKey, i int) string {
	switch {
	case i == k.rider:
		return g.rider
	case !k.scaled:
		return " "
	case !k.measured && i == k.low/2:
		return g.ask
	case i >= k.low && i < k.high:
		return g.band
	case i < k.rider:
		return g.used
	}
	return g.left
}

// Progress draws how much of something is done, a share from 0 to 1, in exactly width cells: a bar
// in colour, or a Bar where there is no colour.
func (t *Theme) Progress(width int, share float64) string {
	if t.Profile == Plain || t.NoColour || t.ASCII || width < leastProgress ||
		!(share >= 0 && share <= 1) {
		return t.Bar(width, share)
	}
	p := progress.New(progress.WithWidth(width), progress.WithoutPercentage(),
		progress.WithColorProfile(termenv.Ascii))
	// its cells are painted here: two codes a bar, and only those a Writer lets through
	bar := p.ViewAs(share)
	full := strings.Count(bar, string(p.Full)) * utf8.RuneLen(p.Full)
	return t.Text.Accent.Text(bar[:full]) + t.Text.Dim.Text(bar[full:])
}

// leastProgress is the least width the bar of the library has.
const leastProgress = 5

// Bar draws a share from 0 to 1 as a line of exactly width cells, heavy up to the share.
func (t *Theme) Bar(width int, share float64) string {
	if width <= 0 {
		return ""
	}
	if !(share > 0) { // also for what is no number
		share = 0
	}
	full := int(math.Min(share, 1) * float64(width))
	return strings.Repeat(t.glyph.used, full) + strings.Repeat(t.glyph.left, width-full)
}
