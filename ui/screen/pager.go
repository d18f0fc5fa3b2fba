package screen

import (
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// Pager shows lines that may be more than fit, and scrolls them. Embed it, fill it on every change
// of size or content.
type Pager struct {
	text []string
	Top  int
	room int
}

// Fill sets the lines and how many fit, and keeps the place where it can.
func (p *Pager) Fill(lines []string, room int) {
	p.text, p.room = lines, max(1, room)
	p.Top = max(0, min(p.Top, p.last()))
}

// More tells whether not all lines fit.
func (p *Pager) More() bool { return len(p.text) > p.room }

// page is how many lines are shown: where not all fit the last one says where this is.
func (p *Pager) page() int {
	if p.More() {
		return max(1, p.room-1)
	}
	return p.room
}

func (p *Pager) last() int { return max(0, len(p.text)-p.page()) }

// Scroll moves by a key: a line by the arrows, a page by pgup and pgdn, to the ends by home and
// end.
func (p *Pager) Scroll(key string) {
	step := map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -p.page(),
		"pgdown": p.page(), " ": p.page(),
		"home": -len(p.text), "end": len(p.text)}[key]
	p.Top = max(0, min(p.Top+step, p.last()))
}

// Keys are the keys that scroll, none where all is in view.
func (p *Pager) Keys() []Key {
	if !p.More() {
		return nil
	}
	scroll := func(k Press) tea.Cmd { p.Scroll(k.Key()); return nil }
	return []Key{
		On("up/down", "scroll", "one line up or down; k and j do the same", scroll, "up", "k",
			"down", "j"),
		On("space", "next page", "a page on; pgup and pgdn, home and end work too", scroll, "space",
			"pgup", "pgdown", "home", "end"),
	}
}

// View draws the lines in view.
func (p *Pager) View(t *theme.Theme, w int) string { return strings.Join(p.Lines(t, w), "\n") }

// Lines are the lines in view.
func (p *Pager) Lines(t *theme.Theme, w int) []string {
	if !p.More() {
		return slices.Clone(p.text)
	}
	end := min(len(p.text), p.Top+p.page())
	lines := Pad(slices.Clone(p.text[p.Top:end]), p.page())
	where := " lines " + strconv.Itoa(p.Top+1) + t.Plain("–") + strconv.Itoa(end) + " of " +
		strconv.Itoa(len(p.text))
	return append(lines, t.Text.Dim.Text(t.Trunc(where, w)))
}
