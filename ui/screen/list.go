package screen

import tea "github.com/charmbracelet/bubbletea"

// List is a cursor in a list. Embed it.
type List struct{ At int }

// Moves is the key that moves in a list of n lines, page of which are a page.
func (l *List) Moves(does, says string, n, page int) Key {
	steps := map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -page, "pgdown": page,
		"home": -n, "end": n}
	return On("up/down", does, says, func(p Press) tea.Cmd {
		l.At += steps[p.Key()]
		l.Keep(n)
		return nil
	}, "up", "k", "down", "j", "pgup", "pgdown", "home", "end")
}

// Keep keeps the cursor in a list of n lines.
func (l *List) Keep(n int) { l.At = max(0, min(l.At, n-1)) }

// InView is the first line to show so that the lines from..to stand in a window of room lines, with
// what comes before and after in view too where it can be.
func InView(from, to, all, room int) int {
	top := max(from-room/3, to-room)
	if from < room/2 && to <= room {
		top = 0
	}
	return max(0, min(top, from, all-room))
}
