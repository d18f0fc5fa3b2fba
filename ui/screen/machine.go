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

func (s *machine) SetSize(w, h int) Screen {
	s.Size(w, h)
	s.draw()
	return s
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
		return []Key{{"esc", "back", ""}}
	case s.swap.choosing():
		return s.swap.keys()
	case s.ask:
		return []Key{{"y", "go on", "goes on with the session"}, {"n", "stay", ""}}
	}
	var ks []Key
	if s.Env.Makers.Plan != nil && !m.Retired {
		ks = append(ks, Key{"c", "care", "plans a care session, or goes on with the one that is begun"})
	}
	if s.swap.saved() {
		ks = append(ks, Key{"u", "undo", "strikes the swap just saved; the book keeps both"})
	}
	if action.Clearable(m) {
		ks = append(ks, Key{"t", "clear tag", "takes the machine's tag away, with a word on what was put right"})
	}
	size := Key{"g", "large gauges", "draws every gauge in full, with its scale and what it counts"}
	if s.large {
		size = Key{"g", "small gauges", "draws one line a gauge"}
	}
	ks = append(ks, Key{"w", "swap", "logs a renewed part"}, Key{"m", "meters", "types what the counters show"})
	if s.Env.Makers.Symptom != nil && !m.Retired {
		ks = append(ks, Key{"s", "symptom", "what you see or hear, and the care that is likely to cure it"})
	}
	if s.Env.Makers.Job != nil && !m.Retired {
		ks = append(ks, Key{"p", "print file", "whether the parts last through a print, from its file"})
	}
	ks = append(ks, Key{"f", "findings", "what was seen and is to be looked at again"}, Key{"l", "lives", "how long its parts last on this bench, drawn, and when to renew them"},
		Key{"i", "care list", "what it is kept by: keeps care or lets it go, and tells when it was last done"},
		Key{"b", "book", "this machine's record; an entry can be struck there"},
		Key{"e", "edit", "name, duty, in use or not, what it has, settings"}, size)
	ks = append(ks, s.pager.keys()...)
	return append(ks, Key{"x", "", "retires the machine: asks for its name first"}, Key{"esc", "back", ""})
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

func (s *machine) press(p Press) tea.Cmd {
	m := s.m()
	switch {
	case m == nil:
		return nil
	case s.swap.choosing():
		return s.swap.press(p, m)
	case s.ask:
		s.ask = false
		if p.Key() == "y" && m.Session != "" {
			return Send(OpenWalk{Session: m.Session})
		}
		return nil
	case s.scroll(p.Key()):
		return nil
	}
	switch p.Key() {
	case "enter":
		s.ask = p.Passes() && m.Session != "" && s.Env.Makers.Walk != nil
	case "c":
		if !m.Retired {
			return care(s.Env, m)
		}
	case "w":
		s.swap.start(m)
	case "u":
		return s.swap.undo(p)
	case "m":
		return Send(Push{newMeters(s.Env, s.of)})
	case "f":
		return Send(Push{newFindings(s.Env, s.of)})
	case "s":
		return symptoms(s.Env, m)
	case "i":
		return Send(Push{newCareList(s.Env, s.of)})
	case "b":
		return Send(Push{newBook(s.Env, s.of)})
	case "e":
		return Send(Push{newMachineForm(s.Env, m)})
	case "t":
		if action.Clearable(m) {
			return Send(Push{newClearTag(s.Env, m)})
		}
	case "p":
		if s.Env.Makers.Job != nil && !m.Retired {
			return Send(Push{s.Env.Makers.Job(s.of)})
		}
	case "l":
		return Send(Push{newLives(s.Env, s.of)})
	case "x":
		return Send(Push{newRetire(s.Env, s.of)})
	case "g":
		s.large = !s.large
	}
	return nil
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
