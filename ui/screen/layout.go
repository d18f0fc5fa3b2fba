package screen

import (
	"slices"
	"strconv"
	"strings"

	"bench/oilcan/ui/theme"
)

// The least size a screen is drawn in; below it one line asks for more room.
const (
	minWidth  = 40
	minHeight = 10
)

// rect is a size in cells.
type rect struct{ w, h int }

// frame is where things are on a screen of w x h cells: the title line, a line of air where there
// is room, the body, a line for words of the program's own, the key line.
type frame struct {
	small bool // too small to draw
	air   int  // lines between title and body
	body  rect
}

// layout places everything. The body is never smaller than it is at the least size.
func layout(w, h int) frame {
	f := frame{small: w < minWidth || h < minHeight}
	if h >= 16 {
		f.air = 1
	}
	f.body = rect{max(w, minWidth), max(h, minHeight) - 3 - f.air}
	return f
}

// View is the whole screen as the terminal is given it: nothing in it is obeyed but the theme's own
// codes.
func (r *Root) View() string { return r.env.Theme.Visible(r.Draw()) }

// Draw draws the whole screen, never wider or higher than the terminal.
func (r *Root) Draw() string {
	if r.w <= 0 || r.h <= 0 {
		return "" // the size is not known yet
	}
	f := layout(r.w, r.h)
	if f.small {
		return r.env.Theme.Trunc("oilcan needs 40x10 cells; this is "+strconv.Itoa(r.w)+"x"+
			strconv.Itoa(r.h), r.w)
	}
	if r.data == nil {
		if r.status != "" {
			return strings.Join(Clip(theme.Wrap(r.status, r.w), r.h), "\n")
		}
		return " reading the bench"
	}
	t := r.env.Theme
	lines := make([]string, 0, r.h)
	lines = append(lines, r.title(r.w))
	for range f.air {
		lines = append(lines, "")
	}
	body := strings.Split(r.Top().View(), "\n")
	for i := range f.body.h {
		if i < len(body) {
			lines = append(lines, Fit(t, body[i], r.w))
			continue
		}
		lines = append(lines, "")
	}
	words := r.words(r.w)
	at := len(lines) + 1 - max(1, len(words))
	lines = append(lines[:at], words...)
	for len(lines) < r.h-1 {
		lines = append(lines, "")
	}
	return strings.Join(append(lines, keyLine(t, r.Keys(), r.helpKey(), r.w)), "\n")
}

// helpKey is the key that opens the help page now: f1 where ? is a letter of what is typed, none on
// the page itself.
func (r *Root) helpKey() string {
	if isHelp(r.Top()) {
		return ""
	}
	if r.Top().TakesText() && !slices.ContainsFunc(r.Keys(), func(k Key) bool {
		return k.label() == "?" && k.Enabled()
	}) {
		return "f1"
	}
	return "?"
}

// title is the title line: what this is on the left, figures or the date on the right.
func (r *Root) title(w int) string {
	t := r.env.Theme
	left, right := r.Top().Title()
	left, right = theme.Safe(left), theme.Safe(right)
	left = t.Text.Strong.Text(t.Trunc(" "+left, max(0, w-2-theme.Width(right))))
	return strings.TrimRight(t.Between(left, right+" ", w), " ")
}

// words are what the program itself has to say: an error until it is dismissed, else a notice. At
// most three lines; they cover the end of the body.
func (r *Root) words(w int) []string {
	t := r.env.Theme
	if r.status != "" {
		lines := Clip(theme.Wrap(t.Plain(theme.Safe(r.status))+"  (esc: seen)", w-2), 3)
		for i, l := range lines {
			lines[i] = t.State.Past.Text(" " + l)
		}
		return lines
	}
	if r.notice != "" {
		lines := Clip(theme.Wrap(t.Plain(theme.Safe(r.notice)), w-2), 3)
		for i, l := range lines {
			lines[i] = " " + l
		}
		return lines
	}
	return nil
}

// Keys are those of the top screen, and the root's own.
func (r *Root) Keys() []Key {
	ks := r.Top().Keys()
	if r.status != "" {
		return []Key{Shown("esc", "seen, go on", "")}
	}
	return ks
}

// keyLine writes keys on one line of at most w cells, as many as there is room for: the way back is
// always among them, and the help key, where there is one, closes the line.
func keyLine(t *theme.Theme, keys []Key, help string, w int) string {
	const gap = 3
	cells := func(k Key) int {
		return theme.Width(t.Plain(k.label())) + 1 + theme.Width(t.Plain(k.does())) + gap
	}
	more := Shown(help, "more", "").When(help != "")
	var back *Key
	room := w - 1 + gap
	if more.Enabled() {
		room -= cells(more)
	}
	for i := range keys {
		if keys[i].label() == "esc" && keys[i].does() != "" && keys[i].Enabled() {
			back = &keys[i]
			room -= cells(keys[i])
		}
	}
	var shown []Key
	for _, k := range keys {
		if k.does() == "" || k.label() == "esc" || !k.Enabled() {
			continue
		}
		if room -= cells(k); room < 0 {
			break
		}
		shown = append(shown, k)
	}
	if back != nil {
		shown = append(shown, *back)
	}
	if more.Enabled() {
		shown = append(shown, more)
	}
	var parts []string
	for _, k := range shown {
		parts = append(parts, t.Text.Accent.Text(t.Plain(k.label()))+" "+t.Plain(k.does()))
	}
	return Fit(t, " "+strings.Join(parts, strings.Repeat(" ", gap)), w)
}
