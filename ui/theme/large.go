package theme

import (
	"math"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Large draws a gauge for the machine's own screen in lines of at most width cells: title and
// condition, the same rule as in a row, the scale under it, and up to three lines that say the same
// in words.
func (t *Theme) Large(width int, g model.Gauge, now time.Time) []string {
	if width <= 0 {
		return nil
	}
	title := t.Plain(Safe(g.Title))
	if title == "" {
		title = t.Plain(Safe(g.Item))
	}
	lines := []string{t.Between(title, t.Word(g.Word), width)}
	if g.Low > 0 && width >= MinRule {
		k := keyOf(width-3, g)
		lines = append(lines, t.drawn(k), t.scale(width-1, k, g))
	}
	words := t.Plain(Safe(inWords(g, now)))
	for i, l := range Wrap(words, width) {
		if i == largeLines {
			lines[len(lines)-1] = t.Trunc(lines[len(lines)-1]+" "+t.glyph.more, width)
			break
		}
		lines = append(lines, l)
	}
	return lines
}

// largeLines is how many lines of words a large gauge has at most.
const largeLines = 3

// scale is the row of labels under a large rule: nothing, the band's ends, and round values where
// there is room.
func (t *Theme) scale(width int, k ruleKey, g model.Gauge) string {
	row := scaleRow{tick: []rune(t.glyph.tick)[0], cells: make([]rune, width)}
	for i := range row.cells {
		row.cells[i] = ' '
	}
	row.left(0, "0")
	row.right(width-1, model.Number(g.High))
	row.put(1+k.low, model.Number(g.Low))
	for step, v := roundStep(g.High, width/14), 0.0; v < g.High; v += step {
		row.left(1+int(v/g.High*float64(k.cells)), model.Number(v))
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

// inWords says what the rule shows: "2 410 cuts since 2026-09-03 · reaches 3 000 about 2026-12-12
// (12-05 to 12-21) · 62 % past its band by the next care, 2026-12-25 · 84 cuts a day by 83 days of
// readings · band: common practice".
func inWords(g model.Gauge, now time.Time) string {
	var parts []string
	if g.Measured {
		s := model.Number(math.Floor(g.Used)) + " " + g.Meter.Unit()
		if !g.Last.IsZero() {
			s += " since " + model.Day(g.Last, now)
		}
		parts = append(parts, s)
	}
	if why := g.Why.String(); why != "" {
		parts = append(parts, why)
	}
	parts = append(parts, reachedWhen(g, now)...)
	if g.Low > 0 && !g.Measured {
		parts = append(parts, "band "+model.Number(g.Low)+"–"+model.Number(g.High)+" "+
			g.Meter.Unit())
	}
	if g.Low > 0 && g.Basis != "" {
		parts = append(parts, "band: "+g.Basis)
	}
	return strings.Join(parts, " · ")
}

// reachedWhen says when the ends of the band are reached, how sure that is, and what it rests on.
func reachedWhen(g model.Gauge, now time.Time) []string {
	about := " about "
	if g.Meter == model.Days {
		about = " on "
	}
	end := model.Number(g.Low)
	ahead, at := "reaches ", g.DueLow
	if g.Used >= g.Low {
		end, ahead, at = model.Number(g.High), "past ", g.DueHigh
	}
	f := g.Forecast
	other := f != nil && f.Of != "" && f.Of != g.Meter // another limit comes first
	if other {
		end = model.Number(f.Level) + " " + f.Of.Unit()
		if about = " first, about "; f.Of == model.Days {
			about = " first, on "
		}
	}
	switch {
	case !g.Measured || !(g.Low > 0):
		return nil
	case g.Word == model.WordPast:
		if g.DueHigh == nil {
			return nil
		}
		return []string{"past " + end + " since" + strings.TrimPrefix(about, " on") +
			model.Day(*g.DueHigh, now)}
	case g.Used >= g.Low && g.High == g.Low:
		return nil
	case g.Used >= g.High:
		return []string{"at its high end, " + end}
	case g.Estimated && at != nil:
		return []string{"not read since, and by estimate " + end + " reached about " +
			model.Day(*at, now), f.Pace}
	case at == nil && (f == nil || f.Mid.IsZero()):
		if f != nil && !f.Own {
			return []string{f.Pace}
		}
		return nil
	case at == nil:
		at = &f.Mid
	}
	s := ahead + end + about + model.Day(*at, now)
	if f == nil {
		return []string{s}
	}
	if sure := f.Spread(now); sure != "" {
		s += " " + sure
	}
	out := []string{s}
	if g.Meter == model.Days && !other {
		return out // exact: the date says it all
	}
	if lasts := g.LastingText(); lasts != "" {
		out = append(out, lasts+", "+model.Day(f.Next, now))
	}
	return append(out, f.Pace)
}
