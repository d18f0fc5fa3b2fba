package machine

import (
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// careList shows all care that fits a machine: what it is kept by and what not, each with its
// gauge. Here care is kept or let go, and it is told when it was last done.
type careList struct {
	screen.Base
	screen.List
	of     string
	asks   string // what the line at the bottom takes: "last", "let go", or nothing
	line   screen.Field
	bad    string
	saving bool
}

// NewCareList shows what a machine is kept by.
func NewCareList(e *screen.Env, id string) screen.Screen {
	return &careList{Base: e.Base(), of: id}
}

// letGo is the word that lets go what guards a person.
const letGo = "let go"

func (s *careList) m() *model.Machine { return s.Data.Machine(s.of) }

// care is what fits the machine, by what it is called.
func (s *careList) care() []*model.Procedure {
	m := s.m()
	if m == nil {
		return nil
	}
	all := s.Env.Library.All()
	can := model.FullList(all, model.NewFeatureSet(m.Features...))
	var out []*model.Procedure
	for _, p := range all {
		if slices.Contains(can, p.ID) {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(x, y *model.Procedure) int {
		return strings.Compare(x.Called(), y.Called())
	})
	return out
}

func (s *careList) TakesText() bool { return s.asks != "" && !s.saving }
func (s *careList) HasInner() bool  { return s.asks != "" }

func (s *careList) Title() (string, string) {
	m := s.m()
	if m == nil {
		return "", ""
	}
	kept := 0
	list := s.care()
	for _, p := range list {
		if m.Keeps(p.ID) {
			kept++
		}
	}
	return theme.Safe(m.Name) + "   kept by", strconv.Itoa(kept) + " of " +
		strconv.Itoa(len(list)) + " that fit it"
}

func (s *careList) Keys() []screen.Key {
	m, list := s.m(), s.care()
	if m == nil || len(list) == 0 || s.saving {
		return []screen.Key{screen.Back}
	}
	at := list[min(s.At, len(list)-1)]
	shut := screen.Do(func() { s.asks, s.line = "", screen.Field{} })
	switch s.asks {
	case "last":
		return []screen.Key{screen.On("enter", "save", "", func(screen.Press) tea.Cmd {
			return s.told(m, at)
		}).Afresh(), screen.On("esc", "back", "leaves everything as it is", shut)}
	case letGo:
		return []screen.Key{screen.On("enter", "let go", "if the words are typed",
			func(screen.Press) tea.Cmd {
				return s.lets(m, at)
			}).Afresh(), screen.On("esc", "back", "keeps it", shut)}
	}
	return []screen.Key{screen.On("space", "keep or let go", "nothing of its record is lost",
		func(screen.Press) tea.Cmd { return s.flip(m, at) }).Afresh(),
		screen.On("enter", "last done", "tells when the care under the cursor was last done",
			screen.Do(func() { s.asks, s.bad = "last", "" })).Afresh(),
		screen.On("1", "list to start with",
			"keeps the machine by looks and cleaning, and by what guards a person", func(screen.Press) tea.Cmd {
				return s.keepBy(m, model.StarterList(s.Env.Library.All(),
					model.NewFeatureSet(m.Features...)))
			}).Afresh(),
		screen.On("2", "all", "keeps it by all that fits it", func(screen.Press) tea.Cmd {
			return s.keepBy(m, nil)
		}).Afresh(),
		s.Moves("move", "", len(list), max(1, s.H-4)), screen.Back}
}

// Help says what a care list is and what can be told.
func (s *careList) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "kept by", Lines: []string{
		"Gauges, what is due and the plan are of the care a machine is kept by. The rest shows when a finding or other care calls for it, or a symptom leads to it.",
		"Letting go loses nothing of a record. What guards a person is let go by word only, and the machine's page goes on saying so.",
	}}, {Head: "last done", Lines: []string{
		"Answer: " + action.LastHint + ".",
		"A counter's value is no day: the calendar waits until the care is done again. A month counts from its first day. Never is as old as the machine.",
		"A day between points is read day first: 20.10.2026. Between slashes it is asked about where it can be two days.",
	}}}
}

