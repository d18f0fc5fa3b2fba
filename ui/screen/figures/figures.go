// Package figures is what the care of machines takes, month by month, and whether prints fail less
// after it.
package figures

import (
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/figures"
	"bench/oilcan/ui/figured"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// page shows the figures of one machine, or a line for each.
type page struct {
	screen.Base
	screen.Pager
	screen.List
	of string // machine id; "" for all
	fs []figures.Figures
	ms []*model.Machine // whose they are

	seen          *model.Bench // it is read for
	reading, lost bool         // under way; it could not be
}

// summed is the answer to a reading.
type summed struct {
	fs []figures.Figures
	ms []*model.Machine
}

// New makes the figures of a machine, of all where its id is "".
func New(e *screen.Env, machine string) screen.Screen { return &page{Base: e.Base(), of: machine} }

// Init sums up.
func (s *page) Init() tea.Cmd { return s.sum() }

// sum reads what the machines' records say, in a command.
func (s *page) sum() tea.Cmd {
	b, procs, of, now := s.Data.Bench, s.Env.Library, s.of, s.Now
	s.seen, s.reading, s.lost = b, true, false
	return s.Read(func(st screen.Store) (any, error) {
		out := summed{}
		for _, m := range b.ByName() {
			if of == m.ID || of == "" && !m.Retired {
				out.ms = append(out.ms, m)
			}
		}
		var err error
		out.fs, err = figured.Of(st, b, out.ms, procs.All(), now)
		return out, err
	})
}

// SetSize lays the page out anew.
func (s *page) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	s.lay()
}

// Title names the machine, and says of what time it is.
func (s *page) Title() (string, string) {
	name := "figures   what care takes, and what it is good for"
	if m := s.Data.Machine(s.of); m != nil {
		name = theme.Safe(m.Name) + "   figures"
	}
	return name, strconv.Itoa(figured.Months) + " months up to " + model.Day(s.Now, s.Now)
}

// Keys are those that work now.
func (s *page) Keys() []screen.Key {
	again := screen.On("r", "read again", "what was not to be read is read anew",
		func(screen.Press) tea.Cmd { return s.sum() }).When(s.lost)
	if s.of != "" {
		return append(append([]screen.Key{again}, s.Pager.Keys()...), screen.Back)
	}
	n := len(s.ms)
	ks := []screen.Key{again, s.Moves("move", "", n, 10).When(n > 0)}
	if n > 0 {
		ks = append([]screen.Key{screen.On("enter", "by month",
			"the months of the machine under the cursor, and whether its care pays",
			screen.Opens(screen.ToFigures{Machine: s.ms[s.At].ID}))}, ks...)
	}
	return append(ks, screen.Back)
}

// Help says how to read the page.
func (s *page) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "figures", Lines: []string{
		"Hands and waiting are those of care sessions, by their own times; parts are those renewed; costs are by the prices told (drawer), of one each.",
		"upkeep\thands and parts from the first reading of the hours printed to the newest, over the hours between",
		"in time\tcare whose gauge was not past its band as it was done",
		"failed\tprints that failed: 9 on a machine's page logs one",
		"in 100 h\ta count over hours printed; in brackets what holds the true rate with 95 % (Garwood 1936)",
		"not shown\tthe two intervals overlap: what is seen may be chance",
		"Before and after count up to " + strconv.Itoa(figures.Window) +
			" h printed, and never beyond half way to the next time of that care. " + figures.Caveat,
	}}}
}

// Update takes a message.
func (s *page) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case screen.Press:
		cmd, _ = screen.Act(s.Keys(), msg)
	case screen.Result:
		cmd = s.took(msg)
	case screen.DataChanged:
		if s.Take(msg); s.seen != s.Data.Bench && !s.reading {
			cmd = s.sum()
		}
	default:
		s.Take(msg)
	}
	s.Keep(len(s.ms))
	s.lay()
	return s, cmd
}

