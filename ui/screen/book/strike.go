package book

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
)

// striking is an action being struck, with a reason.
type striking struct {
	*screen.Form
	action string
	lines  []book.Line // what is struck with it
}

// strikable tells whether the entry at the cursor can be struck.
func (s *page) strikable() bool {
	l, read := s.shown().line(s.At)
	return read && model.ClassOf(l.Entry.Kind) == model.Dated && !l.Struck
}

// startStrike asks why the entry at the cursor is struck, and reads what was saved with it.
func (s *page) startStrike(screen.Press) tea.Cmd {
	l, _ := s.shown().line(s.At)
	id, now, names := l.Entry.Action, s.Now, s.Env.Names()
	s.why = &striking{action: id, lines: []book.Line{l}, Form: &screen.Form{Verb: "strike it",
		Save: s.strike, Leave: func() tea.Cmd { s.why = nil; return nil },
		Check: func(r *screen.Row) string {
			_, err := action.Text("a reason", r.Value())
			return screen.Sentence(err)
		},
		Rows: []*screen.Row{
			{Name: "why", Ask: "what was wrong with it",
				Hint: "The reason stays in the book beside the entry."},
			{Name: "save", Kind: screen.RowDo, Ask: "strike it"}}}}
	s.why.Hold()
	return s.Read(func(st screen.Store) (any, error) {
		entries, err := st.Entries(store.Filter{Action: id})
		if err != nil {
			return nil, err
		}
		lines, err := inWords(st, entries, names, now)
		return lines, err
	})
}

func (s *page) strike() tea.Cmd {
	if !s.why.Sound() {
		return nil
	}
	s.why.Saving = true
	why := s.why.Row("why").Value()
	return s.Append(model.Action{Machine: s.of, Facts: []model.Fact{{Kind: model.KindStrike,
		Strike: &model.Strike{Action: s.why.action, Why: why}}}})
}

// strikeView shows what a strike takes with it, and asks why.
func (s *page) strikeView() string {
	t := s.Env.Theme
	out := []string{" " + t.Text.Strong.Text("This is struck:")}
	for _, l := range s.why.lines {
		out = append(out, screen.Fit(t, "   "+model.Stamp(l.Entry.At, s.Now)+"  "+
			t.Plain(l.Text), s.W))
	}
	out = append(screen.Clip(out, max(1, s.H-6)), "")
	form := strings.Split(s.why.View(t, s.W, s.H-len(out)), "\n")
	return strings.Join(screen.Clip(append(out, form...), s.H), "\n")
}
