// Package swap is the quick log of a renewed part: a line at the bottom of the bench and of a
// machine's page. It is a part of those screens and no screen of its own.
package swap

import (
	"slices"
	"strings"
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

// swapEnds are the keys that say how the old part was.
var swapEnds = []struct {
	key  string
	end  model.End
	says string
}{
	{"w", model.EndWorn, "worn"}, {"s", model.EndEarly, "sound"}, {"f", model.EndFailed, "failed"},
	{"x", model.EndLost, "lost"},
	{"d", "", "don't know"},
}

// swapStage is how far a quick swap has come.
type swapStage int

const (
	swapIdle swapStage = iota
	swapPart
	swapEnd
	swapWhen // typing when it was done, and what a counter showed
	swapWriting
	swapSaved
	swapUndone
)

// Line is the quick log of a renewed part, one line at the bottom of the screen it belongs to: the
// part's letter, then how the old one was.
type Line struct {
	base    *screen.Base
	stage   swapStage
	machine string
	parts   []string // those that can be on this machine, the ones that care looks after first
	cared   int      // how many of them are looked after
	all     bool
	part    string
	when    screen.Field
	says    string // what was saved
	anew    string // which gauges it set back
	look    string // what to look for, where the old part was lost: a finding says it too
	action  string // its id, to strike
	bad     string
}

// New makes the line of a screen.
func New(of *screen.Base) Line { return Line{base: of} }

// Open tells whether the line shows anything.
func (l *Line) Open() bool { return l.stage != swapIdle }

// Choosing tells whether the line takes the keys.
func (l *Line) Choosing() bool {
	return l.stage == swapPart || l.stage == swapEnd || l.stage == swapWhen
}

// Typing tells whether a date is typed.
func (l *Line) Typing() bool { return l.stage == swapWhen }

// saved tells whether a swap was just saved.
func (l *Line) saved() bool { return l.stage == swapSaved }

// Close closes the line.
func (l *Line) Close() { l.stage, l.bad = swapIdle, "" }

// Passed closes what offers to undo where another action was begun: what was saved is history then,
// and is struck in the book.
func (l *Line) Passed(key string) {
	if l.saved() && !screen.Moving(key) {
		l.Close()
	}
}

// start opens the line for a machine.
func (l *Line) start(m *model.Machine) {
	*l = Line{base: l.base, stage: swapPart, machine: m.ID}
	procs := l.base.Env.Library.All()
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
	case m == nil || m.ID != l.machine:
		return []screen.Key{screen.On("esc", "back", "logs nothing", screen.Do(l.Close))}
	case l.stage == swapWhen:
		return []screen.Key{screen.On("enter", "take it", "", screen.Do(func() { l.takeWhen(m) })),
			screen.On("esc", "now", "it was done just now",
				screen.Do(func() { l.when, l.bad, l.stage = screen.Field{}, "", swapEnd }))}
	case l.stage == swapPart:
		return []screen.Key{screen.On("esc", "back", "logs nothing", screen.Do(l.Close)),
			l.partKey(),
			screen.On(".", "", "shows all parts", screen.Do(func() { l.all = true }))}
	}
	return []screen.Key{screen.On("esc", "back", "logs nothing",
		screen.Do(func() { l.stage, l.bad = swapPart, "" })), l.endKey(m),
		screen.On(".", "", "says when it was done, and what the counter showed",
			screen.Do(func() { l.stage, l.bad = swapWhen, "" }))}
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
			l.part, l.stage = parts[p.Key()], swapEnd
		}
		return nil
	}, keys...)
}

