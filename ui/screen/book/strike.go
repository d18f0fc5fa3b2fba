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

// striking is an action being struck, or put back by striking its strike, with a reason.
type striking struct {
	*screen.Form
	action string
	of     string // the machine, "" for a move of the drawer alone
	back   bool
	with   together
}

// together is what is struck or put back with an entry, and the action a strike has to name for it:
// "" until it was read.
type together struct {
	lines  []book.Line
	strike string
}

// strikable tells whether the entry at the cursor can be struck.
func (s *page) strikable() bool {
	l := s.cursor()
	return l != nil && model.ClassOf(l.Entry.Kind) == model.Dated && !l.Struck
}

// struck tells whether the entry at the cursor is struck.
func (s *page) struck() bool {
	l := s.cursor()
	return l != nil && l.Struck
}

// startStrike asks why the entry at the cursor is struck or put back, and reads what was saved with
// it.
func (s *page) startStrike(screen.Press) tea.Cmd {
	l := s.cursor().Line
	id, of, now, names := l.Entry.Action, l.Entry.Machine, s.Now, s.Env.Names()
	verb, ask := "strike it", "what was wrong with it"
	if l.Struck {
		verb, ask = "put it back", "why it is right after all"
	}
	s.why = &striking{action: id, of: of, back: l.Struck, with: together{lines: []book.Line{l}}}
	s.why.Form = &screen.Form{Verb: verb,
		Save: s.strike, Leave: func() tea.Cmd { s.why = nil; return nil },
		Check: func(r *screen.Row) string {
			_, err := action.Text("a reason", r.Value())
			return screen.Sentence(err)
		},
		Rows: []*screen.Row{
			{Name: "why", Ask: ask,
				Hint: "The reason stays in the book beside the entry."},
			{Name: "save", Kind: screen.RowDo, Ask: verb}}}
	s.why.Hold()
	return s.Read(func(st screen.Store) (any, error) {
		entries, err := st.Entries(store.Filter{Action: id})
		if err != nil {
			return nil, err
		}
		w := together{strike: id}
		if w.lines, err = inWords(st, entries, names, now); err == nil && l.Struck {
			w.strike, err = strikeOf(st, of, id)
		}
		return w, err
	})
}

// strikeOf is the action that struck another and stands.
func strikeOf(st screen.Store, machine, action string) (string, error) {
	strikes, err := st.Entries(store.Filter{Machine: machine,
		Kinds: []model.EntryKind{model.KindStrike}})
	if err != nil {
		return "", err
	}
	out, struck := "", model.Struck(strikes)
	for _, e := range strikes {
		if e.Strike.Action == action && !struck[e.Action] {
			out = e.Action
		}
	}
	return out, nil
}

func (s *page) strike() tea.Cmd {
	if !s.why.Sound() || s.why.with.strike == "" {
		return nil
	}
	s.why.Saving = true
	why := s.why.Row("why").Value()
	return s.Strike(s.why.of, s.why.with.strike, why)
}

// strikeView shows what a strike takes with it, and asks why.
func (s *page) strikeView() string {
	t := s.Env.Theme
	head := "This is struck:"
	if s.why.back {
		head = "This is put back:"
	}
	out := []string{" " + t.Text.Strong.Text(head)}
	for _, l := range s.why.with.lines {
		out = append(out, screen.Fit(t, "   "+model.Stamp(l.Entry.At, s.Now)+"  "+
			t.Plain(l.Text), s.W))
	}
	out = append(screen.Clip(out, max(1, s.H-6)), "")
	form := strings.Split(s.why.View(t, s.W, s.H-len(out)), "\n")
	return strings.Join(screen.Clip(append(out, form...), s.H), "\n")
}