// took takes what was read; where the journal went on meanwhile it is read once more.
func (s *page) took(r screen.Result) tea.Cmd {
	if s.Stale(r) {
		return nil
	}
	s.reading, s.lost = false, r.Err != nil
	if got, ok := r.Value.(summed); ok && r.Err == nil {
		s.fs, s.ms = got.fs, got.ms
	}
	if !s.lost && s.seen != s.Data.Bench {
		return s.sum()
	}
	return nil
}

// View gives the page as last laid out.
func (s *page) View() string { return s.Pager.View(s.Env.Theme, s.W) }

func (s *page) lay() {
	if s.Data == nil || s.W == 0 {
		return
	}
	var lines []string
	switch {
	case s.fs == nil && s.lost:
		lines = []string{" The record could not be read: r reads it again, esc goes back."}
	case s.fs == nil:
		lines = []string{" reckoning"}
	case len(s.fs) == 0:
		lines = []string{" No machine is on this bench."}
	case s.of == "":
		lines = s.table()
	default:
		lines = s.machine(&s.fs[0])
	}
	for i := range lines {
		lines[i] = screen.Fit(s.Env.Theme, lines[i], s.W)
	}
	s.Fill(lines, s.H)
}

// column is one of the table of machines; it is left out where the screen is narrower than from.
type column struct {
	head  string
	cells int
	from  int
	text  func(f *figures.Figures, all figures.Month) string
}

// columns are those of the table.
func (s *page) columns() []column {
	money := s.Env.Currency
	return []column{
		{"printed", 9, 0, func(_ *figures.Figures, all figures.Month) string { return figured.Hours(all.Hours) }},
		{"hands", 10, 0, func(_ *figures.Figures, all figures.Month) string { return figured.Minutes(all.Hands) }},
		{"an hour", 9, 110, func(f *figures.Figures, _ figures.Month) string {
			if f.Upkeep.Minutes == nil {
				return ""
			}
			return model.Rough(*f.Upkeep.Minutes) + " min"
		}},
		{"waited", 10, 110, func(_ *figures.Figures, all figures.Month) string {
			return figured.Minutes(all.Waited)
		}},
		{"parts", 5, 0, func(_ *figures.Figures, all figures.Month) string {
			return strconv.Itoa(all.Renewed)
		}},
		{"cost", 9 + theme.Width(money), 90, func(_ *figures.Figures, all figures.Month) string {
			return model.Money(all.Cost, theme.Safe(money))
		}},
		{"stops", 5, 0, func(_ *figures.Figures, all figures.Month) string {
			return strconv.Itoa(all.Stops)
		}},
		{"in time", 7, 0, func(f *figures.Figures, _ figures.Month) string {
			if f.Done == 0 {
				return ""
			}
			return strconv.Itoa(int(100*float64(f.InTime)/float64(f.Done)+0.5)) + " %"
		}},
		{"failed", 6, 0, func(_ *figures.Figures, all figures.Month) string {
			return strconv.Itoa(all.Failed)
		}},
	}
}

// nameCells is how wide a machine's name stands.
const nameCells = 11

// table is a line for each machine, as many as there is room for round the cursor.
func (s *page) table() []string {
	t := s.Env.Theme
	head := "   " + t.Pad("machine", nameCells)
	for _, c := range s.columns() {
		if s.W >= c.from {
			head += " " + t.PadLeft(c.head, c.cells)
		}
	}
	out := []string{t.Text.Dim.Text(head + "  in 100 h")}
	room := max(1, s.H-1)
	top := screen.InView(s.At, s.At+1, len(s.fs), room)
	for i := top; i < min(len(s.fs), top+room); i++ {
		f := &s.fs[i]
		lead, name := "   ", t.Pad(t.Plain(theme.Safe(f.Machine)), nameCells)
		if i == s.At {
			lead, name = " "+t.Text.Accent.Text(">")+" ", t.Text.Accent.Text(name)
		}
		line, all := lead+name, f.Sum()
		for _, c := range s.columns() {
			if s.W >= c.from {
				line += " " + t.PadLeft(t.Plain(c.text(f, all)), c.cells)
			}
		}
		if all.Failed > 0 {
			line += "  " + t.Plain(f.Failing.Words())
		}
		out = append(out, line)
	}
	return out
}