// endKey says how the old part was, and saves.
func (l *Line) endKey(m *model.Machine) screen.Key {
	ends := map[string]model.End{}
	var keys []string
	for _, x := range swapEnds {
		ends[x.key] = x.end
		keys = append(keys, x.key)
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
func (l *Line) UndoKey() screen.Key {
	return screen.On("u", "undo", "strikes the swap just saved; the book keeps both",
		func(screen.Press) tea.Cmd {
			return l.base.Strike(l.machine, l.action, "undone right after it was saved")
		}).Afresh().When(l.saved())
}

// Typed takes a letter of when and what a counter showed; any other key that is not in the list
// does nothing, and is told so.
func (l *Line) Typed(p screen.Press, m *model.Machine) tea.Cmd {
	if l.Typing() && l.when.Press(p.Msg) || p.Held {
		return nil
	}
	return screen.Wrong(l.Keys(m), p)
}

func (l *Line) takeWhen(m *model.Machine) {
	at, readings, err := action.WhenAndCount(l.when.Text, m, l.meter(m), l.base.Now)
	if err == nil {
		_, err = action.Readings(m, readings, at, l.base.Now)
	}
	if l.bad = screen.Sentence(err); err == nil {
		l.stage = swapEnd
	}
}

// Meter is the counter a bare number is of: the one the part is counted in, else changes.
func (l *Line) meter(m *model.Machine) model.Meter {
	if b, ok := life.BandOf(m, l.base.Env.Library.Heads(), l.part); ok && b.Meter.Typed() {
		return b.Meter
	}
	return model.Changes
}

func (l *Line) write(m *model.Machine, end model.End) tea.Cmd {
	now := l.base.Now
	s, err := action.Swap(m, l.base.Env.Library.All(), l.part, end)
	at, readings, bad := action.WhenAndCount(l.when.Text, m, l.meter(m), now)
	if err == nil {
		err = bad
	}
	if err == nil {
		s, err = s.With(m, readings, at, now)
	}
	if err != nil {
		l.bad = screen.Sentence(err)
		return nil
	}
	l.stage, l.look = swapWriting, s.Look
	a := model.Action{Machine: m.ID, Facts: s.Facts}
	if !at.Equal(now) {
		a.At = at
	}
	return l.base.Append(a)
}

// Result takes the answer to the line's own writes.
func (l *Line) Result(r screen.Result) {
	if !r.Wrote || l.base.Stale(r) || l.stage != swapWriting && l.stage != swapSaved {
		return
	}
	if r.Err != nil {
		l.stage = swapIdle // nothing was written; the status line says why
		return
	}
	entries, _ := r.Value.([]model.Entry)
	if len(entries) == 0 {
		return
	}
	at := model.Clock(entries[0].Written, l.base.Now)
	if l.stage == swapSaved {
		l.stage = swapUndone
		l.says = "undone " + at + "   " + l.undoneText() + "; the book keeps both"
		return
	}
	l.action, l.stage = entries[0].Action, swapSaved
	for _, e := range entries {
		if e.Swap != nil {
			l.says = "saved " + at + "   " + l.told(e)
			l.anew = action.Anew(l.base.Env.Library.All(), e.Swap.Resets)
		}
	}
}

// undoneText is what was taken back, without what the drawer held then.
func (l *Line) undoneText() string {
	text, _, _ := strings.Cut(l.says[len("saved 15:04   "):], ";")
	return text
}

func (l *Line) told(e model.Entry) string {
	m := l.base.Data.Machine(l.machine)
	if m == nil || e.Swap == nil {
		return l.part
	}
	end := string(e.Swap.End)
	if e.Swap.End == model.EndUnknown {
		end = "old one not known"
	}
	says := e.Swap.Part + " on " + theme.Safe(m.Name) + ", " + end
	if back := e.Written.Sub(e.At); back > time.Hour {
		says += ", " + model.Stamp(e.At, l.base.Now)
		return says + l.left(e.Swap.Part)
	}
	for _, k := range []model.Meter{model.Changes, model.Hours} {
		if s := m.Readings[k]; s != nil && s.N > 0 {
			says += " at " + model.Number(s.Last.Value-s.Offset) + " " + k.Unit()
			break
		}
	}
	return says + l.left(e.Swap.Part)
}

// looked says that what was lost is a finding now.
func (l *Line) looked() string {
	if l.look == "" {
		return ""
	}
	return "finding noted: " + l.look
}

// left says what the drawer holds of a part now.
func (l *Line) left(part string) string {
	st := l.base.Data.Bench.Drawer[part]
	if st == nil || st.Count == nil {
		return "; drawer not counted"
	}
	return "; " + model.Number(*st.Count) + " left"
}

// Lines draws the line, two where its choices need it.
func (l *Line) Lines(w int) []string {
	t := l.base.Env.Theme
	m := l.base.Data.Machine(l.machine)
	switch {
	case l.stage == swapIdle || m == nil:
		return nil
	case l.stage == swapSaved:
		var words []string
		for _, x := range []string{l.anew, l.looked()} {
			if x != "" {
				words = append(words, theme.Wrap(t.Plain(theme.Safe(x)), w-3)...)
			}
		}
		return screen.Flow(t.Text.Strong.Text(t.Plain(l.says[:5]))+t.Plain(l.says[5:]),
			append(words, t.Text.Accent.Text("u")+" undo"), w)
	case l.stage == swapWriting:
		return []string{" saving"}
	case l.stage == swapUndone:
		return []string{" " + t.Trunc(t.Plain(l.says), w-1)}
	case l.bad != "" && l.stage != swapWhen:
		return theme.Wrap(" "+t.Plain(l.bad), w)
	case l.stage == swapWhen:
		ask := "when, and what the " + l.meter(m).Unit() +
			" counter showed, as in \"yesterday 3412\":"
		out := []string{screen.Fit(t, " "+t.Text.Strong.Text(ask)+" "+t.Plain(l.when.Drawn(0)), w)}
		if l.bad != "" {
			out = append(out, theme.Wrap(" "+t.Plain(l.bad), w)...)
		}
		return out
	}
	var words []string
	lead := "new part on " + theme.Safe(m.Name) + ":"
	if l.stage == swapEnd {
		lead = "old " + l.part + " of " + theme.Safe(m.Name) + ":"
		for _, x := range swapEnds {
			words = append(words, t.Text.Accent.Text(x.key)+" "+x.says)
		}
		when := " when, count"
		if l.when.Text != "" {
			when = " " + t.Plain(theme.Safe(l.when.Text))
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
