// Package machine is the page of a machine and what is set there: its form, its care list, its tag,
// its end.
package machine

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/fail"
	"bench/oilcan/ui/screen/swap"
	"bench/oilcan/ui/theme"
)

// machine is the page of one machine: what stands open, every gauge, counters, parts, values,
// settings.
type machine struct {
	screen.Base
	screen.Pager
	of    string // machine id
	large bool   // every gauge in full
	ask   bool   // "go on with the session?"
	swap  swap.Line
	fail  fail.Line
	more  machineMore
	band  *takenBand // an own band just taken; nil: none
}

// New makes the page of a machine.
func New(e *screen.Env, id string) screen.Screen {
	s := &machine{Base: e.Base(), of: id}
	s.swap, s.fail = swap.New(&s.Base), fail.New(&s.Base)
	return s
}

// Init reads what the snapshot does not hold.
func (s *machine) Init() tea.Cmd { return readMore(&s.Base, s.of) }

func (s *machine) m() *model.Machine { return s.Data.Machine(s.of) }

func (s *machine) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	s.draw()
}

// TakesText is so while a line at the bottom takes a date, or a reason.
func (s *machine) TakesText() bool { return s.swap.Typing() || s.fail.Typing() }

// HasInner tells of the line at the bottom.
func (s *machine) HasInner() bool { return s.swap.Choosing() || s.fail.Choosing() || s.ask }

func (s *machine) Title() (string, string) {
	m := s.m()
	if m == nil {
		return "", ""
	}
	duty := string(m.Duty) + " duty"
	switch {
	case m.Retired:
		duty = "retired"
	case m.OutOfUse:
		duty = "out of use since " + model.Day(m.Since, s.Now)
	}
	return theme.Safe(m.Name) + "   " + duty, model.Stamp(s.Now, s.Now)
}

// Keys are those that work on this machine as it stands.
func (s *machine) Keys() []screen.Key {
	m := s.m()
	switch {
	case m == nil:
		return []screen.Key{screen.Back}
	case s.swap.Choosing():
		return s.swap.Keys(m)
	case s.fail.Choosing():
		return s.fail.Keys(m)
	case s.ask:
		shut := screen.Do(func() { s.ask = false })
		return []screen.Key{screen.On("y", "go on", "goes on with the session",
			func(screen.Press) tea.Cmd {
				s.ask = false
				return screen.Send(screen.Open{To: screen.ToWalk{Session: m.Session}})
			}).When(m.Session != ""),
			screen.On("n", "stay", "", shut), screen.On("esc", "back", "", shut)}
	}
	ks := []screen.Key{screen.CareKey(m), s.swap.UndoKey(), s.fail.UndoKey(),
		s.swap.StartKey(m).Then(s.fail.Close),
		screen.On("m", "meters", "types what the counters show",
			screen.Opens(screen.ToMeters{Machine: m.ID})),
		s.fail.SymptomKey(m),
		screen.On("f", "findings", "what was seen and is to be looked at again",
			screen.Opens(screen.ToFindings{Machine: m.ID})),
		s.fail.StartKey(m).Then(s.swap.Close),
		screen.On("1", "print file", "whether the parts last through a print, from its file",
			screen.Opens(screen.ToPrintFile{Machine: m.ID})).When(!m.Retired),
		screen.On("2", "care list",
			"what it is kept by: keeps care or lets it go, and tells when it was last done",
			screen.Opens(screen.ToCareList{Machine: m.ID})),
		screen.On("3", "lives",
			"how long its parts last on this bench, drawn, and when to renew them",
			screen.Opens(screen.ToLives{Machine: m.ID})),
		screen.On("4", "book",
			"this machine's record, to look through; an entry can be struck there",
			screen.Opens(screen.ToBook{Machine: m.ID})),
		screen.On("5", "clear tag",
			"takes the machine's tag away, with a word on what was put right",
			screen.Opens(screen.ToClearTag{Machine: m.ID})).When(action.Clearable(m)),
		screen.On("7", "measure",
			"belts, screws, humidity, the bed, ohms, flow: worked out and kept",
			screen.Opens(screen.ToMeasure{Machine: m.ID})),
		screen.On("8", "figures",
			"what its care takes by month, and whether prints fail less after it",
			screen.Opens(screen.ToFigures{Machine: m.ID})),
		screen.On("e", "edit", "name, duty, in use or not, what it has, settings",
			screen.Opens(screen.ToMachineForm{Machine: m.ID})),
		s.sizeKey()}
	ks = append(ks, s.bandKeys(m)...)
	return append(append(ks, s.Pager.Keys()...),
		screen.On("enter", "", "goes on with the session that is begun, after asking",
			screen.Do(func() { s.ask = true })).Afresh().When(m.Session != ""),
		screen.On("6", "", "retires the machine: asks for its name first",
			screen.Opens(screen.ToRetire{Machine: m.ID})), screen.Back)
}

// sizeKey draws the gauges in full, or a line each.
func (s *machine) sizeKey() screen.Key {
	does, says := "large gauges", "draws every gauge in full, with its scale and what it counts"
	if s.large {
		does, says = "small gauges", "draws one line a gauge"
	}
	return screen.On(".", does, says, screen.Do(func() { s.large = !s.large }))
}

// Help explains the page.
func (s *machine) Help() []screen.HelpPart { return screen.RulesHelp() }

func (s *machine) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case screen.Press:
		cmd = s.press(msg)
	case screen.Result:
		if more, ok := msg.Value.(machineMore); ok {
			s.more = more
		} else {
			if msg.Wrote && msg.Err != nil {
				s.band = nil // nothing was written; the status line says why
			}
			s.swap.Result(msg)
			s.fail.Result(msg)
		}
	case screen.DataChanged:
		s.Take(msg)
		cmd = readMore(&s.Base, s.of)
	default:
		s.Take(msg)
	}
	s.draw()
	return s, cmd
}

// Press takes a key: what is in the list, or a letter of the date that is typed.
func (s *machine) press(p screen.Press) tea.Cmd {
	s.swap.Passed(p.Key())
	s.fail.Passed(p.Key())
	cmd, taken := screen.Act(s.Keys(), p)
	switch {
	case taken:
	case s.swap.Choosing():
		return s.swap.Typed(p, s.m())
	case s.fail.Choosing():
		return s.fail.Typed(p, s.m())
	}
	return cmd
}

// foot is the line at the bottom.
func (s *machine) foot() []string {
	t := s.Env.Theme
	if m := s.m(); s.ask && m != nil && s.Data.Bench.Sessions[m.Session] != nil {
		q := theme.Safe(s.Data.Bench.Sessions[m.Session].Title) + " is begun. Go on with it?"
		return []string{" " + t.Text.Strong.Text(t.Trunc(t.Plain(q), s.W-1))}
	}
	switch {
	case s.fail.Open():
		return s.fail.Lines(s.W)
	case s.band != nil && !s.swap.Open():
		return s.bandFoot()
	}
	return s.swap.Lines(s.W)
}

func (s *machine) draw() {
	if s.Data == nil || s.W == 0 {
		return
	}
	s.Fill(s.lines(), s.H-len(screen.Apart(s.foot(), s.H)))
}

// View gives the page as last laid out.
func (s *machine) View() string {
	if s.m() == nil {
		return screen.Gone
	}
	foot := screen.Apart(s.foot(), s.H)
	return screen.Over(s.Pager.Lines(s.Env.Theme, s.W), foot, s.H)
}
