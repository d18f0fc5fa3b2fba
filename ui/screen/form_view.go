package screen

import (
	"strings"

	"bench/oilcan/ui/theme"
)

// view draws the form in h lines of w cells, the current question in view.
func (f *form) view(t *theme.Theme, w, h int) string {
	if len(f.rows) == 0 {
		return ""
	}
	cur := f.current()
	col := 0
	for _, r := range f.asked() {
		col = max(col, theme.Width(r.ask))
	}
	col = min(col, w/2-4)
	var lines []string
	from, to := 0, 0
	for _, r := range f.asked() {
		if r.head != "" {
			lines = append(lines, "", " "+t.Text.Strong.Text(t.Plain(r.head)))
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
	top := inView(from, to, len(lines), room)
	lines = clip(lines[top:], room)
	return strings.Join(append(pad(lines, room), foot...), "\n")
}

func (f *form) foot(t *theme.Theme, w int) []string {
	switch {
	case f.leaving:
		return []string{" " + t.Text.Strong.Text(t.Trunc("Leave without saving what you typed?", w-2)) + "  " + t.Text.Accent.Text("y") + " leave  " + t.Text.Accent.Text("n") + " stay"}
	case f.saving:
		return []string{" saving"}
	}
	return nil
}

func (f *form) drawRow(t *theme.Theme, r *formRow, cur bool, col, w int) []string {
	if r.kind == rowDo {
		lead := "   "
		word := r.ask
		if cur {
			lead, word = " "+t.Text.Accent.Text(">")+" ", t.Text.Accent.Text(word)
		}
		return append([]string{"", lead + word}, badLines(t, r, 5, w)...)
	}
	ask := t.Pad(t.Plain(r.ask), col)
	if !cur {
		answer := t.Trunc(t.Plain(r.shown()), w-col-7)
		if r.unanswered() {
			answer = t.Text.Dim.Text(answer)
		}
		return append([]string{"   " + ask + "   " + answer}, badLines(t, r, col+6, w)...)
	}
	lead := " " + t.Text.Accent.Text(">") + " " + t.Text.Accent.Text(ask) + "   "
	var lines []string
	switch r.kind {
	case rowText:
		typed := t.Plain(theme.Safe(r.text.text))
		if over := theme.Width(typed) - (w - col - 9); over > 0 {
			typed = tail(typed, w-col-9)
		}
		line := lead + typed + "_"
		if typed == "" && r.empty != "" {
			line += "  " + t.Text.Dim.Text(t.Plain("empty: "+r.empty))
		}
		lines = append(lines, fit(t, line, w))
	default:
		for i, o := range r.opts {
			lines = append(lines, fit(t, lead+f.option(t, r, i, o), w))
			lead = strings.Repeat(" ", col+6)
		}
	}
	lines = append(lines, badLines(t, r, col+6, w)...)
	if r.hint != "" {
		for _, l := range theme.Wrap(t.Plain(r.hint), max(20, w-col-8)) {
			lines = append(lines, strings.Repeat(" ", col+6)+t.Text.Dim.Text(fit(t, l, w-col-6)))
		}
	}
	return lines
}

// option draws one answer: a mark where it is chosen, its number, what it says.
func (f *form) option(t *theme.Theme, r *formRow, i int, o formOption) string {
	mark := "  "
	switch {
	case r.kind == rowMany && r.many[i]:
		mark = "x "
	case r.kind == rowOne && r.one == i:
		mark = "* "
	}
	text := t.Text.Accent.Text(itoa(i+1)) + " " + mark + t.Plain(o.says)
	if strings.TrimSpace(mark) != "" {
		text = t.Text.Accent.Text(itoa(i+1)) + " " + t.Text.Strong.Text(mark+t.Plain(o.says))
	}
	return text
}

// badLines draws why an answer cannot be, under it.
func badLines(t *theme.Theme, r *formRow, indent, w int) []string {
	if r.bad == "" {
		return nil
	}
	var out []string
	for _, l := range theme.Wrap(t.Plain(theme.Safe(r.bad)), max(20, w-indent-2)) {
		out = append(out, strings.Repeat(" ", indent)+t.State.Past.Text(fit(t, l, w-indent)))
	}
	return out
}

// tail keeps the end of a text that is too wide for its line, where the typing goes on.
func tail(s string, w int) string {
	for theme.Width(s) > w && s != "" {
		_, n := firstRune(s)
		s = s[n:]
	}
	return s
}

func firstRune(s string) (string, int) {
	for i := range s {
		if i > 0 {
			return s[:i], i
		}
	}
	return s, len(s)
}
