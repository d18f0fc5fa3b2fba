// Package book is the record of a machine, the latest entry first; entries are struck there.
package book

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// page is the record of one machine, the latest entry first. An entry is struck here, with a reason.
type page struct {
	screen.Base
	screen.List
	of      string
	book    part
	steps   *part // those of a session, over the book; nil while that is in view
	was     int   // the cursor in the book meanwhile
	asked   int   // how many parts were asked for
	reading bool  // a part of the book is
	read    bool
	seen    *model.Machine // what the book was read for
	why     *striking
}

// New makes the record of a machine.
func New(e *screen.Env, id string) screen.Screen { return &page{Base: e.Base(), of: id} }

// Init reads the record.
func (s *page) Init() tea.Cmd { return s.load() }

func (s *page) TakesText() bool { return s.why != nil && s.why.Typing() }
func (s *page) HasInner() bool  { return s.why != nil || s.steps != nil }

func (s *page) Title() (string, string) {
	name := ""
	if m := s.Data.Machine(s.of); m != nil {
		name = theme.Safe(m.Name)
	}
	left := name + "   book"
	if s.steps != nil {
		left = name + "   one session"
	}
	right := model.Number(float64(s.shown().all)) + " entries, latest first"
	switch {
	case !s.read:
		right = ""
	case s.shown().all == 1:
		right = "1 entry"
	}
	return left, right
}

// Keys are those that work now.
func (s *page) Keys() []screen.Key {
	if s.why != nil {
		return s.why.Keys()
	}
	n := s.shown().all
	l, read := s.shown().line(s.At)
	steps := screen.On(".", "steps", "shows a session whole, each step of it", s.showSteps).When(
		read && l.Entry.Session != "")
	back := screen.Back
	if s.steps != nil {
		steps = screen.On(".", "no steps", "goes back to the book", screen.Do(s.hideSteps))
		back = screen.On("esc", "back", "", screen.Do(s.hideSteps))
	}
	return []screen.Key{
		s.Moves("move", "j and k, pgup and pgdn, home and end too", n, s.room()).When(n > 0),
		screen.On("u", "strike",
			"corrects the entry openly: it stays, struck, with your reason; all saved with it is struck too",
			s.startStrike).When(s.strikable()),
		screen.On("u", "put back", "takes the strike of this entry back, with your reason: it counts again",
			s.startStrike).When(s.struck()),
		steps, back,
	}
}

// showSteps shows all of the session that the entry at the cursor belongs to.
func (s *page) showSteps(screen.Press) tea.Cmd {
	l, _ := s.book.line(s.At)
	s.reading = true
	return s.loadSteps(l.Entry.Session)
}

// hideSteps goes back to the book.
func (s *page) hideSteps() {
	s.steps, s.At = nil, s.was
	s.Keep(s.book.all)
}

// Help says how the book is kept.
func (s *page) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "the book", Lines: []string{
		"Every fact is an entry, written once and never changed. Gauges, parts and findings are what the entries add up to.",
		"A wrong entry is struck, with a reason: it stays in the book and no longer counts. What was saved with it, such as the part taken from the drawer, is struck with it. Striking the strike puts it back.",
		"What happened inside a session, and what a machine is, cannot be struck.",
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
		if s.read && s.seen != s.Data.Machine(s.of) && (s.why == nil || !s.why.Saving) {
			return s, s.again()
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

// again reads what is in view once more.
func (s *page) again() tea.Cmd {
	if s.steps == nil {
		return s.load()
	}
	at := s.At
	s.At = s.was
	cmd := s.load()
	s.At = at
	return cmd
}

func (s *page) result(r screen.Result) tea.Cmd {
	if r.Wrote {
		if s.why == nil || s.Stale(r) || !s.why.Wrote(r) {
			return nil
		}
		s.why = nil
		if s.steps != nil {
			s.hideSteps()
		}
		return s.load()
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
	if s.why != nil {
		return s.why.Press(p, s.why.Keys())
	}
	cmd, _ := screen.Act(s.Keys(), p)
	return tea.Batch(cmd, s.more())
}

// View draws the entries round the cursor, or what is being struck.
func (s *page) View() string {
	switch {
	case s.why != nil:
		return s.strikeView()
	case !s.read:
		return " reading the book"
	case s.shown().all == 0:
		return "   Nothing is on record yet."
	}
	p := s.shown()
	room := s.room()
	top := screen.InView(s.At, s.At+1, p.all, room)
	var out []string
	for i := top; i < min(p.all, top+room); i++ {
		l, read := p.line(i)
		out = append(out, s.row(l, read, i == s.At))
	}
	return strings.Join(screen.Clip(append(screen.Pad(out, room), s.under(p)...), s.H), "\n")
}

// room is how many lines of the list are in view.
func (s *page) room() int {
	if s.H < leastHeight {
		return max(1, s.H)
	}
	return s.H - underLines
}

// row is one entry on one line: when, who, what; or that it is being read.
func (s *page) row(l book.Line, read, at bool) string {
	t := s.Env.Theme
	if !read {
		return "   ..."
	}
	lead, text := "   ", t.Plain(l.Text)
	if l.Struck {
		text = "(struck) " + text
	}
	who := ""
	if s.W >= 70 {
		who = t.Pad(t.Plain(theme.Safe(l.Entry.By)), 8) + " "
	}
	text = t.Trunc(text, s.W-21-theme.Width(who))
	if at {
		lead, text = " "+t.Text.Accent.Text(">")+" ", t.Text.Accent.Text(text)
	}
	return screen.Fit(t, lead+model.Stamp(l.Entry.At, s.Now)+"  "+who+text, s.W)
}

// What stands under the list has so many lines, on a screen of at least such a height.
const underLines, leastHeight = 4, 12

// under is the entry at the cursor in full, where it does not fit on its line.
func (s *page) under(p part) []string {
	t := s.Env.Theme
	if s.H < leastHeight {
		return nil
	}
	l, _ := p.line(s.At)
	text := l.Text
	if d := l.Entry.Written.Sub(l.Entry.At); d.Hours() > 1 {
		text += " (written " + model.Stamp(l.Entry.Written, s.Now) + ")"
	}
	out := []string{""}
	for _, x := range screen.Clip(theme.Wrap(t.Plain(text), s.W-6), 3) {
		out = append(out, "   "+x)
	}
	return screen.Pad(out, underLines)
}
