// Package book is the record, of a machine or of the whole bench, the latest entry first: looked
// through by what it is about, struck and put back, and a session of it on a page.
package book

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// page is the book, the latest entry first. What is looked for narrows what was read; an entry is
// struck here, with a reason.
type page struct {
	screen.Base
	screen.List // in what is shown
	of          string
	filter      book.Filter
	rows        rows
	anew        *rows // being read in their place; nil where they are good
	hits        []int // places of what is wanted; nil where nothing is left out
	stood       int   // place of the cursor before what is wanted changed
	asked       int   // how many parts were asked for
	reading     bool  // a part is
	read        bool
	seen        any // what the book was read for

	finding bool // words are typed
	words   screen.Field
	ask     *screen.Form // what else is wanted
	why     *striking
}

// New makes the record of a machine, of the whole bench where none is named.
func New(e *screen.Env, id string) screen.Screen {
	return &page{Base: e.Base(), of: id, filter: book.Filter{Machine: id}}
}

// Init reads the record, and says once what it is not.
func (s *page) Init() tea.Cmd {
	return tea.Batch(s.again(), screen.Tell(book.NoCertificate))
}

func (s *page) TakesText() bool {
	return s.finding || s.why != nil && s.why.Typing() || s.ask != nil && s.ask.Typing()
}
func (s *page) HasInner() bool { return s.finding || s.why != nil || s.ask != nil }

func (s *page) Title() (string, string) {
	name := "all machines"
	if m := s.Data.Machine(s.filter.Machine); m != nil {
		name = theme.Safe(m.Name)
	}
	return name + "   book", s.counted()
}

// counted says how many entries there are, and how many of them are shown.
func (s *page) counted() string {
	all := len(s.rows.lines)
	entries := model.Counted(all, "entry")
	_, lacks := s.rows.lack(s.place(), s.filter)
	switch found := model.Number(float64(len(s.hits))); {
	case !s.read:
		return ""
	case s.hits == nil && all > 1:
		return entries + ", latest first"
	case s.hits == nil:
		return entries
	case lacks > 0:
		return found + " so far, " + model.Number(float64(s.rows.next)) + " of " + entries + " read"
	default:
		return found + " of " + entries
	}
}

func (s *page) Keys() []screen.Key {
	switch {
	case s.why != nil:
		return s.why.Keys()
	case s.ask != nil:
		return s.ask.Keys()
	case s.finding:
		return s.findKeys()
	}
	n, l := s.all(), s.cursor()
	session := ""
	if l != nil {
		session = l.Entry.Session
	}
	return []screen.Key{
		screen.On("enter", "session", "opens the session the entry belongs to, on a page",
			screen.Opens(screen.ToSession{Session: session})).Afresh().When(session != ""),
		screen.On("/", "find", "words that stand in an entry: a name, a day, what was done",
			screen.Do(s.startFind)),
		screen.On("1", "filter", "by day, machine, kind, part, or who",
			screen.Do(s.startFilter)),
		screen.On(".", "all", "shows the entries that are left out again",
			s.wholeBook).When(s.filter != book.Filter{Machine: s.of}),
		screen.On("u", "strike",
			"corrects the entry openly: it stays, struck, with your reason; all saved with it is struck too",
			s.startStrike).When(s.strikable()),
		screen.On("u", "put back",
			"takes the strike of this entry back, with your reason: it counts again",
			s.startStrike).When(s.struck()),
		s.Moves("move", "j and k, pgup and pgdn, home and end too", n, s.room()).When(n > 0),
		screen.Back,
	}
}

// Help says how the book is kept.
func (s *page) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "the book", Lines: []string{
		"Every fact is an entry, written once and never changed. Gauges, parts and findings are what the entries add up to.",
		"A wrong entry is struck, with a reason: it stays in the book and no longer counts. What was saved with it, such as the part taken from the drawer, is struck with it. Striking the strike puts it back.",
		"What happened inside a session, and what a machine is, cannot be struck.",
		"A finding was seen; a reminder is only something to be done later, and says nothing of the machine.",
		book.NoCertificate,
	}}}
}

