package theme

import (
	"math"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Large draws a gauge for the machine's own screen in lines of at most width cells: title and
// condition, the rule, the scale under it, and one or two lines that say the same in words. ahead is as
// for Rule. A rider past the band stands on the scale itself, which then reaches as far as it.
func (t *Theme) Large(width int, g model.Gauge, ahead float64, now time.Time) []string {
	if width <= 0 {
		return nil
	}
	title := t.Plain(Safe(g.Title))
	if title == "" {
		title = t.Plain(Safe(g.Item))
	}
	lines := []string{t.Between(title, t.Word(g.Word), width)}
	if g.Low > 0 && width >= MinRule {
		end := max(g.High, g.Used)
		k := keyOf(width-2, g, ahead, end)
		k.big = true
		lines = append(lines, t.drawn(k), t.scale(width, k, g, end))
	}
	words := t.Plain(Safe(inWords(g, now)))
	for i, l := range Wrap(words, width) {
		if i == 2 {
			lines[len(lines)-1] = t.Trunc(lines[len(lines)-1]+" "+t.glyph.more, width)
			break
		}
		lines = append(lines, l)
	}
	return lines
}

// scale is the row of labels under a large rule: nothing, the band's ends, and round values where there
// is room.
func (t *Theme) scale(width int, k ruleKey, g model.Gauge, end float64) string {
	row := scaleRow{tick: []rune(t.glyph.tick)[0], cells: make([]rune, width)}
	for i := range row.cells {
		row.cells[i] = ' '
	}
	row.left(0, "0")
	last := model.Number(end)
	if end > g.High { // the use itself, as it reads elsewhere
		last = model.Number(math.Floor(end))
	}
	row.right(width-1, last)
	if k.high < k.cells { // the high end stands inside the scale
		row.put(1+k.high, model.Number(g.High))
	}
	row.put(1+k.low, model.Number(g.Low))
	for step, v := roundStep(end, width/14), 0.0; v < end; v += step {
		row.left(1+int(v/end*float64(k.cells)), model.Number(v))
	}
	return t.Text.Dim.Text(string(row.cells))
}

// scaleRow is a row of labels that do not touch one another.
type scaleRow struct {
	tick  rune
	cells []rune
}

// left writes a tick and the label after it, if there is room.
func (r scaleRow) left(at int, label string) bool {
	return r.write(at, append([]rune{r.tick}, []rune(label)...))
}

// right writes a label and the tick after it, if there is room.
func (r scaleRow) right(at int, label string) bool {
	return r.write(at-len(label), append([]rune(label), r.tick))
}

// put writes the label on either side of its tick.
func (r scaleRow) put(at int, label string) {
	_ = r.left(at, label) || r.right(at, label)
}

func (r scaleRow) write(at int, text []rune) bool {
	if at < 0 || at+len(text) > len(r.cells) {
		return false
	}
	for i := max(0, at-1); i < min(len(r.cells), at+len(text)+1); i++ {
		if r.cells[i] != ' ' {
			return false
		}
	}
	copy(r.cells[at:], text)
	return true
}

// roundStep is the least of 1, 2, 5 x 10^n that divides a scale into at most parts.
func roundStep(end float64, parts int) float64 {
	raw := end / float64(max(parts, 1))
	if !(raw > 0) || math.IsInf(raw, 0) {
		return math.Inf(1)
	}
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, f := range []float64{1, 2, 5} {
		if f*p >= raw {
			return f * p
		}
	}
	return 10 * p
}

// inWords says what the rule shows: "2,410 cuts since 3 Sep · reaches 3,000 about 12 Dec · band: common
// practice".
func inWords(g model.Gauge, now time.Time) string {
	day := func(at time.Time) string {
		at = at.In(now.Location())
		if at.Year() != now.Year() && at.Sub(now).Abs() > 300*24*time.Hour {
			return at.Format("2 Jan 2006")
		}
		return at.Format("2 Jan")
	}
	var parts []string
	if g.Measured {
		s := model.Number(math.Floor(g.Used)) + " " + g.Meter.Unit()
		if !g.Last.IsZero() {
			s += " since " + day(g.Last)
		}
		parts = append(parts, s)
	}
	if g.Why != "" {
		parts = append(parts, g.Why)
	}
	about := " about "
	if g.Meter == model.Days {
		about = " on "
	}
	switch {
	case g.Measured && g.Used < g.Low && g.DueLow != nil:
		parts = append(parts, "reaches "+model.Number(g.Low)+about+day(*g.DueLow))
	case g.Measured && g.Used <= g.High && g.High > g.Low && g.DueHigh != nil:
		parts = append(parts, "past "+model.Number(g.High)+about+day(*g.DueHigh))
	case g.Word == model.WordPast && g.DueHigh != nil:
		parts = append(parts, "past "+model.Number(g.High)+" since"+strings.TrimPrefix(about, " on")+day(*g.DueHigh))
	}
	if g.Low > 0 && !g.Measured {
		parts = append(parts, "band "+model.Number(g.Low)+"–"+model.Number(g.High)+" "+g.Meter.Unit())
	}
	if g.Low > 0 && g.Basis != "" {
		parts = append(parts, "band: "+g.Basis)
	}
	return strings.Join(parts, " · ")
}
