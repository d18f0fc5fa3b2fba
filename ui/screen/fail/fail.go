// Package fail is the quick log of a print that failed: a line at the bottom of a machine's page. It
// is a part of that screen and no screen of its own.
package fail

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// stage is how far the log has come.
type stage int

const (
	idle    stage = iota
	asking        // why, by its letter
	noting        // typing another reason
	writing       // asked of the store
	saved
	undone
)

// Line is the quick log of a failed print: the letter of what was seen, or a few words.
type Line struct {
	base    *screen.Base
	stage   stage
	machine string
	note    screen.Field
	symptom string // what was saved; "" for another reason
	says    string
	at      string // when that was, as a clock shows it
	action  string // its id, to strike
	bad     string
}

// New makes the line of a screen.
func New(of *screen.Base) Line { return Line{base: of} }

// Open tells whether the line shows anything.
func (l *Line) Open() bool { return l.stage != idle }

// Choosing tells whether the line takes the keys.
func (l *Line) Choosing() bool { return l.stage == asking || l.stage == noting }

// Typing tells whether a reason is typed.
func (l *Line) Typing() bool { return l.stage == noting }

// Close closes the line.
func (l *Line) Close() { l.stage, l.bad = idle, "" }

// Passed closes what offers to undo where another action was begun.
func (l *Line) Passed(key string) {
	if l.stage == saved && !screen.Moving(key) && key != "s" {
		l.Close()
	}
}

// StartKey opens the line.
func (l *Line) StartKey(m *model.Machine) screen.Key {
	return screen.On("9", "print failed", "logs a print that failed: the letter of what was seen",
		screen.Do(func() { *l = Line{base: l.base, stage: asking, machine: m.ID} })).When(!m.Retired)
}

// UndoKey strikes what was just saved.
func (l *Line) UndoKey() screen.Key {
	return screen.On("u", "undo", "strikes the failed print just saved; the book keeps both",
		func(screen.Press) tea.Cmd {
			return l.base.Strike(l.machine, l.action, "undone right after it was saved")
		}).Afresh().When(l.stage == saved)
}

// SymptomKey opens the symptoms of the machine, behind a failed print just saved the care for what
// was seen.
func (l *Line) SymptomKey(m *model.Machine) screen.Key {
	if l.stage != saved || l.symptom == "" {
		return screen.SymptomKey(m)
	}
	return screen.On("s", "symptom", "the care that is likely to cure what was just logged",
		screen.Opens(screen.ToSymptom{Machine: l.machine, Symptom: l.symptom}))
}

// Keys are those of the open line, which is about m.
func (l *Line) Keys(m *model.Machine) []screen.Key {
	back := screen.On("esc", "back", "logs nothing", screen.Do(l.Close))
	switch {
	case m == nil || m.ID != l.machine:
		return []screen.Key{back}
	case l.stage == noting:
		return []screen.Key{screen.On("enter", "save", "", func(screen.Press) tea.Cmd {
			return l.write(m, l.meant(m), l.note.Text)
		}).Afresh(), screen.On("esc", "back", "", screen.Do(func() { l.stage, l.bad = asking, "" }))}
	}
	symptoms := map[string]string{}
	var keys []string
	for _, r := range action.FailReasons {
		if s := procedures.Symptoms().Get(r.Symptom); s != nil && s.On(m) {
			symptoms[r.Key] = r.Symptom
			keys = append(keys, r.Key)
		}
	}
	return []screen.Key{back,
		screen.On("letter", "what was seen", "saves it; u undoes it right after",
			func(p screen.Press) tea.Cmd {
				if p.Held {
					return nil
				}
				return l.write(m, symptoms[p.Key()], "")
			}, keys...),
		screen.On(".", "", "types another reason",
			screen.Do(func() { l.stage, l.note, l.bad = noting, screen.Field{}, "" }))}
}