func (s *careList) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Press:
		return s, s.press(msg)
	case screen.Result:
		if msg.Wrote && !s.Stale(msg) {
			if s.saving = false; msg.Err == nil {
				s.asks, s.line = "", screen.Field{}
			}
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

func (s *careList) press(p screen.Press) tea.Cmd {
	cmd, taken := screen.Act(s.Keys(), p)
	if !taken && s.TakesText() && s.line.Press(p.Msg) {
		s.bad = ""
	}
	return cmd
}

// flip keeps the care under the cursor or lets it go; what guards a person is let go by word.
func (s *careList) flip(m *model.Machine, at *model.Procedure) tea.Cmd {
	if m.Keeps(at.ID) && model.GuardsPerson(at.ID) {
		s.asks, s.bad = letGo, ""
		return nil
	}
	return s.describe(m.WithCare(s.Env.Library.All(), at.ID, !m.Keeps(at.ID)))
}

// keepBy keeps the machine by a list; nil is all that fits it.
func (s *careList) keepBy(m *model.Machine, list []string) tea.Cmd {
	f := m.MachineFact
	f.CareList = list
	return s.describe(f)
}

// lets lets go what guards a person, where the words are typed.
func (s *careList) lets(m *model.Machine, p *model.Procedure) tea.Cmd {
	if !strings.EqualFold(strings.TrimSpace(s.line.Text), letGo) {
		s.bad = `Type "let go", or leave it kept with esc.`
		return nil
	}
	return s.describe(m.WithCare(s.Env.Library.All(), p.ID, false))
}

// told writes when care was last done.
func (s *careList) told(m *model.Machine, p *model.Procedure) tea.Cmd {
	text := strings.TrimSpace(s.line.Text)
	if text == "" {
		s.bad = "Nothing is typed yet: " + action.LastHint + "."
		return nil
	}
	l, err := action.ReadLast(p.ID, text, s.Now)
	var a model.Action
	if err == nil {
		a, err = action.LastDone(m, s.Env.Library.All(), l, s.Now)
		a.Facts = append(a.Facts, m.Remedied(a.Facts, l.At)...)
	}
	if err != nil {
		s.bad = screen.Sentence(err)
		return nil
	}
	s.saving = true
	return s.Append(a)
}

// describe writes the machine's new description.
func (s *careList) describe(f model.MachineFact) tea.Cmd {
	s.saving = true
	return describe(&s.Base, f)
}

func (s *careList) View() string {
	m, list := s.m(), s.care()
	if m == nil || len(list) == 0 {
		return " Nothing fits this machine yet: say what it has (e on its page)."
	}
	t := s.Env.Theme
	gauges := map[string]model.Gauge{}
	for _, g := range model.Gauges(m.KeptByAll(), s.Env.Library.All(), s.Now) {
		gauges[g.Item] = g
	}
	foot := s.foot(list[s.At])
	head := []string{}
	if m.CareList == nil && s.H > 12 {
		head = []string{" " +
			t.Text.Dim.Text(t.Trunc("Kept by all that fits it. 1 takes a list to start with: looks and cleaning.", s.W-2)), ""}
	}
	room := max(1, s.H-len(foot)-len(head))
	top := screen.InView(s.At, s.At+1, len(list), room)
	for i := top; i < len(list) && i < top+room; i++ {
		head = append(head, s.row(m, list[i], gauges, i == s.At))
	}
	return screen.Over(head, foot, s.H)
}

// row is one procedure on a line: whether it is kept, its name, how far it is.
func (s *careList) row(m *model.Machine, p *model.Procedure, gauges map[string]model.Gauge,
	at bool) string {
	t := s.Env.Theme
	mark := "  "
	if m.Keeps(p.ID) {
		mark = "x "
	}
	lead, name := screen.UnderCursor(t, at, t.Pad(t.Plain(theme.Safe(p.Called())), 24))
	if !at && !m.Keeps(p.ID) {
		name = t.Text.Dim.Text(name)
	}
	g, counts := gauges[p.ID]
	if !counts {
		return screen.Fit(t, lead+mark+name+" "+t.Text.Dim.Text("by hand, or when called for"), s.W)
	}
	return screen.Fit(t, lead+mark+name+" "+t.OfState(g.Word).Text(t.Pad(string(g.Word), 8))+" "+
		t.Plain(screen.UsedText(&g, screen.UsedCells)), s.W)
}

// foot is the line that is typed, and what it asks; else what the care under the cursor is.
func (s *careList) foot(p *model.Procedure) []string {
	t := s.Env.Theme
	title := theme.Safe(p.Title)
	if s.asks == "" {
		if model.GuardsPerson(p.ID) {
			title += ". It guards a person."
		}
		return []string{"", " " + t.Text.Dim.Text(t.Trunc(t.Plain(title), s.W-2))}
	}
	ask := "When last done: " + title + "? " + action.LastHint
	if s.asks == letGo {
		ask = "Type \"let go\" to let it go: it guards a person, and nobody will be reminded of it. " + title + "."
	}
	out := append([]string{""}, screen.Wrapped(t, " ", ask, s.W-4, theme.Paint{})...)
	out = append(out, screen.Fit(t, " "+t.Text.Accent.Text(">")+" "+t.Plain(s.line.Drawn(s.W-4)),
		s.W))
	out = append(out, screen.Wrapped(t, " ", s.bad, s.W-4, t.State.Past)...)
	return screen.Clip(out, max(2, s.H-3))
}
