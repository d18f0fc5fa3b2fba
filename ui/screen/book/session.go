package book

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/sheet"
	"bench/oilcan/ui/theme"
)

// sessionPage is a session as it is on record.
type sessionPage struct {
	screen.Base
	screen.Pager
	session string
	doc     sheet.Doc
	seen    *model.Bench // it was read for
	read    bool
	failed  bool
}

// NewSession makes the page of a session on record.
func NewSession(e *screen.Env, id string) screen.Screen {
	return &sessionPage{Base: e.Base(), session: id}
}

// Init reads the session.
func (s *sessionPage) Init() tea.Cmd {
	s.seen = s.Data.Bench
	id, names, now := s.session, s.Env.Names(), s.Now
	return s.Read(func(st screen.Store) (any, error) {
		r, err := session.Record(st, id, names, now)
		if err != nil {
			return nil, err
		}
		return sheet.Done(r, names, now), nil
	})
}

func (s *sessionPage) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	s.lay()
}

func (s *sessionPage) Title() (string, string) { return theme.Safe(s.doc.Title), "" }

func (s *sessionPage) Keys() []screen.Key { return append(s.Pager.Keys(), screen.Back) }

func (s *sessionPage) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Press:
		cmd, _ := screen.Act(s.Keys(), msg)
		return s, cmd
	case screen.Result:
		if s.Stale(msg) {
			return s, nil // the entries it was read from are not the newest
		}
		if d, ok := msg.Value.(sheet.Doc); ok {
			s.doc, s.read = d, true
		}
		s.failed = msg.Err != nil
		s.lay()
	case screen.DataChanged:
		if s.Take(msg); s.seen != s.Data.Bench {
			return s, s.Init()
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

// lay fills the page.
func (s *sessionPage) lay() {
	t := s.Env.Theme
	var out []string
	for _, l := range s.doc.Text(min(s.W-2, widest)) {
		text := t.Plain(l.Text)
		if l.Head {
			text = t.Text.Strong.Text(text)
		}
		out = append(out, strings.TrimRight(" "+text, " "))
	}
	s.Fill(out, s.H)
}

// widest is how wide the page is on a wide terminal.
const widest = 110

// View draws the page.
func (s *sessionPage) View() string {
	switch {
	case s.failed:
		return " The session could not be read: esc goes back, and enter reads it again."
	case !s.read:
		return " reading the session"
	}
	return s.Pager.View(s.Env.Theme, s.W)
}
