package screen

import (
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// UsedCells is what the longest figures need: "  750 of 2 500 changes".
const UsedCells = 23

// UsedText is the number beside a gauge, in n cells where it can be so, or what makes it due before
// its number does.
func UsedText(g *model.Gauge, n int) string {
	if g.Measured && g.Word == model.WordDue && g.Used < g.Low && g.Why != (model.Reason{}) &&
		!g.Estimated {
		return g.Why.String()
	}
	return g.UsedWithin(n)
}

// whenWide is when a gauge is due, with how sure that is where it fits into n cells.
func whenWide(g *model.Gauge, now time.Time, n int) string {
	if s := g.WhenLong(now); theme.Width(s) <= n {
		return s
	}
	return g.WhenText(now)
}

// yours is how a procedure of the operator's own is marked.
const yours = " (yours)"

// GaugeRow draws one gauge on a line of its own: name, rule, figures, word and when.
func GaugeRow(t *theme.Theme, g *model.Gauge, w int, b Base) string {
	name, used, word, when := 20, UsedCells, 7, 11
	if w >= 110 {
		when = 27
	}
	rule := min(60, w-3-name-used-word-when-5)
	label := ItemName(t, g)
	if strings.HasSuffix(g.Title, yours) {
		label += yours
	}
	switch {
	case w >= 125 && theme.Width(t.Plain(theme.Safe(g.Title))) <= 44:
		name = 44
		rule = min(60, w-3-name-used-word-when-5)
		label = t.Plain(theme.Safe(g.Title))
	case w < 76:
		used, rule = 0, min(40, w-3-name-word-when-4)
		if rule < theme.MinRule {
			name, rule = max(8, w-3-word-when-3), 0
		}
	}
	var s strings.Builder
	s.WriteString("   " + t.Pad(label, name))
	s.WriteString(gaugeCells(t, g, rule, used))
	s.WriteString(" " + t.OfState(g.Word).Text(t.Pad(string(g.Word), word)))
	s.WriteString(" " + t.Trunc(whenWide(g, b.Now, when), when))
	return Fit(t, s.String(), w)
}

// ItemName is a procedure's id as words: short, and what a person types to a command.
func ItemName(t *theme.Theme, g *model.Gauge) string {
	return t.Plain(theme.Safe(g.Short))
}

// gaugeCells draws rule and figures of a gauge, each with a space before; a width of 0 leaves one
// out.
func gaugeCells(t *theme.Theme, g *model.Gauge, rule, used int) string {
	var s strings.Builder
	if rule > 0 {
		s.WriteString(" " + t.Rule(rule, *g))
	}
	if used > 0 {
		s.WriteString(" " + t.Pad(ofText(t, UsedText(g, used)), used))
	}
	return s.String()
}

// ofText sets "8 of 7–10 days" so that the words "of" stand under one another.
func ofText(t *theme.Theme, s string) string {
	s = t.Plain(theme.Safe(s))
	if n, rest, ok := strings.Cut(s, " of "); ok {
		return t.PadLeft(n, max(6, theme.Width(n))) + " of " + rest
	}
	return s
}
