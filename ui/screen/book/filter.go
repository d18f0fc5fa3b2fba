package book

import (
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
)

// startFind looks for words as they are typed; those there are stay, to be changed.
func (s *page) startFind() { s.finding, s.words = true, screen.Field{Text: s.filter.Words} }

// findKeys are those while words are typed.
func (s *page) findKeys() []screen.Key {
	stop := func(words string) screen.Deed {
		return screen.Do(func() {
			s.finding, s.filter.Words = false, words
			s.narrow()
		})
	}
	return []screen.Key{
		screen.On("enter", "stay there",
			"keeps what is found in view; . shows all again",
			stop(strings.TrimSpace(s.words.Text))),
		s.Moves("move", "", s.all(), s.room()).But("up", "down", "pgup", "pgdown"),
		screen.On("esc", "back", "forgets the words", stop("")),
	}
}

// wholeBook takes every filter off.
func (s *page) wholeBook(screen.Press) tea.Cmd { return s.look(book.Filter{Machine: s.of}) }

// look narrows the book to what is wanted; another machine's is read.
func (s *page) look(f book.Filter) tea.Cmd {
	other := f.Machine != s.filter.Machine
	if s.filter = f; !other {
		s.narrow()
		return s.more()
	}
	s.rows, s.hits, s.At, s.read = rows{}, nil, 0, false
	return s.again()
}

// startFilter asks what is wanted, with what is wanted now.
func (s *page) startFilter() {
	f := s.filter
	day := func(t time.Time, back time.Duration) string {
		if t.IsZero() {
			return ""
		}
		return model.Day(t.Add(-back), s.Now)
	}
	machine := ""
	if m := s.Data.Machine(f.Machine); m != nil {
		machine = m.Name
	}
	row := func(name, ask, value, empty, hint string) *screen.Row {
		return &screen.Row{Name: name, Ask: ask, Text: screen.Known(value), Empty: empty,
			Hint: hint}
	}
	s.ask = &screen.Form{Verb: "show", Check: s.checkFilter, Save: s.saveFilter,
		Leave: func() tea.Cmd { s.ask = nil; return nil },
		Rows: []*screen.Row{
			row("from", "from the day", day(f.From, 0), "the first", "yesterday, 30d, 2026-11-01"),
			row("to", "to the day", day(f.To, 1), "today", "that day is in it"),
			row("machine", "machine", machine, "all", "the beginning of its name is enough"),
			row("kind", "kind", f.Kind, "all", strings.Join(book.KindWords(), ", ")),
			row("part", "part", f.Part, "all",
				"renewed, moved in the drawer, waited for, or cared for: "+
					strings.Join(model.RenewableParts, ", ")+"; supplies too"),
			row("who", "who", f.By, "all", "as the entries are signed"),
			{Name: "show", Kind: screen.RowDo, Ask: "show what is so"},
		}}
	s.ask.Hold()
}

// wantedBy reads the form.
func (s *page) wantedBy() (f book.Filter, bad map[string]error) {
	f, bad = book.Filter{Words: s.filter.Words}, map[string]error{}
	value := func(row string, read func(text string) error) {
		if text := s.ask.Row(row).Value(); text != "" {
			if err := read(text); err != nil {
				bad[row] = err
			}
		}
	}
	value("from", func(text string) (err error) {
		f.From, _, err = action.Day(text, s.Now)
		return err
	})
	value("to", func(text string) (err error) {
		if _, f.To, err = action.Day(text, s.Now); err == nil && !f.To.After(f.From) {
			err = errOrder
		}
		return err
	})
	value("machine", func(text string) error {
		m, err := model.FindMachine(s.Data.Bench, text)
		if err == nil {
			f.Machine = m.ID
		}
		return err
	})
	value("kind", func(text string) (err error) {
		f.Kind, err = action.Find("kind", text, book.KindWords())
		return err
	})
	value("part", func(text string) (err error) {
		f.Part, err = action.Find("part", text, model.SupplyNames)
		return err
	})
	f.By = s.ask.Row("who").Value()
	return f, bad
}

// errOrder is said of a last day that comes before the first.
var errOrder = errors.New("that is before the first day: give a later one, or change the first")

func (s *page) checkFilter(r *screen.Row) string {
	_, bad := s.wantedBy()
	return screen.Sentence(bad[r.Name])
}

func (s *page) saveFilter() tea.Cmd {
	if !s.ask.Sound() {
		return nil
	}
	f, _ := s.wantedBy()
	s.ask = nil
	return s.look(f)
}
