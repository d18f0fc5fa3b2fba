package plan

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// findKeys are those while letters look for a procedure.
func (v *page) findKeys() []screen.Key {
	n := len(v.hits())
	next := func(by int) screen.Deed {
		return func(screen.Press) tea.Cmd {
			v.hit = (v.hit + by + n) % n
			return v.toFound()
		}
	}
	return []screen.Key{
		screen.On("enter", "stay there", "", func(screen.Press) tea.Cmd {
			v.finding = n == 0 && v.find.Text != ""
			return v.toFound()
		}),
		screen.On("down", "next one", "", next(1), "down").When(n > 1),
		screen.On("up", "", "", next(-1), "up").When(n > 1),
		screen.On("esc", "back", "", screen.Do(func() { v.finding, v.At = false, v.was })),
		screen.TabKey,
	}
}

// titles are those of the procedures that can be found.
func (v *page) titles() []string {
	var out []string
	for _, r := range v.rows {
		out = append(out, r.title)
	}
	return out
}

// hits are the rows that have what is typed, likeliest first: what its gauge is called, then how a
// word of its title begins, then any part of title or id.
func (v *page) hits() []int {
	text := strings.ToLower(strings.TrimSpace(v.find.Text))
	if text == "" {
		return nil
	}
	ranks := make([][]int, 3)
	for i, r := range v.rows {
		title, short := strings.ToLower(r.title), ""
		if r.gauge != nil {
			short = strings.ToLower(r.gauge.Short)
		}
		switch {
		case strings.HasPrefix(short, text):
			ranks[0] = append(ranks[0], i)
		case strings.HasPrefix(title, text) || strings.Contains(title, " "+text):
			ranks[1] = append(ranks[1], i)
		case strings.Contains(title+" "+short+" "+r.id, text):
			ranks[2] = append(ranks[2], i)
		}
	}
	return slices.Concat(ranks...)
}

// toFound puts the cursor on what is found.
func (v *page) toFound() tea.Cmd {
	hits := v.hits()
	if len(hits) > 0 {
		v.At = hits[v.hit%len(hits)]
	} else if strings.TrimSpace(v.find.Text) != "" {
		return screen.Send(screen.Notice{Text: "No procedure here has that in its title or id."})
	}
	return nil
}

// findLine is what is typed, and where it leads.
func (v *page) findLine() string {
	t := v.Env.Theme
	head := " " + t.Text.Strong.Text("find:") + " "
	hits := v.hits()
	if len(hits) == 0 {
		return head + v.find.DrawnAmong(t, v.W-7, v.titles())
	}
	in := "out"
	if v.rows[v.At].in {
		in = "in"
	}
	to := fmt.Sprintf("   %s, %s; %d of %d", theme.Safe(v.rows[v.At].title), in, v.hit+1, len(hits))
	text := v.find.Drawn(0)
	return head + t.Plain(text) + t.Text.Dim.Text(t.Trunc(t.Plain(to), max(0, v.W-7-theme.Width(text))))
}
