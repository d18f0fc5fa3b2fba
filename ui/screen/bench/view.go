package bench

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
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
	name, due, next, item, rule, word, when int
	// of the list whole, beside the gauges of the machine under the cursor; 0: above them
	list int
	// for what stands open: all, or that of the list where it stands below it
	open int
}

// date is the column in which the dates of what stands open begin.
func (c benchCols) date() int { return min(c.name+14+screen.WideText, c.open-len(time.DateOnly)-1) }

// openAsideFrom is the width from which what stands open has room below the machines, beside the
// gauges.
const openAsideFrom = 150

// columns shares the width out. What a person needs most stays longest.
func columns(w, name int) benchCols {
	c := benchCols{name: max(7, min(name, 12)), due: 3, next: 8, item: 14, word: 7, when: 11,
		open: w}
	if w >= screen.PanesFrom {
		c.name, c.item = max(7, min(name, 12+max(0, w-openAsideFrom)/4)), min(
			14+(w-screen.PanesFrom)/10, 28)
		c.list = c.whenAt() + c.when
		if w >= openAsideFrom {
			c.list = w / 2
			c.open = c.list
		}
		return c
	}
	if w < 66 {
		c.next = 0
	}
	if w < 52 {
		c.due, c.name = 0, min(c.name, 8)
	}
	rest := w - c.whenAt() - c.when - 1
	if rest >= theme.MinRule+1 {
		c.item += min((rest-theme.MinRule-1)/4, 6)
		c.rule = w - c.whenAt() - c.when - 2
	} else {
		c.item = max(8, c.item+rest)
	}
	return c
}

// whenAt is the column in which the list's dates begin.
func (c benchCols) whenAt() int {
	at := 3 + c.name + 1
	for _, n := range []int{c.due, c.next, c.item, c.rule, c.word} {
		if n > 0 {
			at += 1 + n
		}
	}
	return at + 1
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
		b.table.rows = append(b.table.rows,
			screen.Fit(t, b.drawRow(m, c), cmp.Or(c.list, b.W)-4-c.name))
	}
	b.open, b.beside = b.drawItems(), b.drawBeside()
	b.body = b.drawBody()
}

func (b *bench) drawHead(c benchCols) string {
	t := b.Env.Theme
	var s strings.Builder
	s.WriteString("   " + t.Pad("machine", c.name) + " ")
	add := func(n int, text string) {
		if n > 0 {
			s.WriteString(" " + t.Pad(text, n))
		}
	}
	add(c.due, "due")
	add(c.next, "session")
	add(c.item, "most pressing")
	add(c.rule, "")
	add(c.word, "")
	add(c.when, "when")
	return t.Text.Dim.Text(strings.TrimRight(screen.Fit(t, s.String(), b.W), " "))
}

// drawRow draws what stands after the machine's name.
func (b *bench) drawRow(m *model.Machine, c benchCols) string {
	t := b.Env.Theme
	if m.OutOfUse {
		s := "out of use since " + model.Day(m.Since, b.Now) + "; its calendar waits"
		return "  " + t.Text.Dim.Text(s)
	}
	if m.Stopped() {
		return "  " + t.State.Past.Text("stopped") + "  " + t.Plain(theme.Safe(m.Tag.Why))
	}
	g := b.worst(m.ID)
	switch {
	case noHistory(m):
		return "  no history yet: type its meters (m)"
	case g == nil:
		return "  nothing counts here yet: say what it has (e)"
	}
	var s strings.Builder
	if c.due > 0 {
		s.WriteString(" " + t.PadLeft(dueText(b.Data.Gauges[m.ID]), c.due))
	}
	if c.next > 0 {
		s.WriteString(" " + t.Pad(b.nextText(m), c.next))
	}
	s.WriteString(" " + t.Text.Strong.Text(t.Pad(screen.ItemName(t, g), c.item)))
	if c.rule > 0 {
		s.WriteString(" " + t.Rule(c.rule, *g))
	}
	s.WriteString(" " + t.OfState(g.Word).Text(t.Pad(string(g.Word), c.word)))
	s.WriteString(" " + t.Trunc(g.WhenText(b.Now), c.when))
	return s.String()
}

// dueText is how many gauges are due or past; "?" where none is of what is known, and not all is;
// "-" where none is.
func dueText(gs []model.Gauge) string {
	n, unknown := screen.Due(gs)
	switch {
	case n > 0:
		return strconv.Itoa(n)
	case unknown:
		return "?"
	}
	return "-"
}

