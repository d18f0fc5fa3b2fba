// Package printfile is whether a machine's parts last through a print, from its file.
package printfile

import (
	"cmp"
	"context"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/verdict"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/printfile"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// page asks for a print file and says whether the machine's parts last through it.
type page struct {
	screen.Base
	screen.Pager
	machine string

	path  screen.Field // typed
	names []string
	dir   string // the folder names are of; "" before any was read
	lost  string // why the folder cannot be read
	why   string // why the file cannot

	reading *reading // nil: none is
	jobs    []printfile.Job
	results []verdict.Result
	loaded  string          // the materials, as typed
	was     string          // the same before they were typed anew
	line    screen.Field    // they, being typed
	typing  bool            // of the materials
	timing  bool            // of how long it took
	took    time.Duration   // how long it took; 0: not said
	leaving bool            // it is asked whether to leave that unrecorded
	all     []printfile.Job // of a container; jobs are all of them, or one
	bad     string
	alone   bool // unattended
	written string
	saving  bool
	// the actions that booked the print and recorded it; "" where it is not
	booked, recorded string
	doubt            string // why the print may be counted already; a second r says that it is not
}

// reading is a file being read; bytes and size are shared with the command that reads.
type reading struct {
	stop        context.CancelFunc
	bytes, size atomic.Int64
}

// New asks for a print file on a machine.
func New(e *screen.Env, machine string) screen.Screen {
	return &page{Base: e.Base(), machine: machine}
}

func (s *page) m() *model.Machine { return s.Data.Machine(s.machine) }

// Init lists the folder the program runs in.
func (s *page) Init() tea.Cmd {
	if s.m() == nil {
		return screen.Send(screen.Pop{})
	}
	return s.list()
}

func (s *page) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	s.draw()
}

// choosing tells that a path is typed.
func (s *page) choosing() bool { return s.jobs == nil && s.reading == nil }

func (s *page) TakesText() bool { return s.choosing() || s.typing || s.timing }
func (s *page) HasInner() bool {
	return s.reading != nil || s.typing || s.timing || s.doubt != "" || s.unsaved() ||
		s.choosing() && s.path.Text != ""
}

// unsaved tells that how long a print took was typed and is not recorded.
func (s *page) unsaved() bool { return s.took > 0 && s.recorded == "" && !s.saving }

// undo is the action last written, "" where nothing was.
func (s *page) undo() string { return cmp.Or(s.recorded, s.booked) }

func (s *page) Title() (string, string) {
	name := s.Data.NameOf(s.machine)
	if s.jobs == nil {
		return name + "   print file", ""
	}
	r := &s.jobs[0].Report
	right := model.Changes.Amount(float64(r.Changes())) + ", " + printfile.Span(r.Total())
	if len(s.jobs) > 1 {
		right = strconv.Itoa(len(s.jobs)) + " prints in it"
	}
	if s.alone {
		right += ", unattended"
	}
	return name + "   " + theme.Safe(s.jobs[0].Name), right
}

