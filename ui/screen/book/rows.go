package book

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
)

// A long book is read by parts: round the cursor so many lines before it and behind it, and the
// next part once it comes so near to what was not read. What is looked for may stand anywhere: then
// the rest is read too, in larger parts, the latest first, and what was found so far is shown
// meanwhile.
const (
	around = 300
	ahead  = 100
	whole  = 2000
)

// rows are the lines of a book by their place, the latest first; nil where one was not read. The
// texts are those of the lines, beside them: looking through a long book for words, most of the
// time goes where each line is fetched from.
type rows struct {
	lines []*book.Sought
	texts []string
	next  int // the first that was not read
}

// part is what was read of a book.
type part struct {
	from, all int // place of the first line read; how many lines the book has
	lines     []*book.Sought
	nr        int // of the request
}

// put takes a part; one of a book that is longer or shorter by now begins it anew.
func (r *rows) put(p part) {
	if len(r.lines) != p.all {
		*r = rows{lines: make([]*book.Sought, p.all), texts: make([]string, p.all)}
	}
	for i, l := range p.lines[:min(len(p.lines), max(0, p.all-p.from))] {
		r.lines[p.from+i], r.texts[p.from+i] = l, l.Text()
	}
	for r.next < len(r.lines) && r.lines[r.next] != nil {
		r.next++
	}
}

// lack is the part to read next, most of it 0 where none is: what is near a place, or with all the
// rest back to what happened before a filter begins.
func (r *rows) lack(at int, f book.Filter) (from, most int) {
	if narrows(f) {
		if r.next == len(r.lines) || r.next > 0 && r.lines[r.next-1].Entry.At.Before(f.From) {
			return 0, 0
		}
		return r.next, whole
	}
	near := r.lines[min(max(0, at-ahead), len(r.lines)):min(at+ahead, len(r.lines))]
	if slices.Contains(near, nil) {
		return max(0, at-around), 2 * around
	}
	return 0, 0
}

// narrows tells whether a filter leaves out any line of its machine's book.
func narrows(f book.Filter) bool {
	f.Machine = ""
	f.Words = strings.TrimSpace(f.Words)
	return f != book.Filter{}
}

// again reads the book anew; what was read stays in view meanwhile.
func (s *page) again() tea.Cmd {
	s.anew = &rows{}
	return s.load(max(0, s.place()-around), 2*around)
}

// load reads a part.
func (s *page) load(from, most int) tea.Cmd {
	s.asked++
	s.reading, s.seen = true, s.data()
	nr, machine, now, names := s.asked, s.filter.Machine, s.Now, s.Env.Names()
	seek := book.NewSeeker(names, s.Data.Bench, now)
	return s.Read(func(st screen.Store) (any, error) {
		entries, all, err := st.Page(machine, from, most)
		if err != nil {
			return nil, err
		}
		lines, err := inWords(st, entries, names, now)
		return part{from, all, seek.All(lines), nr}, err
	})
}

// data is what the book is read again for where it changes.
func (s *page) data() any {
	if s.filter.Machine == "" {
		return s.Data.Bench
	}
	return s.Data.Machine(s.filter.Machine)
}

// take takes what was read, the newest asked for alone.
func (s *page) take(p part) tea.Cmd {
	if p.nr != s.asked {
		return nil
	}
	s.reading = false
	if s.anew == nil {
		s.rows.put(p)
		s.narrow()
		return s.more()
	}
	if s.anew.put(p); !s.read || s.full() {
		s.swap()
	}
	return s.more()
}

// full tells whether what is read anew has come as far as it is needed.
func (s *page) full() bool {
	_, most := s.anew.lack(s.place(), s.filter)
	return most == 0
}

// swap shows what was read anew, the cursor on the entry it was on.
func (s *page) swap() {
	at, id := s.place(), ""
	if l := s.cursor(); l != nil {
		id = l.Entry.ID
	}
	s.rows, s.anew, s.read = *s.anew, nil, true
	if i := slices.IndexFunc(s.rows.lines, func(l *book.Sought) bool {
		return l != nil && id != "" && l.Entry.ID == id
	}); i >= 0 {
		at = i
	}
	s.narrowAt(at)
}

// more reads on where more is needed.
func (s *page) more() tea.Cmd {
	r := &s.rows
	if s.anew != nil {
		r = s.anew
	}
	switch {
	case s.reading:
		return nil
	case !s.read: // it could not be read before
		return s.again()
	}
	if from, most := r.lack(s.place(), s.filter); most > 0 {
		return s.load(from, most)
	}
	return nil
}

// narrow looks anew for the lines that are wanted; the cursor stays on its line, or comes to the
// next.
func (s *page) narrow() { s.narrowAt(s.place()) }

func (s *page) narrowAt(place int) {
	if s.hits, s.stood = nil, place; !narrows(s.filter) {
		s.At = place
		s.Keep(s.all())
		return
	}
	s.hits = s.rows.among(s.filter, nil)
	s.found(place)
}

// narrowMore looks for more words in what was found by fewer.
func (s *page) narrowMore() {
	place := s.place()
	s.hits, s.stood = s.rows.among(s.filter, s.hits), place
	s.found(place)
}

// found puts the cursor on a place, or the next that was found.
func (s *page) found(place int) {
	s.At, _ = slices.BinarySearch(s.hits, place)
	s.Keep(s.all())
}

// among gives the places of what a filter wants, of some places or of all.
func (r *rows) among(f book.Filter, places []int) []int {
	words, out := f.WordsIn(), make([]int, 0, len(places))
	f.Words = ""
	all := f == book.Filter{Machine: f.Machine}
	take := func(i int) {
		if l := r.lines[i]; words(r.texts[i]) && l != nil && (all || f.Suits(l)) {
			out = append(out, i)
		}
	}
	if places == nil {
		for i := range r.lines {
			take(i)
		}
	}
	for _, i := range places {
		take(i)
	}
	return out
}

// all is how many lines there are to show.
func (s *page) all() int {
	if s.hits != nil {
		return len(s.hits)
	}
	return len(s.rows.lines)
}

// line is a line of what is shown; nil where it was not read, or there is none.
func (s *page) line(at int) *book.Sought {
	if at >= s.all() {
		return nil
	}
	if s.hits != nil {
		at = s.hits[at]
	}
	return s.rows.lines[at]
}

// cursor is the line at the cursor.
func (s *page) cursor() *book.Sought { return s.line(s.At) }

// place is where the line at the cursor stands in the whole book.
func (s *page) place() int {
	switch {
	case s.hits == nil:
		return s.At
	case s.At >= len(s.hits): // nothing is found, so far
		return s.stood
	}
	return s.hits[s.At]
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
