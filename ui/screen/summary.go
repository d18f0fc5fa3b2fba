package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model/walk"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// summaryScreen is one ended session on a page.
type summaryScreen struct {
	Base
	pager
	desk    sitting.Desk
	session string
	s       *sitting.Sitting
	sum     walk.Summary
}

// NewSummary makes the page of an ended session.
func NewSummary(e *Env, desk sitting.Desk, session string) Screen {
	return &summaryScreen{Base: e.Base(), desk: desk, session: session}
}

// Init reads the session.
func (v *summaryScreen) Init() tea.Cmd {
	desk, id := v.desk, v.session
	return v.Read(func(Store) (any, error) {
		s, err := desk.Open(id)
		return walkOpened{s}, err
	})
}

func (v *summaryScreen) SetSize(w, h int) Screen { v.Size(w, h); v.refill(); return v }

// Title names machine and session, and the minutes.
func (v *summaryScreen) Title() (string, string) {
	if v.s == nil {
		return "summary", ""
	}
	sum := v.sum
	return v.s.Machine.Name + "   " + sum.Title + " closed " + sum.Closed.Format("2006-01-02 15:04"),
		"hands " + walk.Number(float64(int(sum.Hands+0.5))) + " min, waited " + walk.Number(float64(int(sum.Waited+0.5)))
}

// Keys are those that work now.
func (v *summaryScreen) Keys() []Key {
	return append(v.pager.keys(), Key{Label: "enter", Does: "bench"}, Key{Label: "esc", Does: "back"})
}

// Update takes a message.
func (v *summaryScreen) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case Result:
		if x, ok := msg.Value.(walkOpened); ok && !v.Stale(msg) && msg.Err == nil {
			v.s, v.sum = x.s, x.s.Summary(v.Now)
			v.refill()
		}
	case Press:
		if msg.Key() == "enter" && msg.Passes() {
			return v, Send(Home{})
		}
		v.scroll(msg.Key())
	default:
		v.Take(msg)
	}
	return v, nil
}

func (v *summaryScreen) refill() {
	if v.s == nil {
		return
	}
	t := v.Env.Theme
	sum := v.sum
	var out []string
	add := func(head string, items ...string) {
		for i, it := range items {
			for j, l := range theme.Wrap(t.Plain(theme.Safe(it)), max(20, v.W-14)) {
				h := "          "
				if i == 0 && j == 0 {
					h = t.Pad(t.Text.Strong.Text(head), 10)
				}
				out = append(out, " "+h+" "+l)
			}
		}
		if len(items) > 0 {
			out = append(out, "")
		}
	}
	add("left as", sum.State)
	add("done", sum.Done...)
	add("swapped", sum.Swapped...)
	add("not done", sum.Left...)
	var read []string
	for _, r := range sum.Readings {
		read = append(read, r.String())
	}
	add("readings", strings.Join(read, " · "))
	add("counted", sum.Counted)
	add("findings", sum.Findings...)
	add("next", sum.Next...)
	v.fill(out, v.H)
}

// View draws the page.
func (v *summaryScreen) View() string {
	if v.s == nil {
		return " reading the session"
	}
	return v.view(v.Env.Theme, v.W)
}