// nextText is how long the next session takes, hands and waiting, to five minutes; "" until it is
// known.
func (b *bench) nextText(m *model.Machine) string {
	if m.Session != "" {
		return "begun"
	}
	if min, ok := b.Data.Next[m.ID]; ok {
		return strconv.Itoa(int(math.Ceil(min/5))*5) + " min"
	}
	return ""
}

// View gives the bench as last drawn.
func (b *bench) View() string { return b.body }

// drawBody draws machines, what stands open, and where there is room every gauge of the machine
// under the cursor.
func (b *bench) drawBody() string {
	foot := screen.Apart(b.foot(), b.H)
	room := b.H - len(foot)
	if len(b.list) == 0 {
		lines := b.empty()
		if notes := slices.Concat(b.drawClock(), b.drawFiles()); len(notes) > 0 {
			lines = append(append(lines, ""), notes...)
		}
		return screen.Over(lines, foot, b.H)
	}
	c := b.table.cols
	open := b.openIn(room)
	lines := b.listed(max(2, room-1-len(open)))
	switch {
	case c.list == 0:
		lines = below(lines, open, room)
		if left := room - len(lines); left >= leastGauges {
			lines = append(append(lines, ""), screen.Clip(b.detail(left-1, b.W), left-1)...)
		}
	case c.open == c.list:
		lines = screen.Beside(b.Env.Theme, below(lines, open, room),
			b.detail(room, b.W-c.list-screen.PanesApart), c.list+screen.PanesApart)
	default:
		lines = screen.Beside(b.Env.Theme, lines,
			b.detail(room-1-len(open), b.W-c.list-screen.PanesApart), c.list+screen.PanesApart)
		lines = below(lines, open, room)
	}
	return screen.Over(lines, foot, b.H)
}

// below sets what stands open below the machines, where there is room for a line of it.
func below(lines, open []string, room int) []string {
	if len(open) == 0 || room-len(lines) <= 1 {
		return lines
	}
	return append(append(lines, ""), open...)
}

// listed is the list of machines with its head, in n lines at most.
func (b *bench) listed(n int) []string {
	shown := b.rows(max(1, n-1)) // may change the head
	return append([]string{b.table.head}, shown...)
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
		lead, name := screen.UnderCursor(t, i == at,
			t.Pad(t.Plain(theme.Safe(b.list[i].Name)), b.table.cols.name))
		out = append(out, lead+name+" "+b.table.rows[i])
	}
	if b.top+n < len(b.list) || b.top > 0 {
		where := strconv.Itoa(b.top+1) + "-" + strconv.Itoa(b.top+n) + " of " +
			strconv.Itoa(len(b.list)) + " machines"
		if n == 1 {
			where = "machine " + strconv.Itoa(b.top+1) + " of " + strconv.Itoa(len(b.list))
		}
		b.table.head = t.Between(b.drawHead(b.table.cols), t.Text.Dim.Text(where)+" ",
			cmp.Or(b.table.cols.list, b.W))
	}
	return out
}

// detail is every gauge of the machine under the cursor in w columns, as many as n lines have room
// for.
func (b *bench) detail(n, w int) []string {
	t, m := b.Env.Theme, b.m()
	gs := b.Data.Gauges[b.at]
	if m == nil || m.OutOfUse || len(gs) == 0 {
		return nil
	}
	out := []string{" " + t.Text.Strong.Text(t.Plain(theme.Safe(m.Name)))}
	if shown := min(n-1, len(gs)); shown < len(gs) {
		out[0] += t.Text.Dim.Text("   the first " + strconv.Itoa(shown) + " of " +
			strconv.Itoa(len(gs)) + " gauges; enter shows all")
	}
	for i := range gs {
		if len(out) >= n {
			break
		}
		out = append(out, screen.GaugeRow(t, &gs[i], w, b.Base))
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
		return []string{" " + t.Text.Strong.Text("find") + "  " +
			b.name.DrawnAmong(t, b.W-8, b.names())}
	case b.ask && m != nil && b.Data.Bench.Sessions[m.Session] != nil:
		s := b.Data.Bench.Sessions[m.Session]
		q := theme.Safe(m.Name) + ": " + theme.Safe(s.Title) + " begun, " + theme.Safe(s.Position) +
			". Go on with it?"
		return []string{" " + t.Text.Strong.Text(t.Trunc(t.Plain(q), b.W-1))}
	}
	return b.swap.Lines(b.W)
}