// meant is the symptom that what is typed is a name of; other where it is none, or of several.
func (l *Line) meant(m *model.Machine) string {
	if meant := procedures.Symptoms().Called(l.note.Text); len(meant) == 1 && meant[0].On(m) {
		return meant[0].ID
	}
	return action.OtherReason
}

// Typed takes a letter of another reason; any other key that is not in the list does nothing, and is
// told so.
func (l *Line) Typed(p screen.Press, m *model.Machine) tea.Cmd {
	if l.Typing() && l.note.Press(p.Msg) || p.Held {
		return nil
	}
	return screen.Wrong(l.Keys(m), p)
}

// write asks for the entry. What stops a machine is no reason for a record: its page comes at once.
func (l *Line) write(m *model.Machine, why, note string) tea.Cmd {
	if s := procedures.Symptoms().Get(why); s != nil && s.Stop {
		l.Close()
		return screen.Send(screen.Open{To: screen.ToSymptom{Machine: m.ID, Symptom: s.ID}})
	}
	fact, err := action.Failed(procedures.Symptoms(), m, why, strings.TrimSpace(note))
	if l.bad = screen.Sentence(err); err != nil {
		return nil
	}
	l.stage, l.symptom = writing, fact.Failed.Symptom
	return l.base.Append(model.Action{Machine: m.ID, Facts: []model.Fact{fact}})
}

// Result takes the answer to the line's own writes.
func (l *Line) Result(r screen.Result) {
	if !r.Wrote || l.base.Stale(r) || l.stage != writing && l.stage != saved {
		return
	}
	entries, _ := r.Value.([]model.Entry)
	if r.Err != nil || len(entries) == 0 {
		l.stage = idle // nothing was written; the status line says why
		return
	}
	at := model.Clock(entries[0].Written, l.base.Now)
	if l.stage == saved {
		l.stage, l.says = undone, l.says+"; the book keeps both"
		l.at = at
		return
	}
	l.action, l.stage, l.at = entries[0].Action, saved, at
	if f := entries[0].Failed; f != nil {
		l.says = "print failed: " + f.Note
		if f.Symptom != "" {
			l.says = "print failed: " + l.base.Env.Names().Symptom(f.Symptom)
		}
	}
}

// Lines draws the line, two where its choices need it.
func (l *Line) Lines(w int) []string {
	t := l.base.Env.Theme
	m := l.base.Data.Machine(l.machine)
	switch {
	case l.stage == idle || m == nil:
		return nil
	case l.stage == writing:
		return []string{" saving"}
	case l.stage == undone:
		return []string{" " + t.Trunc(t.Plain("undone "+l.at+"   "+theme.Safe(l.says)), w-1)}
	case l.stage == saved:
		words := []string{t.Text.Accent.Text("u") + " undo"}
		if l.symptom != "" {
			words = append(words, t.Text.Accent.Text("s")+" the care likely to cure it")
		}
		return screen.Flow(t.Text.Strong.Text("saved")+" "+l.at+"   "+t.Plain(theme.Safe(l.says)), words, w)
	case l.stage == noting:
		ask := t.Text.Strong.Text("what was seen, in a few words:")
		out := []string{screen.Fit(t, " "+ask+" "+t.Plain(l.note.Drawn(0)), w)}
		if l.bad != "" {
			out = append(out, l.badLines(w)...)
		}
		return out
	}
	var words []string
	for _, r := range action.FailReasons {
		if s := procedures.Symptoms().Get(r.Symptom); s != nil && s.On(m) {
			words = append(words, t.Text.Accent.Text(r.Key)+" "+t.Plain(r.Says))
		}
	}
	return screen.Flow(t.Text.Strong.Text("print failed on "+t.Plain(theme.Safe(m.Name))+":"),
		append(words, t.Text.Accent.Text(".")+" other"), w)
}

// badLines say why nothing was taken.
func (l *Line) badLines(w int) []string {
	t := l.base.Env.Theme
	lines := theme.Wrap(t.Plain(l.bad), w-1)
	for i := range lines {
		lines[i] = " " + lines[i]
	}
	return lines
}