func (s *page) Keys() []screen.Key {
	switch {
	case s.m() == nil:
		return []screen.Key{screen.Back}
	case s.reading != nil:
		return []screen.Key{screen.On("esc", "stop reading", "", screen.Do(s.reading.stop))}
	case s.choosing():
		return s.pathKeys()
	case s.typing:
		return []screen.Key{screen.On("enter", "take it", "", screen.Do(s.takeMaterial)),
			screen.On("esc", "leave", "",
				screen.Do(func() { s.typing, s.loaded, s.bad = false, s.was, "" }))}
	case s.timing:
		return []screen.Key{screen.On("enter", "take it", "", screen.Do(s.takeTook)),
			screen.On("esc", "leave", "", screen.Do(func() { s.timing, s.bad = false, "" }))}
	case s.doubt != "":
		return []screen.Key{screen.On("1", "add it all the same",
			"adds all that the print used to the meters", func(screen.Press) tea.Cmd {
				s.doubt = ""
				return s.write(true)
			}).Afresh(),
			screen.On("esc", "leave", "adds nothing", screen.Do(func() { s.doubt = "" }))}
	case s.leaving:
		return screen.LeaveKeys(screen.LeavesUnsaved,
			screen.Sends(screen.Pop{}), func() { s.leaving = false })
	}
	alone := screen.On("3", "unattended",
		"nobody is there: a fifth more must be left than the print uses", screen.Do(s.flipAlone))
	if s.alone {
		alone = screen.On("3", "attended", "somebody is there and can stop it",
			screen.Do(s.flipAlone))
	}
	ks := []screen.Key{
		screen.On("c", "care before it",
			"plans the session that does what has to be done before this print",
			func(screen.Press) tea.Cmd { return s.care() }).When(s.m().Session == "" &&
			len(verdict.Stops(s.results)) > 0),
		screen.On("u", "undo", "strikes what was just saved; the book keeps both",
			func(screen.Press) tea.Cmd { return s.strike() }).Afresh().When(s.undo() != ""),
		screen.On("1", "printed", "it was printed: adds what it used to the meters",
			func(screen.Press) tea.Cmd { return s.printed() }).Afresh().When(s.recorded == ""),
		screen.On("2", "to be printed", "it is to be printed: the forecast and the drawer count it",
			func(screen.Press) tea.Cmd { return s.write(false) }).Afresh().When(s.undo() == ""),
		alone,
		screen.On("4", "material", "what is loaded: PLA, or 0=PLA,1=PA-CF by tool",
			screen.Do(func() {
				s.typing, s.was, s.bad, s.line = true, s.loaded, "",
					screen.Field{Text: s.loaded}
			})),
		screen.On("5", "other file", "", func(screen.Press) tea.Cmd {
			s.jobs, s.all, s.results, s.written, s.took = nil, nil, nil, "", 0
			s.booked, s.recorded = "", ""
			return s.list()
		}).When(!s.unsaved()),
		screen.On("6", "it took",
			"how long it took by the clock: the machine's times are learned from it",
			screen.Do(func() { s.timing, s.bad, s.line = true, "", screen.Field{} })).
			When(s.recorded == "" && len(s.jobs) == 1),
		screen.On("7", "plate", "one plate of several, the next, all", screen.Do(s.nextPlate)).
			When(len(s.all) > 1 && s.undo() == "" && !s.unsaved()),
	}
	ks = append(ks, s.Pager.Keys()...)
	if s.unsaved() {
		return append(ks, screen.On("esc", "back", "leaves, after asking for what it took",
			screen.Do(func() { s.leaving = true })))
	}
	return append(ks, screen.Back)
}

// Help explains the words.
func (s *page) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "will it last", Lines: []string{
		"now + this = after\twhat the gauge shows by its last reading, what the print adds, and what it shows then",
		"lasts\tit is still below its band at the end",
		"reaches its band\tin the print, about in the layer said; the band is from low to high, past it the part is overdue",
		"in its band\tit is due already; past its band, it is overdue already",
		"unattended\tless than 1.2 times the need left: do it before (common practice)",
		"chance it fails\tby how long this part lasted on this bench, given that it has lasted so far",
		"The time is that of the file's own moves, by the limits it sets, else the machine's settings, else those of a common machine (from memory). What comes on top is said. Type how long two prints took (6), and the machine's own times are learned: ± holds 80 % of prints.",
	}}}
}

func (s *page) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case screen.Press:
		cmd = s.press(msg)
	case screen.Result:
		cmd = s.result(msg)
	default:
		if s.Take(msg) {
			s.judge()
		}
	}
	s.draw()
	return s, cmd
}

