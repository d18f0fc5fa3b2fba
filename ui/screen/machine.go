package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// machine is the page of one machine: what stands open, every gauge, counters, parts, values, settings.
type machine struct {
	Base
	pager
	of    string // machine id
	large bool   // every gauge in full
	ask   bool   // "go on with the session?"
	swap  swapLine
	more  machineMore
}

func newMachine(e *Env, id string) *machine {
	s := &machine{Base: e.Base(), of: id}
	s.swap.base = &s.Base
	return s
}

// Init reads what the snapshot does not hold.
func (s *machine) Init() tea.Cmd { return readMore(&s.Base, s.of) }

func (s *machine) m() *model.Machine { return s.Data.Machine(s.of) }

func (s *machine) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	s.draw()
}

// TakesText is so while the line at the bottom takes a date.
func (s *machine) TakesText() bool { return s.swap.typing() }

// HasInner tells of the line at the bottom.
func (s *machine) HasInner() bool { return s.swap.choosing() || s.ask }

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
		duty = "out of use since " + m.Since.In(s.Now.Location()).Format("2006-01-02")
	}
	return theme.Safe(m.Name) + "   " + duty, s.Now.Format("2006-01-02 15:04")
}

// Keys are those that work on this machine as it stands.
func (s *machine) Keys() []Key {
	m := s.m()
	switch {
	case m == nil:
		return []Key{back}
	case s.swap.choosing():
		return s.swap.keys(m)
	case s.ask:
		shut := Do(func() { s.ask = false })
		return []Key{On("y", "go on", "goes on with the session", func(Press) tea.Cmd { s.ask = false; return Send(Open{To: ToWalk{Session: m.Session}}) }).When(m.Session != ""),
			On("n", "stay", "", shut), On("esc", "back", "", shut)}
	}
	ks := []Key{careKey(m), s.swap.undoKey(),
		s.swap.startKey(m),
		On("m", "meters", "types what the counters show", Opens(ToMeters{m.ID})),
		symptomKey(m),
		On("f", "findings", "what was seen and is to be looked at again", Opens(ToFindings{m.ID})),
		On("1", "print file", "whether the parts last through a print, from its file", Opens(ToPrintFile{m.ID})).When(!m.Retired),
		On("2", "care list", "what it is kept by: keeps care or lets it go, and tells when it was last done", Opens(ToCareList{m.ID})),
		On("3", "lives", "how long its parts last on this bench, drawn, and when to renew them", Opens(ToLives{m.ID})),
		On("4", "book", "this machine's record; an entry can be struck there", Opens(ToBook{m.ID})),
		On("5", "clear tag", "takes the machine's tag away, with a word on what was put right", Opens(ToClearTag{m.ID})).When(action.Clearable(m)),
		On("e", "edit", "name, duty, in use or not, what it has, settings", Opens(ToMachineForm{m.ID})),
		s.sizeKey()}
	return append(append(ks, s.pager.keys()...),
		On("enter", "", "goes on with the session that is begun, after asking", Do(func() { s.ask = true })).Afresh().When(m.Session != ""),
		On("6", "", "retires the machine: asks for its name first", Opens(ToRetire{m.ID})), back)
}

// sizeKey draws the gauges in full, or a line each.
func (s *machine) sizeKey() Key {
	does, says := "large gauges", "draws every gauge in full, with its scale and what it counts"
	if s.large {
		does, says = "small gauges", "draws one line a gauge"
	}
	return On(".", does, says, Do(func() { s.large = !s.large }))
}

// Help explains the page.
func (s *machine) Help() []HelpPart { return benchHelp(s.Env.Theme) }

func (s *machine) Update(msg tea.Msg) (Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case Press:
		cmd = s.press(msg)
	case Result:
		if more, ok := msg.Value.(machineMore); ok {
			s.more = more
		} else {
			s.swap.result(msg)
		}
	case DataChanged:
		s.Take(msg)
		cmd = readMore(&s.Base, s.of)
	default:
		s.Take(msg)
	}
	s.draw()
	return s, cmd
}

// press takes a key: what is in the list, or a letter of the date that is typed.
func (s *machine) press(p Press) tea.Cmd {
	cmd, taken := Act(s.Keys(), p)
	if !taken {
		s.swap.typed(p)
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
	return s.swap.lines(s.W)
}

// draw lays the page out.
func (s *machine) draw() {
	if s.Data == nil || s.W == 0 {
		return
	}
	s.fill(s.lines(), s.H-len(apart(s.foot(), s.H)))
}

// View gives the page as last laid out.
func (s *machine) View() string {
	if s.m() == nil {
		return " This machine is not on the bench any more."
	}
	foot := apart(s.foot(), s.H)
	body := strings.Split(s.pager.view(s.Env.Theme, s.W), "\n")
	return strings.Join(append(pad(clip(body, s.H-len(foot)), s.H-len(foot)), foot...), "\n")
}
