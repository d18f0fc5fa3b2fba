// Package screentest drives the screens in tests: keys go in, frames come out, and what is written
// is in a real data file.
package screentest

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/rooms"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// Desk is the program on a real data file, driven by keys; commands run at once.
type Desk struct {
	T testing.TB
	R *screen.Root
	S *store.Store
	E *screen.Env
}

// Setting changes what a desk is made of.
type Setting func(*screen.Deps)

// Probed opens a probe in place of a session's screens, so that a test sees what was asked for.
func Probed(d *screen.Deps) {
	d.Rooms = func(e *screen.Env, to any) screen.Screen {
		switch to := to.(type) {
		case screen.ToPlan:
			return &Probe{Base: e.Base(), Got: append([]string{"plan", to.Machine}, to.Only...)}
		case screen.ToWalk:
			return &Probe{Base: e.Base(), Got: []string{"walk", to.Session}}
		case screen.ToSummary:
			return &Probe{Base: e.Base(), Got: []string{"summary", to.Session}}
		}
		return rooms.Open(e, to)
	}
}

// Of has procedures of the test's own.
func Of(lib Shelf) Setting { return func(d *screen.Deps) { d.Library = lib } }

// New opens the bench, with the screens of a session probed. Without fill the data file is empty.
func New(t testing.TB, w, h int, fill bool, o theme.Options, more ...Setting) *Desk {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "bench.db"), func() time.Time { return Now })
	if err != nil {
		t.Fatal(err)
	}
	if fill {
		seed(t, s)
	}
	deps := screen.Deps{Store: s, Library: Library(), Theme: theme.New(o), Now: func() time.Time {
		return Now
	}, Operator: "kit", Title: "north bench"}
	n := 0
	d := Open(t, s, w, h, deps, append([]Setting{Probed}, more...)...)
	d.E.NewID = func(time.Time) string { n++; return "new" + strconv.Itoa(n) }
	t.Cleanup(func() {
		rep, err := s.Check()
		if err != nil || len(rep.Problems) > 0 {
			t.Errorf("data file: %v %v", err, rep.Problems)
		}
	})
	return d
}

// Plain is a full bench on an old terminal.
func Plain(t testing.TB) *Desk { return New(t, 80, 24, true, theme.Options{Dark: true}) }

// Open opens the bench on a data file.
func Open(t testing.TB, s *store.Store, w, h int, deps screen.Deps, more ...Setting) *Desk {
	t.Helper()
	deps.Rooms = rooms.Open
	for _, set := range more {
		set(&deps)
	}
	e := screen.NewEnv(deps)
	data, err := e.Load(deps.Now())
	if err != nil {
		t.Fatal(err)
	}
	d := &Desk{T: t, R: screen.NewRoot(e, e.Rooms(e, screen.ToBench{}), data, deps.Now()), S: s,
		E: e}
	d.R.Init()
	d.Send(tea.WindowSizeMsg{Width: w, Height: h})
	return d
}

// Session is a bench with one full machine, the whole library, and the screens of the session.
func Session(t testing.TB, clock func() time.Time) (*Desk, session.Desk, *model.Machine) {
	t.Helper()
	st, err := store.Open(filepath.Join(t.TempDir(), "bench.db"), clock)
	if err != nil {
		t.Fatal(err)
	}
	lib, _ := procedures.Load("")
	m := FullMachine(t, st, lib, clock())
	at := session.Desk{Store: st, Lib: lib, By: "LN"}
	return Open(t, st, 80, 24,
		screen.Deps{Store: st, Library: lib,
			Theme: theme.New(theme.Options{Dark: true, Profile: theme.ANSI256}),
			Now:   clock, Real: Afresh(), Operator: "LN", Desk: at}), at, m
}

// Send delivers a message and all that follows from it.
func (d *Desk) Send(msg tea.Msg) {
	_, cmd := d.R.Update(msg)
	d.Run(cmd)
}

// Run does what was asked for, and all that follows from it.
func (d *Desk) Run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			d.Run(c)
		}
	case tea.QuitMsg:
	default:
		d.Send(msg)
	}
}

// Pass lets time go on to now.
func (d *Desk) Pass(now time.Time) { d.Run(d.R.Pass(now)) }

// Look looks at the data file.
func (d *Desk) Look() { d.Run(d.R.Reload()) }

// KeyNames are the keys that are no letters.
var KeyNames = map[string]tea.KeyMsg{
	"enter": {Type: tea.KeyEnter}, "esc": {Type: tea.KeyEsc}, "up": {Type: tea.KeyUp},
	"down": {Type: tea.KeyDown},
	"tab":  {Type: tea.KeyTab}, "end": {Type: tea.KeyEnd}, "home": {Type: tea.KeyHome},
	"pgdown": {Type: tea.KeyPgDown},
	"ctrl+s": {Type: tea.KeyCtrlS}, "space": {Type: tea.KeySpace, Runes: []rune(" ")},
	"ctrl+u": {Type: tea.KeyCtrlU}, "left": {Type: tea.KeyLeft}, "right": {Type: tea.KeyRight},
	"backspace": {Type: tea.KeyBackspace},
}

// Runes are letters typed in one burst.
func Runes(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }

// Keys presses keys given by name; a word that is no name is typed letter by letter.
func (d *Desk) Keys(names ...string) *Desk {
	for _, n := range names {
		if k, ok := KeyNames[n]; ok {
			d.Send(k)
			continue
		}
		for _, r := range n {
			d.Send(Runes(string(r)))
		}
	}
	return d
}

// On puts the cursor of the bench on a machine.
func (d *Desk) On(name string) *Desk { return d.Keys("/", name, "enter") }

// View is the frame.
func (d *Desk) View() string { return d.R.View() }

// Shows fails unless every text is on the screen.
func (d *Desk) Shows(texts ...string) {
	d.T.Helper()
	for _, x := range texts {
		if !strings.Contains(d.View(), x) {
			d.T.Errorf("%q is not on the screen:\n%s", x, d.View())
		}
	}
}

// Hides fails if a text is on the screen.
func (d *Desk) Hides(texts ...string) {
	d.T.Helper()
	for _, x := range texts {
		if strings.Contains(d.View(), x) {
			d.T.Errorf("%q is on the screen:\n%s", x, d.View())
		}
	}
}

// Bench is what the data file holds.
func (d *Desk) Bench() *model.Bench {
	d.T.Helper()
	b, err := d.S.Bench()
	if err != nil {
		d.T.Fatal(err)
	}
	return b
}

// Machine is a machine of it.
func (d *Desk) Machine(id string) *model.Machine { return d.Bench().Machines[id] }

// Probe is a screen that writes down what it gets.
type Probe struct {
	screen.Base
	Got []string
}

// View is what it got.
func (p *Probe) View() string { return strings.Join(p.Got, " ") }

// Title says that it is one.
func (p *Probe) Title() (string, string) { return "probe", "right" }

// Keys are none.
func (p *Probe) Keys() []screen.Key { return nil }

// Update takes time and bench.
func (p *Probe) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	p.Take(msg)
	return p, nil
}

// Data is what the screens are given of the data file.
func (d *Desk) Data() *screen.Data {
	d.T.Helper()
	data, err := d.E.Load(d.E.Now())
	if err != nil {
		d.T.Fatal(err)
	}
	return data
}