// Press takes a key: what is in the list, or a letter of the path or the materials that are typed.
func (s *page) press(p screen.Press) tea.Cmd {
	cmd, taken := screen.Act(s.Keys(), p)
	switch {
	case taken || s.m() == nil:
	case s.choosing():
		return s.typePath(p)
	case s.typing:
		if s.line.Press(p.Msg) {
			s.loaded, s.bad = s.line.Text, ""
		}
	case s.timing:
		if s.line.Press(p.Msg) {
			s.bad = ""
		}
	}
	return cmd
}

// takeTook takes how long the print took, as typed.
func (s *page) takeTook() {
	d, err := printfile.ReadLength(s.line.Text, printfile.Longest)
	s.line.Refused() // unless it is taken
	if s.bad = screen.Sentence(err); err == nil {
		s.timing, s.took = false, d
	}
}

// nextPlate goes on from all plates of a container to the first, and so on to the last and all.
func (s *page) nextPlate() {
	n := 0
	if len(s.jobs) == 1 {
		for n = range s.all {
			if s.all[n].Name == s.jobs[0].Name {
				break
			}
		}
		n++
	}
	if s.jobs = s.all; n < len(s.all) {
		s.jobs = s.all[n : n+1]
	}
	s.took, s.Pager.Top = 0, 0
	s.judge()
}

func (s *page) flipAlone() {
	s.alone = !s.alone
	s.judge()
}

// printed records the print, or asks where it may be counted already.
func (s *page) printed() tea.Cmd {
	if s.saving {
		return nil
	}
	if s.doubt = printfile.Doubt(s.m(), s.jobs, s.Now, s.took); s.doubt != "" {
		return nil
	}
	return s.write(true)
}

// strike takes back what was just saved.
func (s *page) strike() tea.Cmd {
	if s.saving {
		return nil
	}
	s.saving = true
	return s.Strike(s.machine, s.undo(), "taken back at once")
}

func (s *page) takeMaterial() {
	l, err := printfile.ParseLoaded(s.loaded, procedures.Materials())
	s.line.Refused() // unless it is taken
	if s.bad = screen.Sentence(err); err == nil {
		s.typing = false
		s.reload(l)
	}
}

// reload works out the use by material anew.
func (s *page) reload(l printfile.Loaded) {
	for i := range s.all {
		s.all[i].Load(l)
	}
	s.judge()
}

// judge works the verdict out, with the bench as it is now.
func (s *page) judge() {
	m := s.m()
	if m == nil || len(s.jobs) == 0 {
		return
	}
	s.results = printfile.Judge(s.jobs, m, s.Data.Bench, s.Env.Library.Heads(), s.alone, s.Data.At)
}

// care opens the plan of what has to be done before the print.
func (s *page) care() tea.Cmd {
	stops := verdict.Stops(s.results)
	m := s.m()
	switch {
	case len(stops) == 0:
		return nil
	case m.Session != "":
		return screen.CloseFirst(m)
	}
	var ids []string
	for _, x := range stops {
		ids = append(ids, x.Row.Gauge.Item)
	}
	return screen.Send(screen.Open{To: screen.ToPlan{Machine: s.machine, Only: ids}})
}

// write records the prints, or books them.
func (s *page) write(printed bool) tea.Cmd {
	if s.saving || s.recorded != "" || s.booked != "" && !printed {
		return nil
	}
	facts := printfile.Booked(s.jobs)
	s.written = "Booked: the forecast and the drawer count it."
	if printed {
		var skipped []model.Meter
		var err error
		if facts, skipped, err = printfile.Recorded(s.m(), s.jobs, s.Now, s.took); err != nil {
			return screen.Send(screen.Failed{Err: err})
		}
		s.written = "Recorded: the meters have its use."
		if len(skipped) > 0 {
			var names []string
			for _, k := range skipped {
				names = append(names, string(k))
			}
			s.written += " Never read, so not added to: " + strings.Join(names, ", ") + "."
		}
	}
	s.saving = true
	return s.Append(model.Action{Machine: s.machine, Facts: facts})
}
