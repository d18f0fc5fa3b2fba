package book

import (
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
)

// A book of many years is read by parts, round the cursor: how many lines before it and behind it, and
// within how many of the end of what is read the next part is asked for.
const (
	around = 300
	ahead  = 100
)

// part is what was read of a list of lines, the latest first.
type part struct {
	from, all int // place of the first line read; how many lines there are
	lines     []book.Line
	nr        int    // of the request
	session   string // whose steps they are; "" for the book
}

// line is the line at a place; false where it was not read.
func (p part) line(at int) (l book.Line, read bool) {
	if at < p.from || at >= p.from+len(p.lines) {
		return l, false
	}
	return p.lines[at-p.from], true
}

// find is the place of an entry's line, -1 where it was not read.
func (p part) find(id string) int {
	i := slices.IndexFunc(p.lines, func(l book.Line) bool { return l.Entry.ID == id })
	if i < 0 {
		return -1
	}
	return p.from + i
}

// short tells that the cursor comes near to what was not read.
func (p part) short(at int) bool {
	end := p.from + len(p.lines)
	return p.from > 0 && at-ahead < p.from || end < p.all && at+ahead >= end
}

// load reads the part round the cursor.
func (s *page) load() tea.Cmd {
	s.asked++
	s.reading, s.seen = true, s.Data.Machine(s.of)
	nr, id, from := s.asked, s.of, max(0, s.At-around)
	now, names := s.Now, s.Env.Names()
	return s.Read(func(st screen.Store) (any, error) {
		entries, all, err := st.Page(id, from, 2*around)
		if err != nil {
			return nil, err
		}
		lines, err := inWords(st, entries, names, now)
		return part{from: from, all: all, lines: lines, nr: nr}, err
	})
}

// loadSteps reads all of a session.
func (s *page) loadSteps(session string) tea.Cmd {
	s.asked++
	nr, now, names := s.asked, s.Now, s.Env.Names()
	return s.Read(func(st screen.Store) (any, error) {
		entries, err := st.Entries(store.Filter{Session: session})
		if err != nil {
			return nil, err
		}
		slices.Reverse(entries)
		lines, err := inWords(st, entries, names, now)
		return part{all: len(lines), lines: lines, nr: nr, session: session}, err
	})
}

// inWords says entries in words, in their order.
func inWords(st screen.Store, entries []model.Entry, names action.Names, now time.Time) (
	[]book.Line, error) {
	more, err := st.Referred(entries)
	if err != nil {
		return nil, err
	}
	said := map[string]book.Line{}
	for _, l := range book.Lines(append(more, entries...), names, now) {
		said[l.Entry.ID] = l
	}
	lines := make([]book.Line, len(entries))
	for i, e := range entries {
		lines[i] = said[e.ID]
	}
	return lines, nil
}

// take takes what was read, the newest asked for alone, and keeps the cursor on its entry.
func (s *page) take(p part) tea.Cmd {
	if p.nr != s.asked {
		return nil
	}
	s.reading = false
	if p.session != "" {
		s.was, s.At, s.steps = s.At, 0, &p
		return nil
	}
	if s.steps != nil { // the book goes on beneath
		s.book = p
		return nil
	}
	id := ""
	if l, read := s.book.line(s.At); read {
		id = l.Entry.ID
	}
	s.book, s.read = p, true
	if at := p.find(id); at >= 0 && id != "" {
		s.At = at
	}
	s.Keep(p.all)
	return s.more()
}

// more reads on where the cursor comes near to what was not read.
func (s *page) more() tea.Cmd {
	if s.steps == nil && !s.reading && s.book.short(s.At) {
		return s.load()
	}
	return nil
}

// shown is the list in view.
func (s *page) shown() part {
	if s.steps != nil {
		return *s.steps
	}
	return s.book
}
