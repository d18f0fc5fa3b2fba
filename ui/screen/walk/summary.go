package walk

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// summary is one ended session on a page.
type summary struct {
	screen.Base
	screen.Pager
	desk    session.Desk
	session string
	s       *session.Session
	sum     walk.Summary
	saving  bool // an outcome
}

// NewSummary makes the page of an ended session.
func NewSummary(e *screen.Env, desk session.Desk, session string) screen.Screen {
	return &summary{Base: sparing(e), desk: desk, session: session}
}

// Init reads the session.
func (v *summary) Init() tea.Cmd {
	desk, id := v.desk, v.session
	return v.Read(func(screen.Store) (any, error) {
		s, err := desk.Open(id)
		return walkOpened{s}, err
	})
}

func (v *summary) SetSize(w, h int) {
	v.Base.SetSize(w, h)
	v.refill()
}

// Title names machine and session, and the minutes.
func (v *summary) Title() (string, string) {
	if v.s == nil {
		return "summary", ""
	}
	left, right := v.heading()
	if v.crowded() {
		right = ""
	}
	return left, right
}

// heading is what the title line would say with room for all of it.
func (v *summary) heading() (left, right string) {
	sum := v.sum
	return v.s.Machine.Name + "   " + sum.Title + " closed " + model.Stamp(sum.Closed, v.Now),
		"hands " + model.Figure(float64(int(sum.Hands+0.5))) + " min, waited " +
			model.Figure(float64(int(sum.Waited+0.5)))
}

// crowded tells that the minutes have no room in the title line; they then stand below it.
func (v *summary) crowded() bool {
	left, right := v.heading()
	return theme.Width(left)+theme.Width(right)+4 > v.W
}

// Keys are those that work now.
func (v *summary) Keys() []screen.Key {
	ks := []screen.Key{}
	if c, asked := v.pending(); asked {
		ks = screen.OutcomeKeys("it is not asked again; leave without an answer and the bench asks later", func(is model.CureWord) tea.Cmd {
			if v.saving {
				return nil
			}
			v.saving = true
			return v.WriteOutcome(c, v.s.W.MachineID, is, v.desk.Lib.All)
		})
	}
	return append(append(ks, v.Pager.Keys()...),
		screen.On("enter", "bench", "", screen.Sends(screen.Home{})).Afresh(), screen.Back)
}

// pending is the outcome of this very session, where it is still to be said.
func (v *summary) pending() (model.Complained, bool) {
	if v.s == nil || v.Data == nil {
		return model.Complained{}, false
	}
	m := v.Data.Machine(v.s.W.MachineID)
	if m == nil {
		return model.Complained{}, false
	}
	c, asked := symptom.Pending(m)
	return c, asked && c.Session == v.session
}

// Update takes a message.
func (v *summary) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Result:
		if x, ok := msg.Value.(walkOpened); ok && !v.Stale(msg) && msg.Err == nil {
			v.s, v.sum = x.s, x.s.Summary(v.Now)
			v.refill()
		}
		if msg.Wrote && !v.Stale(msg) {
			v.saving = false
			if note, ok := msg.Value.(screen.Notice); ok && msg.Err == nil {
				v.refill()
				return v, screen.Send(note)
			}
		}
	case screen.Press:
		cmd, _ := screen.Act(v.Keys(), msg)
		return v, cmd
	default:
		if v.Take(msg); v.s != nil {
			v.refill()
		}
	}
	return v, nil
}

func (v *summary) refill() {
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
	if c, asked := v.pending(); asked {
		for _, l := range theme.Wrap(t.Plain(theme.Safe(session.OutcomeQuestion(c, v.Env.Names()))),
			v.W-2) {
			out = append(out, " "+t.Text.Accent.Text(l))
		}
		out = append(out, "")
	}
	add("left as", sum.State)
	if _, minutes := v.heading(); v.crowded() {
		add("minutes", minutes)
	}
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
	v.Fill(out, v.H)
}

// View draws the page.
func (v *summary) View() string {
	if v.s == nil {
		return " reading the session"
	}
	return v.Pager.View(v.Env.Theme, v.W)
}