func (s *page) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Press:
		return s, s.press(msg)
	case screen.Result:
		return s, s.result(msg)
	case screen.DataChanged:
		s.Take(msg)
		if s.read && s.seen != s.data() && (s.why == nil || !s.why.Saving) {
			return s, s.again()
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

func (s *page) result(r screen.Result) tea.Cmd {
	if r.Wrote {
		if s.why == nil || s.Stale(r) || !s.why.Wrote(r) {
			return nil
		}
		s.why = nil
		return s.again()
	}
	switch v := r.Value.(type) {
	case part:
		return s.take(v)
	case together:
		if s.why != nil && len(v.lines) > 0 && v.lines[0].Entry.Action == s.why.action {
			s.why.with = v
		}
	default: // it could not be read, which is said; the next key asks again
		s.reading = false
	}
	return nil
}

func (s *page) press(p screen.Press) tea.Cmd {
	switch {
	case s.why != nil:
		return s.why.Press(p, s.why.Keys())
	case s.ask != nil:
		return s.ask.Press(p, s.ask.Keys())
	}
	cmd, taken := screen.Act(s.Keys(), p)
	if !taken && s.finding && s.words.Press(p.Msg) {
		was := s.filter
		if s.filter.Words = s.words.Text; s.hits != nil && s.filter.Narrower(was) {
			s.narrowMore()
		} else {
			s.narrow()
		}
	}
	return tea.Batch(cmd, s.more())
}

// What stands under the list has so many lines, on a screen of at least such a height.
const underLines, leastHeight = 4, 12

// View draws the entries round the cursor, or what is asked.
func (s *page) View() string {
	switch {
	case s.why != nil:
		return s.strikeView()
	case s.ask != nil:
		return s.ask.View(s.Env.Theme, s.W, s.H)
	case !s.read:
		return " reading the book"
	}
	out := s.over()
	room, n := s.room(), s.all()
	top := screen.InView(s.At, s.At+1, n, room)
	for i := top; i < min(n, top+room); i++ {
		out = append(out, s.row(s.line(i), i == s.At))
	}
	if n == 0 {
		out = append(out, "   "+s.nothing())
	}
	return strings.Join(screen.Clip(append(screen.Pad(out, len(s.over())+room), s.under()...), s.H),
		"\n")
}

// nothing says why there is nothing to show.
func (s *page) nothing() string {
	_, lacks := s.rows.lack(s.place(), s.filter)
	switch {
	case s.hits == nil:
		return "Nothing is on record yet."
	case lacks > 0:
		return "Nothing so far; the book is being read."
	}
	return "No entry is so."
}

// over says what is looked for, on a line over the list; none where nothing is left out.
func (s *page) over() []string {
	t := s.Env.Theme
	said := s.filter
	line := " only   "
	if s.finding {
		said.Words = ""
		line = " find   " + t.Plain(s.words.Drawn(max(10, s.W/2))) + "   "
	}
	text := said.Said(s.Now)
	if m := s.Data.Machine(said.Machine); m != nil && m.ID != s.of {
		text = strings.TrimSuffix(m.Name+" · "+text, " · ")
	}
	if !s.finding && text == "" {
		return nil
	}
	text = line + t.Text.Strong.Text(t.Plain(theme.Safe(text)))
	return []string{screen.Fit(t, strings.TrimRight(text, " "), s.W)}
}

// room is how many lines of the list are in view.
func (s *page) room() int {
	h := s.H - len(s.over())
	if s.H >= leastHeight {
		h -= underLines
	}
	return max(1, h)
}

// Cells of a row: who and which machine, and from which width on they are shown.
const (
	whoCells, machineCells = 8, 12
	whoFrom, bothFrom      = 70, 100
)

// showsWho tells whether there is room for who wrote an entry.
func (s *page) showsWho() bool {
	return s.W >= bothFrom || s.filter.Machine != "" && s.W >= whoFrom
}

// row is one entry on one line: when, who or which machine, what; or that it is being read.
func (s *page) row(l *book.Sought, at bool) string {
	t := s.Env.Theme
	if l == nil {
		return "   ..."
	}
	bench := s.filter.Machine == ""
	head := model.Stamp(l.Entry.At, s.Now) + "  "
	column := func(text string, cells int) {
		head += t.Pad(t.Trunc(t.Plain(theme.Safe(text)), cells), cells) + " "
	}
	if bench && s.W >= whoFrom {
		column(book.MachineName(s.Data.Bench, l.Entry), machineCells)
	}
	if s.showsWho() {
		column(l.Entry.By, whoCells)
	}
	lead, text := screen.UnderCursor(t, at,
		t.Trunc(t.Plain(l.Said()), s.W-3-theme.Width(head)))
	return screen.Fit(t, lead+head+text, s.W)
}

// under is the entry at the cursor in full, where it does not fit on its line.
func (s *page) under() []string {
	t := s.Env.Theme
	if s.H < leastHeight {
		return nil
	}
	out := []string{""}
	if l := s.cursor(); l != nil {
		text := l.Said()
		if name := book.MachineName(s.Data.Bench, l.Entry); s.filter.Machine == "" && name != "" {
			text = theme.Safe(name) + ": " + text
		}
		if l.Entry.By != "" && !s.showsWho() {
			text += ", by " + theme.Safe(l.Entry.By)
		}
		if l.Entry.Written.Sub(l.Entry.At) > book.WrittenLate {
			text += " (written " + model.Stamp(l.Entry.Written, s.Now) + ")"
		}
		for _, x := range screen.Clip(theme.Wrap(t.Plain(text), s.W-6), underLines-1) {
			out = append(out, "   "+x)
		}
	}
	return screen.Pad(out, underLines)
}
