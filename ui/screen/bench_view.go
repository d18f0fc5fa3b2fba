package screen

import (
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// table is the drawn list of machines: a head, and one row a machine without its name.
type table struct {
	cols benchCols
	head string
	rows []string
}

// benchCols are the widths of the columns; 0 leaves one out.
type benchCols struct {
	name, spark, item, rule, used, word, when int
	titles                                    bool // whole titles of procedures
}

// whenAt is the column in which the dates begin.
func (c benchCols) whenAt() int {
	at := 3 + c.name + 1
	for _, n := range []int{c.spark, c.item, c.rule, c.used, c.word} {
		if n > 0 {
			at += 1 + n
		}
	}
	return at + 1
}

// columns shares the width out. What a person needs most stays longest.
func columns(w, name int) benchCols {
	c := benchCols{name: max(7, min(name, 12)), word: 7, when: 11}
	switch {
	case w >= 130:
		c.name, c.spark, c.used, c.when = max(7, min(name, 24)), 24, usedCells, 27
	case w >= 104:
		c.name, c.spark, c.used, c.when = max(7, min(name, 16)), 20, usedCells, 11
	case w >= 72:
		c.spark = 12
	}
	rest := w - c.used - c.word - c.when - c.name - c.spark - 3 - 2
	for _, n := range []int{c.spark, c.used} {
		if n > 0 {
			rest -= 2
		}
	}
	// The rest goes to item and rule, with two cells between them and before the word.
	rest -= 3
	c.item = min(rest, 16)
	if rest >= 16+10 {
		c.item = 16 + min((rest-26)/3, 8)
		c.rule = rest - c.item
	} else if rest >= 12+theme.MinRule+3 {
		c.item = 12
		c.rule = rest - c.item
	}
	if c.rule > 40 {
		c.item += c.rule - 40
		c.rule = 40
	}
	c.titles = c.item >= 36
	return c
}

// itemName is a procedure's id as words: short, and what a person types to a command.
func itemName(t *theme.Theme, g *model.Gauge) string {
	return t.Plain(theme.Safe(g.Short))
}

// draw makes the table and the lines under it from the bench as it is.
func (b *bench) draw() {
	if b.Data == nil || b.W == 0 {
		return
	}
	t := b.Env.Theme
	widest := 0
	for _, m := range b.list {
		widest = max(widest, theme.Width(theme.Safe(m.Name)))
	}
	c := columns(b.W, widest)
	b.table = table{cols: c, head: b.drawHead(c)}
	for _, m := range b.list {
		b.table.rows = append(b.table.rows, fit(t, b.drawRow(m, c), b.W-4-c.name))
	}
	b.open = b.drawOpen()
	b.body = b.drawBody()
}

func (b *bench) drawHead(c benchCols) string {
	t := b.Env.Theme
	var s strings.Builder
	s.WriteString("   " + t.Pad("machine", c.name) + " ")
	add := func(n int, text string, gap int) {
		if n > 0 {
			s.WriteString(strings.Repeat(" ", gap) + t.Pad(text, n))
		}
	}
	add(c.spark, "all gauges", 1)
	add(c.item, "most pressing", 1)
	add(c.rule, "", 1)
	add(c.used, t.PadLeft("used", 6)+" of", 1)
	add(c.word, "", 1)
	add(c.when, "when", 1)
	return t.Text.Dim.Text(strings.TrimRight(fit(t, s.String(), b.W), " "))
}

// drawRow draws what stands after the machine's name.
func (b *bench) drawRow(m *model.Machine, c benchCols) string {
	t := b.Env.Theme
	if m.OutOfUse {
		s := "out of use since " + m.Since.In(b.Now.Location()).Format("2006-01-02") + "; its calendar waits"
		return " " + t.Text.Dim.Text(s)
	}
	if m.Tag != nil && m.Tag.Kind == model.TagStopped {
		return " " + t.State.Past.Text("stopped") + "  " + t.Plain(theme.Safe(m.Tag.Why))
	}
	var s strings.Builder
	if c.spark > 0 {
		s.WriteString(" " + t.Spark(c.spark, b.Data.Gauges[m.ID]))
	}
	g := b.worst(m.ID)
	switch {
	case noHistory(m):
		return s.String() + " no history yet: type its meters (m)"
	case g == nil:
		return s.String() + " nothing counts here yet: say what it has (e)"
	}
	s.WriteString(" " + t.Text.Strong.Text(t.Pad(itemName(t, g), c.item)))
	s.WriteString(gaugeCells(t, g, c.rule, c.used, b.Now))
	s.WriteString(" " + t.OfState(g.Word).Text(t.Pad(string(g.Word), c.word)))
	s.WriteString(" " + t.Trunc(whenWide(g, b.Now, c.when), c.when))
	return s.String()
}

// gaugeCells draws rule and figures of a gauge, each with a space before; a width of 0 leaves one out.
func gaugeCells(t *theme.Theme, g *model.Gauge, rule, used int, now time.Time) string {
	var s strings.Builder
	if rule > 0 {
		s.WriteString(" " + t.Rule(rule, *g))
	}
	if used > 0 {
		s.WriteString(" " + t.Pad(ofText(t, usedText(g, used)), used))
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

// View gives the bench as last drawn.
func (b *bench) View() string { return b.body }

// drawBody draws machines, what stands open, and where there is room every gauge of the machine under
// the cursor.
func (b *bench) drawBody() string {
	foot := apart(b.foot(), b.H)
	room := b.H - len(foot)
	if len(b.list) == 0 {
		lines := b.empty()
		if notes := b.drawNotes(); len(notes) > 0 {
			lines = append(append(lines, ""), notes...)
		}
		return strings.Join(append(pad(clip(lines, room), room), foot...), "\n")
	}
	open := b.open
	if most := max(2, room-1-min(len(b.list), room/2)-1); len(open) > most {
		open = append(slices.Clone(open[:most-1]), b.Env.Theme.Text.Dim.Text("              and "+itoa(len(open)-most+1)+" more"))
	}
	rows := max(1, room-1-len(open)-1)
	shown := b.rows(rows)
	lines := append([]string{b.table.head}, shown...)
	if len(open) > 0 && room-len(lines) > 1 {
		lines = append(append(lines, ""), open...)
	}
	if left := room - len(lines); left >= 5 {
		lines = append(append(lines, ""), clip(b.detail(left-1), left-1)...)
	}
	return strings.Join(append(pad(clip(lines, room), room), foot...), "\n")
}

// rows draws the machines in view, n at most.
func (b *bench) rows(n int) []string {
	t := b.Env.Theme
	at := b.index()
	n = min(n, len(b.list))
	b.top = max(0, min(b.top, len(b.list)-n, at))
	b.top = max(b.top, at-n+1)
	var out []string
	for i := b.top; i < b.top+n; i++ {
		name := t.Pad(t.Plain(theme.Safe(b.list[i].Name)), b.table.cols.name)
		lead := "   "
		if i == at {
			lead, name = " "+t.Text.Accent.Text(">")+" ", t.Text.Accent.Text(name)
		}
		out = append(out, lead+name+" "+b.table.rows[i])
	}
	if b.top+n < len(b.list) || b.top > 0 {
		where := itoa(b.top+1) + "-" + itoa(b.top+n) + " of " + itoa(len(b.list)) + " machines"
		if n == 1 {
			where = "machine " + itoa(b.top+1) + " of " + itoa(len(b.list))
		}
		out[len(out)-1] = fit(t, out[len(out)-1], b.W)
		b.table.head = t.Between(b.drawHead(b.table.cols), t.Text.Dim.Text(where)+" ", b.W)
	}
	return out
}

// detail is every gauge of the machine under the cursor, as many as there is room for.
func (b *bench) detail(n int) []string {
	t, m := b.Env.Theme, b.m()
	gs := b.Data.Gauges[b.at]
	if m == nil || m.OutOfUse || len(gs) == 0 {
		return nil
	}
	head := " " + t.Text.Strong.Text(t.Plain(theme.Safe(m.Name)))
	if shown := min(n-1, len(gs)); shown < len(gs) {
		head += t.Text.Dim.Text("   the first " + itoa(shown) + " of " + itoa(len(gs)) + " gauges; enter shows all")
	}
	out := []string{head}
	for i := range gs {
		if len(out) >= n {
			break
		}
		out = append(out, gaugeRow(b.Env.Theme, &gs[i], b.W, b.Base))
	}
	return out
}

// empty is what a bench without machines says.
func (b *bench) empty() []string {
	t := b.Env.Theme
	key := t.Text.Accent.Text
	return []string{
		"",
		" " + t.Text.Strong.Text("There is no machine on this bench yet."),
		"",
		"   " + key("a") + "   add the first one: its name, what it is made of, its counters.",
		"       Everything may be answered with \"don't know\".",
		"",
		"   " + key("?") + "   what this program keeps, and how to read it.",
		"",
		"   " + key("1") + "   view an invented bench first, in a file that is thrown away;",
		"       leave it with q and you are back here.",
	}
}

// foot is the line at the bottom for what is being asked or was saved.
func (b *bench) foot() []string {
	t := b.Env.Theme
	switch m := b.m(); {
	case b.finding:
		return []string{" " + t.Text.Strong.Text("find") + "  " + t.Plain(theme.Safe(b.name.text)) + "_"}
	case b.ask && m != nil && b.Data.Bench.Sessions[m.Session] != nil:
		s := b.Data.Bench.Sessions[m.Session]
		q := theme.Safe(m.Name) + ": " + theme.Safe(s.Title) + " begun, " + theme.Safe(s.Position) + ". Go on with it?"
		return []string{" " + t.Text.Strong.Text(t.Trunc(t.Plain(q), b.W-1))}
	}
	return b.swap.lines(b.W)
}

// apart sets lines at the bottom apart from what is above them, where there is room.
func apart(foot []string, h int) []string {
	if len(foot) == 0 || h < 12 {
		return foot
	}
	return append([]string{""}, foot...)
}

// pad fills up with empty lines.
func pad(lines []string, n int) []string {
	for len(lines) < n {
		lines = append(lines, "")
	}
	return lines
}
