// Package swap is the quick log of a renewed part: a line at the bottom of the bench and of a
// machine's page. It is a part of those screens and no screen of its own.
package swap

import (
	"cmp"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// swapLetters are the keys of the parts that can be renewed, the same on every machine so that
// fingers learn them.
var swapLetters = []struct{ key, part string }{
	{"b", "blade"}, {"w", "wiper"}, {"f", "filter"}, {"d", "desiccant"}, {"n", "nozzle"},
	{"h", "hot-end unit"},
	{"s", "sock"}, {"t", "tube"}, {"g", "gear set"}, {"e", "belt"}, {"r", "bearing"},
	{"u", "bushing"}, {"a", "fan"},
	{"o", "heater and sensor"}, {"c", "bed cable"}, {"p", "plate sheet"}, {"l", "liner"},
}

// Line is the quick log of a renewed part, one line at the bottom of the screen it belongs to: the
// part's letter, then how the old one was.
type Line struct {
	screen.QuickLine
	parts []string // those that can be on this machine, the ones that care looks after first
	cared int      // how many of them are looked after
	all   bool
	part  string // chosen; "" while it is asked
	left  string // what the drawer held then
	anew  string // which gauges it set back
	look  string // what to look for, where the old part was lost: a finding says it too
}

// New makes the line of a screen.
func New(of *screen.Base) Line { return Line{QuickLine: screen.QuickLine{Of: of}} }

// start opens the line for a machine.
func (l *Line) start(m *model.Machine) {
	*l = New(l.Of)
	l.Stage, l.Machine = screen.QuickChoose, m.ID
	procs := l.Of.Env.Library.All()
	var rest []string
	for _, p := range swapLetters {
		s, err := action.Swap(m, procs, p.part, "")
		switch {
		case err != nil:
		case len(s.Resets) > 0:
			l.parts = append(l.parts, p.part)
		default:
			rest = append(rest, p.part)
		}
	}
	l.cared = len(l.parts)
	l.parts = append(l.parts, rest...)
	l.all = l.cared == 0
}

// Keys are those of the open line, which is about m. A key that repeats because it is held chooses
// nothing.
func (l *Line) Keys(m *model.Machine) []screen.Key {
	switch {
	case m == nil || m.ID != l.Machine:
		return []screen.Key{screen.On("esc", "back", "logs nothing", screen.Do(l.Close))}
	case l.Typing():
		return []screen.Key{screen.On("enter", "take it", "", screen.Do(func() { l.takeWhen(m) })),
			screen.On("esc", "now", "it was done just now",
				screen.Do(func() {
					l.Turn(screen.QuickChoose)
					l.Field = screen.Field{}
				}))}
	case l.part == "":
		return []screen.Key{screen.On("esc", "back", "logs nothing", screen.Do(l.Close)),
			l.partKey(),
			screen.On(".", "", "shows all parts", screen.Do(func() { l.all = true }))}
	}
	return []screen.Key{screen.On("esc", "back", "logs nothing",
		screen.Do(func() { l.part, l.Bad = "", "" })), l.endKey(m),
		screen.On(".", "", "says when it was done, and what the counter showed",
			screen.Do(func() { l.Turn(screen.QuickType) }))}
}

// partKey says which part is new.
func (l *Line) partKey() screen.Key {
	parts := map[string]string{}
	var keys []string
	for _, x := range swapLetters {
		if slices.Contains(l.parts, x.part) {
			parts[x.key] = x.part
			keys = append(keys, x.key)
		}
	}
	return screen.On("letter", "which part", "which part is new", func(p screen.Press) tea.Cmd {
		if !p.Held {
			l.part = parts[p.Key()]
		}
		return nil
	}, keys...)
}

// endKey says how the old part was, and saves.
func (l *Line) endKey(m *model.Machine) screen.Key {
	ends := map[string]model.End{}
	var keys []string
	for _, x := range screen.Ends {
		ends[x.Key] = x.End
		keys = append(keys, x.Key)
	}
	return screen.On("letter", "how the old one was", "saves the swap; u undoes it right after",
		func(p screen.Press) tea.Cmd {
			if p.Held {
				return nil
			}
			return l.write(m, ends[p.Key()])
		}, keys...)
}

// StartKey opens the line.
func (l *Line) StartKey(m *model.Machine) screen.Key {
	return screen.On("w", "swap", "logs a renewed part: its letter, then how the old one was",
		screen.Do(func() { l.start(m) }))
}

// UndoKey strikes what was just saved.
func (l *Line) UndoKey() screen.Key { return l.QuickLine.UndoKey("swap") }

// Typed takes a letter of when and what a counter showed.
func (l *Line) Typed(p screen.Press, m *model.Machine) tea.Cmd { return l.Letter(p, l.Keys(m)) }

func (l *Line) takeWhen(m *model.Machine) {
	at, readings, err := action.WhenAndCount(l.Field.Text, m, l.meter(m), l.Of.Now)
	if err == nil {
		_, err = action.Readings(m, readings, at, l.Of.Now)
	}
	if l.Bad = screen.Sentence(err); err == nil {
		l.Stage = screen.QuickChoose
	}
}

// Meter is the counter a bare number is of: the one the part is counted in, else changes.
func (l *Line) meter(m *model.Machine) model.Meter {
	if b, ok := life.BandOf(m, l.Of.Env.Library.Heads(), l.part); ok && b.Meter.Typed() {
		return b.Meter
	}
	return model.Changes
}

func (l *Line) write(m *model.Machine, end model.End) tea.Cmd {
	now := l.Of.Now
	s, err := action.Swap(m, l.Of.Env.Library.All(), l.part, end)
	at, readings, bad := action.WhenAndCount(l.Field.Text, m, l.meter(m), now)
	if err = cmp.Or(err, bad); err == nil {
		s, err = s.With(m, readings, at, now)
	}
	if err != nil {
		l.Bad = screen.Sentence(err)
		return nil
	}
	l.Stage, l.look = screen.QuickWrite, s.Look
	a := model.Action{Machine: m.ID, Facts: s.Facts}
	if !at.Equal(now) {
		a.At = at
	}
	return l.Of.Append(a)
}

// Result takes the answer to the line's own writes.
func (l *Line) Result(r screen.Result) {
	for _, e := range l.Wrote(r) {
		if e.Swap != nil {
			l.Says, l.left = l.told(e), l.inDrawer(e.Swap.Part)
			l.anew = action.Anew(l.Of.Env.Library.All(), e.Swap.Resets)
		}
	}
}

func (l *Line) told(e model.Entry) string {
	m := l.Of.Data.Machine(l.Machine)
	if m == nil {
		return l.part
	}
	end := string(e.Swap.End)
	if e.Swap.End == model.EndUnknown {
		end = "old one not known"
	}
	says := e.Swap.Part + " on " + theme.Safe(m.Name) + ", " + end
	if back := e.Written.Sub(e.At); back > time.Hour {
		return says + ", " + model.Stamp(e.At, l.Of.Now)
	}
	for _, k := range []model.Meter{model.Changes, model.Hours} {
		if p, ok := m.Shows(k); ok {
			says += " at " + model.Number(p.Value) + " " + k.Unit()
			break
		}
	}
	return says
}

// inDrawer says what the drawer holds of a part now.
func (l *Line) inDrawer(part string) string {
	st := l.Of.Data.Bench.Drawer[part]
	if st == nil || st.Count == nil {
		return "; drawer not counted"
	}
	return "; " + model.Number(*st.Count) + " left"
}

// Lines draws the line, two where its choices need it.
func (l *Line) Lines(w int) []string {
	t := l.Of.Env.Theme
	m := l.Of.Data.Machine(l.Machine)
	switch {
	case m == nil:
		return nil
	case l.Stage != screen.QuickChoose:
		ask := "when, and what the " + l.meter(m).Unit() +
			" counter showed, as in \"yesterday 3412\":"
		return l.Drawn(w, ask, l.left, append(l.moreSaid(w), t.Text.Accent.Text("u")+" undo")...)
	case l.Bad != "":
		return screen.Wrapped(t, " ", l.Bad, w-1, theme.Paint{})
	}
	var words []string
	lead := "new part on " + theme.Safe(m.Name) + ":"
	if l.part != "" {
		lead = "old " + l.part + " of " + theme.Safe(m.Name) + ":"
		for _, x := range screen.Ends {
			words = append(words, t.Text.Accent.Text(x.Key)+" "+x.Says)
		}
		when := " when, count"
		if l.Field.Text != "" {
			when = " " + t.Plain(theme.Safe(l.Field.Text))
		}
		words = append(words, t.Text.Accent.Text(".")+when)
	} else {
		for _, x := range swapLetters {
			if i := slices.Index(l.parts, x.part); i >= 0 && (l.all || i < l.cared) {
				words = append(words, t.Text.Accent.Text(x.key)+" "+x.part)
			}
		}
		if !l.all && l.cared < len(l.parts) {
			words = append(words, t.Text.Accent.Text(".")+" other")
		}
	}
	return screen.Flow(t.Text.Strong.Text(t.Plain(lead)), words, w)
}

// moreSaid is which gauges a swap set back, and that what was lost is a finding now.
func (l *Line) moreSaid(w int) []string {
	var out []string
	look := l.look
	if look != "" {
		look = "finding noted: " + look
	}
	for _, x := range []string{l.anew, look} {
		out = append(out, screen.Wrapped(l.Of.Env.Theme, "", theme.Safe(x), w-3, theme.Paint{})...)
	}
	return out
}
