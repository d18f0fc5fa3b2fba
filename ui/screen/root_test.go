package screen

import (
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

var fixedNow = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

// probe is a screen that writes down what it gets.
type probe struct {
	Base
	got   []string
	text  bool
	inner bool
}

func (p *probe) View() string            { return strings.Join(p.got, " ") }
func (p *probe) Title() (string, string) { return "probe", "right" }
func (p *probe) Keys() []Key {
	return []Key{Shown("x", "do", ""), Shown("y", "other", "")}
}
func (p *probe) TakesText() bool { return p.text }
func (p *probe) HasInner() bool  { return p.inner }
func (p *probe) Update(msg tea.Msg) (Screen, tea.Cmd) {
	if p.Take(msg) {
		return p, nil
	}
	switch msg := msg.(type) {
	case Press:
		k := msg.Key()
		if msg.Again {
			k += "~"
		}
		p.got = append(p.got, k)
	case Result:
		p.got = append(p.got, "result")
	}
	return p, nil
}

func runes(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }

func pasted(s string) tea.KeyMsg {
	k := runes(s)
	k.Paste = true
	return k
}

var (
	enter = tea.KeyMsg{Type: tea.KeyEnter}
	escK  = tea.KeyMsg{Type: tea.KeyEsc}
	ctrlC = tea.KeyMsg{Type: tea.KeyCtrlC}
)

// rig is a root with one or two probes.
func rig(t *testing.T, deep bool) (*Root, *probe, *probe) {
	t.Helper()
	e := NewEnv(Deps{Theme: theme.New(theme.Options{Dark: true}), Now: func() time.Time {
		return fixedNow
	}})
	first := &probe{Base: e.Base()}
	r := NewRoot(e, first, &Data{Bench: model.NewBench()}, fixedNow)
	r.Init()
	r.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	second := first
	if deep {
		second = &probe{Base: e.Base()}
		e.Rooms = func(*Env, any) Screen { return second }
		r.Update(Open{})
	}
	return r, first, second
}

func quits(cmd tea.Cmd) bool {
	if cmd == nil {
		return false
	}
	_, ok := cmd().(tea.QuitMsg)
	return ok
}

func TestKeysReachTheTopScreen(t *testing.T) {
	at := func(ms int) time.Time { return fixedNow.Add(time.Duration(ms) * time.Millisecond) }
	for _, c := range []struct {
		name string
		text bool
		keys []Stamped
		want string
	}{
		{"a burst is split", false, []Stamped{{runes("jk"), at(0)}}, "j k~"},
		{"a burst in a field is whole", true, []Stamped{{runes("jk"), at(0)}}, "[jk]"},
		{"a paste outside a field is dropped", false,
			[]Stamped{{pasted("ok\nok"), at(0)}, {enter, at(900)}}, "enter"},
		{"a paste in a field loses its newlines", true, []Stamped{{pasted("\na\nb\r\n"), at(0)}},
			"[a b]"},
		{"a paste in a field loses its control characters", true,
			[]Stamped{{pasted("a\x1b[31mb\u202e"), at(0)}}, "[a␛[31mb]"},
		{"held enter", false, []Stamped{{enter, at(0)}, {enter, at(300)}, {enter, at(340)},
			{enter, at(380)}}, "enter enter~ enter~ enter~"},
		{"enter pressed twice", false, []Stamped{{enter, at(0)}, {enter, at(400)}}, "enter enter"},
		{"other keys between", false, []Stamped{{enter, at(0)}, {runes("j"), at(50)},
			{enter, at(100)}}, "enter j enter"},
		{"q and ? are letters in a field", true,
			[]Stamped{{runes("q"), at(0)}, {runes("?"), at(0)}}, "q ?"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, _, top := rig(t, true)
			top.text = c.text
			for _, k := range c.keys {
				r.Update(k)
			}
			if got := strings.Join(top.got, " "); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestEscGoesBackAndStopsAtTheBench(t *testing.T) {
	r, first, top := rig(t, true)
	top.inner = true
	r.Update(escK)
	if r.Top() != Screen(top) || len(top.got) != 1 {
		t.Error("esc did not go to the screen with something open")
	}
	top.inner = false
	r.Update(escK)
	r.Update(escK)
	if r.Top() != Screen(first) || len(r.stack) != 1 {
		t.Error("esc did not lead to the bench")
	}
}

func TestQuitOnlyFromTheBench(t *testing.T) {
	r, first, top := rig(t, true)
	if _, cmd := r.Update(runes("q")); quits(cmd) || len(top.got) != 1 {
		t.Error("q left from a screen over the bench")
	}
	r.Update(Pop{})
	first.inner = true
	if _, cmd := r.Update(runes("q")); quits(cmd) {
		t.Error("q left while something was open")
	}
	first.inner = false
	if _, cmd := r.Update(runes("q")); !quits(cmd) {
		t.Error("q did not leave")
	}
	if _, cmd := r.Update(ctrlC); !quits(cmd) {
		t.Error("ctrl+c did not leave")
	}
}

func TestQuitWaitsForWrites(t *testing.T) {
	for _, c := range []struct {
		name string
		err  error
		quit bool
	}{
		{"saved", nil, true},
		{"not saved", errors.New("the disk is full: free some space"), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, first, _ := rig(t, false)
			r.env.writes = 1
			if _, cmd := r.Update(ctrlC); quits(cmd) {
				t.Fatal("left with a write on its way")
			}
			_, cmd := r.Update(Result{Screen: first.ID(), Wrote: true, Err: c.err})
			if quits(cmd) != c.quit {
				t.Errorf("quits: %v, want %v", !c.quit, c.quit)
			}
			if c.err != nil && !strings.Contains(r.View(), "The disk is full: free some space.") {
				t.Errorf("the error is not shown:\n%s", r.View())
			}
		})
	}
	r, _, _ := rig(t, false)
	r.env.writes = 1
	r.Update(ctrlC)
	if _, cmd := r.Update(ctrlC); !quits(cmd) {
		t.Error("the second ctrl+c did not leave")
	}
	r, first, _ := rig(t, false)
	r.env.writes = 1
	r.Update(ShowDemo{})
	r.Update(Result{Screen: first.ID(), Wrote: true,
		Err: errors.New("the disk is full: free some space")})
	if r.leaving || r.failed != nil {
		t.Errorf("what could not be saved is left for the demo: %v", r.failed)
	}
}

func TestErrorsStayUntilDismissed(t *testing.T) {
	r, _, top := rig(t, true)
	r.Update(Failed{errors.New("the drawer is stuck")})
	r.Update(runes("j"))
	if !strings.Contains(r.View(), "The drawer is stuck.") {
		t.Error("gone at the next key")
	}
	r.Update(escK)
	if strings.Contains(r.View(), "stuck") || r.Top() != Screen(top) {
		t.Error("esc did not dismiss the error, or left the screen too")
	}
	r.Update(Notice{"done"})
	if !strings.Contains(r.View(), " done") {
		t.Error("a notice is not shown")
	}
	r.Update(runes("j"))
	if strings.Contains(r.View(), " done") {
		t.Error("a notice outlives the next key")
	}
}

func TestResultsGoToTheirScreen(t *testing.T) {
	r, first, top := rig(t, true)
	r.Update(Result{Screen: first.ID()})
	r.Update(Result{Screen: 99})
	if len(first.got) != 1 || len(top.got) != 0 {
		t.Errorf("first %v, top %v", first.got, top.got)
	}
}

func TestHelpOnEveryScreen(t *testing.T) {
	r, _, top := rig(t, true)
	r.Update(runes("?"))
	if !strings.Contains(r.View(), "goes back; it never throws") ||
		!strings.Contains(r.View(), "help: probe") {
		t.Errorf("no help page:\n%s", r.View())
	}
	r.Update(runes("?"))
	top.text = true
	r.Update(tea.KeyMsg{Type: tea.KeyF1})
	if !isHelp(r.Top()) {
		t.Error("f1 does not help in a field")
	}
}

func TestFirstViewAndSmallTerminals(t *testing.T) {
	r, _, _ := rig(t, false)
	r.w, r.h = 0, 0
	if r.View() != "" {
		t.Error("drew before the size was known")
	}
	r.Update(tea.WindowSizeMsg{Width: 39, Height: 24})
	if v := r.View(); strings.Count(v, "\n") != 0 || !strings.Contains(v, "oilcan needs 40x10") {
		t.Errorf("%q", v)
	}
}

// TestFirstLookFails ends the program with what is wrong with the data file: there is nothing to
// show.
func TestFirstLookFails(t *testing.T) {
	e := NewEnv(Deps{Theme: theme.New(theme.Options{}), Now: func() time.Time { return fixedNow }})
	r := NewRoot(e, &probe{Base: e.Base()}, nil, fixedNow)
	want := errors.New("the file is damaged")
	_, cmd := r.Update(polled{Err: want})
	if cmd == nil || r.failed != want {
		t.Fatalf("it goes on: %v", r.failed)
	}
	if _, quits := cmd().(tea.QuitMsg); !quits {
		t.Error("it does not quit")
	}
}

// told counts what a screen is told.
type told struct {
	probe
	data, ticks, sizes int
}

func (p *told) SetSize(w, h int) { p.sizes++; p.Base.SetSize(w, h) }

func (p *told) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg.(type) {
	case DataChanged:
		p.data++
	case Tick:
		p.ticks++
	}
	_, cmd := p.probe.Update(msg)
	return p, cmd
}

// A covered screen is told nothing, however much happens, and all it missed once when it is shown.
func TestCoveredScreensAreToldWhenShown(t *testing.T) {
	e := NewEnv(Deps{Theme: theme.New(theme.Options{Dark: true}), Now: func() time.Time {
		return fixedNow
	}})
	below, above := &told{probe: probe{Base: e.Base()}}, &told{probe: probe{Base: e.Base()}}
	e.Rooms = func(*Env, any) Screen { return above }
	r := NewRoot(e, below, &Data{Bench: model.NewBench()}, fixedNow)
	r.Init()
	r.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
	r.Update(Open{})
	*below, *above = told{probe: below.probe}, told{probe: above.probe}
	last := &Data{Bench: model.NewBench()}
	for i := range 5 {
		last = &Data{Bench: model.NewBench()}
		r.Update(Result{Screen: above.ID(), Wrote: true, data: last})
		r.Pass(fixedNow.Add(time.Duration(i) * time.Hour))
		r.Update(tea.WindowSizeMsg{Width: 80 + i, Height: 24})
	}
	if above.data != 5 || above.ticks != 5 || above.sizes != 5 {
		t.Errorf("in view: %d times the bench, %d the time, %d a size", above.data, above.ticks,
			above.sizes)
	}
	if below.data+below.ticks+below.sizes > 0 {
		t.Errorf("covered: %d times the bench, %d the time, %d a size", below.data, below.ticks,
			below.sizes)
	}
	r.Update(Pop{})
	if below.data != 1 || below.ticks != 1 || below.sizes != 1 || below.Data != last ||
		below.W != 84 || !below.Now.Equal(fixedNow.Add(4*time.Hour)) {
		t.Errorf("shown: %d times the bench, %d the time, %d a size; %+v", below.data, below.ticks,
			below.sizes, below.Base)
	}
	r.Update(Open{})
	r.Update(Pop{})
	if below.data != 1 {
		t.Error("told again though nothing is new")
	}
	r.Update(Open{})
	r.Update(Result{Screen: above.ID(), Wrote: true, data: &Data{Bench: model.NewBench()}})
	r.Update(Result{Screen: below.ID()})
	if below.data != 2 {
		t.Error("an answer comes to a screen that does not know what is new")
	}
}
