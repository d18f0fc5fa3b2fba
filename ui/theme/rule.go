package theme

import (
	"math"
	"strings"

	"bench/oilcan/model"
)

// glyphs are the signs a gauge is drawn with, each one cell wide.
type glyphs struct {
	end, used, rider, open, tail, spread, rest, band, bandTail, ask, half, tick, more string

	spark [9]string // see sparkLevel
}

var unicodeGlyphs = glyphs{
	end: "┃", used: "━", rider: "◆", open: "◇", tail: "┈", spread: "·", rest: "─", band: "▒", bandTail: "░", ask: "?",
	half: "╾", tick: "╵", more: "…",
	spark: [9]string{"?", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"},
}

var asciiGlyphs = glyphs{
	end: "|", used: "=", rider: "O", open: "o", tail: "~", spread: ".", rest: "-", band: ":", bandTail: ";", ask: "?",
	half: "-", tick: "'", more: "~",
	spark: [9]string{"?", ".", ".", ".", ".", "-", "-", "=", "#"},
}

// ruleKey is all that a drawn rule depends on: places in cells, the condition, and what is known.
type ruleKey struct {
	cells                 int // of the scale, without its ends
	low, high             int // the band's first cell, and the one after its last
	rider, ahead, spread  int // -1: none; cells: beyond the right end
	word                  model.GaugeWord
	measured, scaled, big bool
	half                  bool // the use reaches into the second half of the rider's cell
}

// MinRule is the least width a rule is drawn in; below it Rule draws a bar without ends.
const MinRule = 6

// Rule draws a gauge as a steel rule of exactly width cells: the scale from nothing to the band's high
// end, the stretch used drawn heavy, the band hatched, a rider where the machine stands (open while
// fresh) and, to half a cell before the band, a heavy stub behind it; beyond the right end where past. ahead is how much will be used by the next sitting with 10 %,
// drawn as a light tail, and spread with 90 %, as a lighter one (see Gauge.TailTo); anything not above what
// is used draws none. The scale is true: the band's place differs from gauge to gauge. The last cell is
// kept for a rider beyond the end.
func (t *Theme) Rule(width int, g model.Gauge, ahead, spread float64) string {
	switch {
	case width <= 0:
		return ""
	case width < MinRule:
		return t.OfState(g.Word).Text(t.Bar(width, g.Fraction))
	}
	return t.drawn(keyOf(width-3, g, ahead, spread, g.High))
}

// keyOf places a gauge on a scale of n cells from nothing to end.
func keyOf(n int, g model.Gauge, ahead, spread, end float64) ruleKey {
	k := ruleKey{cells: n, rider: -1, ahead: -1, spread: -1, word: g.Word, measured: g.Measured, scaled: g.Low > 0 && g.High >= g.Low}
	if !k.scaled {
		if g.Word.Rank() <= model.WordDue.Rank() {
			k.rider = n / 2 // nothing to measure: a rider without a scale
		}
		return k
	}
	k.high = n
	if end > g.High {
		k.high = clamp(int(math.Round(g.High/end*float64(n))), 2, n-1)
	}
	k.low = clamp(int(math.Round(g.Low/end*float64(n))), 1, k.high-1)
	if !g.Measured {
		return k
	}
	k.rider = k.at(g.Used, g.Low, g.High, end)
	if x := g.Used / g.Low * float64(k.low); g.Used < g.Low {
		k.half = x-math.Floor(x) >= 0.5 && k.rider+1 < k.low
	}
	if ahead > g.Used {
		k.ahead = min(k.at(ahead, g.Low, g.High, end), n-1)
	}
	if spread > g.Used {
		k.spread = min(k.at(spread, g.Low, g.High, end), n-1)
	}
	return k
}

// at is the cell of a value. The band's edges are snapped to cells first, so that a value stands on its
// own side of them at every width.
func (k ruleKey) at(v, low, high, end float64) int {
	switch {
	case v < low:
		return within(v/low, 0, k.low)
	case v <= high:
		if high == low {
			return k.high - 1
		}
		return within((v-low)/(high-low), k.low, k.high)
	case end > high:
		return within((v-high)/(end-high), k.high, k.cells)
	}
	return k.cells
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

// draw writes the cells in at most two runs of colour: up to the rider in the condition's, the rest dim.
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
	last := " "
	if k.big {
		last = ""
	}
	if k.rider == k.cells {
		return state.Text(done.String() + g.end + g.rider)
	}
	return state.Text(done.String()) + t.Text.Dim.Text(todo.String()) + g.end + last
}

// cell is the sign of one cell of the scale.
func (g *glyphs) cell(k ruleKey, i int) string {
	inBand := i >= k.low && i < k.high
	switch {
	case !k.scaled && i == k.rider:
		return g.rider
	case !k.scaled:
		return " "
	case !k.measured && i == k.low/2:
		return g.ask
	case i == k.rider && k.word == model.WordFresh:
		return g.open
	case i == k.rider:
		return g.rider
	case k.half && i == k.rider+1:
		return g.half
	case inBand && i > k.rider && i <= max(k.ahead, k.spread):
		return g.bandTail
	case inBand:
		return g.band
	case i < k.rider:
		return g.used
	case i <= k.ahead:
		return g.tail
	case i <= k.spread:
		return g.spread
	}
	return g.rest
}

// Bar draws a share from 0 to 1 as a line of exactly width cells, heavy up to the share, to half a cell
// where the glyphs allow.
func (t *Theme) Bar(width int, share float64) string {
	if width <= 0 {
		return ""
	}
	if !(share > 0) { // also for what is no number
		share = 0
	}
	halves := int(math.Min(share, 1) * float64(width) * 2)
	full := halves / 2
	s := strings.Repeat(t.glyph.used, full)
	if full < width && halves%2 == 1 {
		s += t.glyph.half
		full++
	}
	return s + strings.Repeat(t.glyph.rest, width-full)
}

// Spark draws all gauges of a machine in exactly width cells, one cell a gauge in the order given
// (worst first): the machine's condition as a shape. Full is past, seven eighths due, then by how much
// is used; "?" is unknown. Where there are more gauges than cells the last cell is "+".
func (t *Theme) Spark(width int, gs []model.Gauge) string {
	if width <= 0 {
		return ""
	}
	n, more := len(gs), ""
	if n > width {
		n, more = width-1, "+"
	}
	var b strings.Builder
	for i := 0; i < n; {
		j := i
		for j < n && t.OfState(gs[j].Word) == t.OfState(gs[i].Word) {
			j++
		}
		var run strings.Builder
		for _, g := range gs[i:j] {
			run.WriteString(t.glyph.spark[sparkLevel(g)])
		}
		b.WriteString(t.OfState(gs[i].Word).Text(run.String()))
		i = j
	}
	return b.String() + more + spaces(width-n-len(more))
}

// sparkLevel is the height of a gauge in eighths, 0 for unknown.
func sparkLevel(g model.Gauge) int {
	switch g.Word {
	case model.WordPast:
		return 8
	case model.WordDue:
		return 7
	case model.WordUnknown:
		return 0
	case model.WordWearing:
		if g.Fraction >= 0.9 {
			return 6
		}
		return 5
	}
	return clamp(1+int(g.Fraction/0.2), 1, 4)
}
