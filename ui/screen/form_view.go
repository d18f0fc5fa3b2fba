package screen

import (
	"strconv"
	"strings"

	"bench/oilcan/ui/theme"
)

// View draws the form in h lines of w cells, the current question in view.
func (f *Form) View(t *theme.Theme, w, h int) string {
	if len(f.Rows) == 0 {
		return ""
	}
	cur := f.Current()
	col := 0
	for _, r := range f.Asked() {
		col = max(col, theme.Width(r.Ask))
	}
	col = min(col, w/2-4)
	var lines []string
	from, to := 0, 0
	for _, r := range f.Asked() {
		if r.Head != "" {
			lines = append(lines, "", " "+t.Text.Strong.Text(t.Plain(r.Head)))
		}
		if r == cur {
			from = len(lines)
		}
		lines = append(lines, f.drawRow(t, r, r == cur, col, w)...)
		if r == cur {
			to = len(lines)
		}
	}
	foot := f.foot(t, w)
	room := max(1, h-len(foot))
	top := InView(from, to, len(lines), room)
	return Over(lines[top:], foot, h)
}

func (f *Form) foot(t *theme.Theme, w int) []string {
	switch {
	case f.Leaving:
		return []string{LeaveLine(t, Unsaved, w)}
	case f.Saving:
		return []string{" saving"}
	}
	return nil
}

// What is asked before what is typed is left behind, and what y does then.
const (
	Unsaved       = "Leave without saving what you typed?"
	LeavesUnsaved = "leave without saving"
)

// LeaveLine asks back, in w cells, before something is left behind.
func LeaveLine(t *theme.Theme, ask string, w int) string {
	return " " + t.Text.Strong.Text(t.Trunc(ask, w-2)) + "  " +
		t.Text.Accent.Text("y") + " leave  " + t.Text.Accent.Text("n") + " stay"
}

func (f *Form) drawRow(t *theme.Theme, r *Row, cur bool, col, w int) []string {
	if r.Kind == RowDo {
		lead, word := UnderCursor(t, cur, r.Ask)
		return append([]string{"", lead + word}, badLines(t, r, 5, w)...)
	}
	ask := t.Pad(t.Plain(r.Ask), col)
	if !cur {
		answer := t.Trunc(t.Plain(r.Shown()), w-col-7)
		if r.unanswered() {
			answer = t.Text.Dim.Text(answer)
		}
		return append([]string{"   " + ask + "   " + answer}, badLines(t, r, col+6, w)...)
	}
	lead, ask := UnderCursor(t, true, ask)
	lead += ask + "   "
	var lines []string
	switch r.Kind {
	case RowText:
		line := lead + t.Plain(r.Text.Drawn(w-col-8))
		if r.Text.Text == "" && r.Empty != "" {
			line += "  " + t.Text.Dim.Text(t.Plain("empty: "+r.Empty))
		}
		lines = append(lines, Fit(t, line, w))
	default:
		for i, o := range r.Opts {
			lines = append(lines, Fit(t, lead+f.option(t, r, i, o), w))
			lead = strings.Repeat(" ", col+6)
		}
	}
	lines = append(lines, badLines(t, r, col+6, w)...)
	if r.Hint != "" {
		for _, l := range theme.Wrap(t.Plain(r.Hint), max(20, w-col-8)) {
			lines = append(lines, strings.Repeat(" ", col+6)+t.Text.Dim.Text(Fit(t, l, w-col-6)))
		}
	}
	return lines
}

// option draws one answer: a mark where it is chosen, its number, what it says.
func (f *Form) option(t *theme.Theme, r *Row, i int, o Option) string {
	mark := "  "
	switch {
	case r.Kind == RowMany && r.Many[i]:
		mark = "x "
	case r.Kind == RowOne && r.One == i:
		mark = "* "
	}
	text := t.Text.Accent.Text(strconv.Itoa(i+1)) + " " + mark + t.Plain(o.Says)
	if strings.TrimSpace(mark) != "" {
		text = t.Text.Accent.Text(strconv.Itoa(i+1)) + " " +
			t.Text.Strong.Text(mark+t.Plain(o.Says))
	}
	return text
}

// badLines draws why an answer cannot be, under it.
func badLines(t *theme.Theme, r *Row, indent, w int) []string {
	if r.Bad == "" {
		return nil
	}
	var out []string
	for _, l := range theme.Wrap(t.Plain(theme.Safe(r.Bad)), max(20, w-indent-2)) {
		out = append(out, strings.Repeat(" ", indent)+t.State.Past.Text(Fit(t, l, w-indent)))
	}
	return out
}
