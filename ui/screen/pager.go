package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// pager shows lines that may be more than fit, and scrolls them. Embed it, fill it on every change of
// size or content.
type pager struct {
	text []string
	top  int
	room int
}

// fill sets the lines and how many fit, and keeps the place where it can.
func (p *pager) fill(lines []string, room int) {
	p.text, p.room = lines, max(1, room)
	p.top = max(0, min(p.top, p.last()))
}

// more tells whether not all lines fit.
func (p *pager) more() bool { return len(p.text) > p.room }

// page is how many lines are shown: where not all fit the last one says where this is.
func (p *pager) page() int {
	if p.more() {
		return max(1, p.room-1)
	}
	return p.room
}

func (p *pager) last() int { return max(0, len(p.text)-p.page()) }

// scroll moves by a key.
func (p *pager) scroll(key string) {
	step := map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -p.page(), "pgdown": p.page(), " ": p.page(),
		"home": -len(p.text), "end": len(p.text)}[key]
	p.top = max(0, min(p.top+step, p.last()))
}

// keys are the keys that scroll, none where all is in view.
func (p *pager) keys() []Key {
	if !p.more() {
		return nil
	}
	scroll := func(k Press) tea.Cmd { p.scroll(k.Key()); return nil }
	return []Key{
		On("up/down", "scroll", "one line up or down; k and j do the same", scroll, "up", "k", "down", "j"),
		On("space", "next page", "a page on; pgup and pgdn, home and end work too", scroll, "space", "pgup", "pgdown", "home", "end"),
	}
}

// view draws the lines in view.
func (p *pager) view(t *theme.Theme, w int) string {
	if !p.more() {
		return strings.Join(p.text, "\n")
	}
	end := min(len(p.text), p.top+p.page())
	lines := append([]string(nil), p.text[p.top:end]...)
	for len(lines) < p.page() {
		lines = append(lines, "")
	}
	where := " lines " + itoa(p.top+1) + t.Plain("–") + itoa(end) + " of " + itoa(len(p.text))
	return strings.Join(append(lines, t.Text.Dim.Text(t.Trunc(where, w))), "\n")
}
