// Package book is the record of a machine, the latest entry first; entries are struck there.
package book

import (
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// page is the record of one machine, the latest entry first. An entry is struck here, with a
// reason.
type page struct {
	screen.Base
	of    string
	lines []book.Line // shown, latest first
	all   []book.Line
	steps bool // the single steps of sessions, too
	whole bool // they were read, which takes longer than all else
	read  bool
	seen  *model.Machine // what the lines were read for
	screen.List
	why     *screen.Form
	strikes string // action being struck
}

// New makes the record of a machine.
func New(e *screen.Env, id string) screen.Screen { return &page{Base: e.Base(), of: id} }

// Init reads the record.
func (s *page) Init() tea.Cmd { return s.load() }

func (s *page) load() tea.Cmd {
	id := s.of
	s.seen = s.Data.Machine(id)
	now, names, steps := s.Now, s.Env.Names(), s.steps
	s.whole = s.whole || steps
	return s.Read(func(st screen.Store) (any, error) {
		entries, err := st.Entries(store.Filter{Machine: id, NoSteps: !steps})
		if err != nil {
			return nil, err
		}
		lines := book.Lines(entries, names, now)
		slices.Reverse(lines)
		return lines, nil
	})
}

func (s *page) TakesText() bool { return s.why != nil && s.why.Typing() }
func (s *page) HasInner() bool  { return s.why != nil }

func (s *page) Title() (string, string) {
	name := ""
	if m := s.Data.Machine(s.of); m != nil {
		name = theme.Safe(m.Name)
	}
	right := strconv.Itoa(len(s.lines)) + " entries, latest first"
	if len(s.lines) == 1 {
		right = "1 entry"
	}
	return name + "   book", right
}

// Keys are those that work now.
func (s *page) Keys() []screen.Key {
	if s.why != nil {
		return s.why.Keys()
	}
	steps := "steps too"
	if s.steps {
		steps = "no steps"
	}
	return []screen.Key{
		s.Moves("move", "j and k, pgup and pgdn, home and end too", len(s.lines),
			max(1, s.H-1)).When(len(s.lines) > 0),
		screen.On("u", "strike",
			"corrects the entry openly: it stays, struck, with your reason; all saved with it is struck too", screen.Do(s.startStrike)).When(s.strikable()),
		screen.On(".", steps, "shows the single steps of sessions", s.turnSteps),
		screen.Back,
	}
}

// strikable tells whether the entry at the cursor can be struck.
func (s *page) strikable() bool {
	if s.At >= len(s.lines) {
		return false
	}
	l := s.lines[s.At]
	return model.ClassOf(l.Entry.Kind) == model.Dated && !l.Struck
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
			return s, s.load()
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

func (s *page) result(r screen.Result) tea.Cmd {
	if s.Stale(r) {
		return nil
	}
	if r.Wrote {
		if s.why == nil || !s.why.Wrote(r) {
			return nil
		}
		s.why = nil
		return s.load()
	}
	if lines, ok := r.Value.([]book.Line); ok {
		s.all, s.read = lines, true
		s.choose()
	}
	return nil
}

// turnSteps shows the steps of sessions or leaves them out.
func (s *page) turnSteps(screen.Press) tea.Cmd {
	if s.steps = !s.steps; s.steps && !s.whole {
		return s.load()
	}
	s.choose()
	return nil
}

// choose picks the lines shown, and keeps the cursor on its entry.
func (s *page) choose() {
	id := ""
	if s.At < len(s.lines) {
		id = s.lines[s.At].Entry.ID
	}
	s.lines = s.lines[:0:0]
	for _, l := range s.all {
		if s.steps || l.Entry.Kind != model.KindWalk {
			s.lines = append(s.lines, l)
		}
	}
	at := slices.IndexFunc(s.lines, func(l book.Line) bool { return l.Entry.ID == id })
	s.At = max(0, min(max(s.At, at), len(s.lines)-1))
	if at >= 0 {
		s.At = at
	}
}

func (s *page) press(p screen.Press) tea.Cmd {
	if s.why != nil {
		return s.why.Press(p, s.why.Keys())
	}
	cmd, _ := screen.Act(s.Keys(), p)
	return cmd
}

// startStrike asks why the entry at the cursor is struck.
func (s *page) startStrike() {
	s.strikes = s.lines[s.At].Entry.Action
	s.why = &screen.Form{Verb: "strike it", Save: s.strike, Leave: func() tea.Cmd {
		s.why = nil
		return nil
	},
		Check: func(r *screen.Row) string {
			_, err := action.Text("a reason", r.Value())
			return screen.Sentence(err)
		},
		Rows: []*screen.Row{
			{Name: "why", Ask: "what was wrong with it",
				Hint: "The reason stays in the book beside the entry."},
			{Name: "save", Kind: screen.RowDo, Ask: "strike it"}}}
	s.why.Hold()
}

func (s *page) strike() tea.Cmd {
	if !s.why.Sound() {
		return nil
	}
	s.why.Saving = true
	why := s.why.Row("why").Value()
	return s.Append(model.Action{Machine: s.of,
		Facts: []model.Fact{{Kind: model.KindStrike,
			Strike: &model.Strike{Action: s.strikes, Why: why}}}})
}

// View draws the entries round the cursor, or what is being struck.
func (s *page) View() string {
	switch {
	case s.why != nil:
		return s.strikeView()
	case !s.read:
		return " reading the book"
	case len(s.lines) == 0:
		return "   Nothing is on record yet."
	}
	room := s.H
	under := s.under(s.lines[s.At])
	room = max(1, room-len(under))
	top := screen.InView(s.At, s.At+1, len(s.lines), room)
	var out []string
	for i := top; i < min(len(s.lines), top+room); i++ {
		out = append(out, s.row(s.lines[i], i == s.At))
	}
	return strings.Join(screen.Clip(append(screen.Pad(out, room), under...), s.H), "\n")
}

// row is one entry on one line: when, who, what.
func (s *page) row(l book.Line, at bool) string {
	t := s.Env.Theme
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

// under is the entry at the cursor in full, where it does not fit on its line.
func (s *page) under(l book.Line) []string {
	t := s.Env.Theme
	if s.H < 12 {
		return nil
	}
	text := l.Text
	if d := l.Entry.Written.Sub(l.Entry.At); d.Hours() > 1 {
		text += " (written " + model.Stamp(l.Entry.Written, s.Now) + ")"
	}
	out := []string{""}
	for _, x := range screen.Clip(theme.Wrap(t.Plain(text), s.W-6), 3) {
		out = append(out, "   "+x)
	}
	return screen.Pad(out, 4)
}

// strikeView shows what a strike takes with it, and asks why.
func (s *page) strikeView() string {
	t := s.Env.Theme
	out := []string{" " + t.Text.Strong.Text("This is struck:")}
	for _, l := range s.all {
		if l.Entry.Action == s.strikes && model.ClassOf(l.Entry.Kind) == model.Dated {
			out = append(out, screen.Fit(t, "   "+model.Stamp(l.Entry.At, s.Now)+"  "+
				t.Plain(l.Text), s.W))
		}
	}
	out = append(screen.Clip(out, max(1, s.H-6)), "")
	return strings.Join(screen.Clip(
		append(out, strings.Split(s.why.View(t, s.W, s.H-len(out)), "\n")...), s.H), "\n")
}
