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

// Line is the quick log of a failed print: the letter of what was seen, or a few words.
type Line struct {
	screen.QuickLine
	symptom string // what was saved; "" for another reason
}

// New makes the line of a screen.
func New(of *screen.Base) Line { return Line{QuickLine: screen.QuickLine{Of: of}} }

// Passed closes what offers to undo where another action was begun; the symptom goes on with it.
func (l *Line) Passed(key string) { l.QuickLine.Passed(key, "s") }

// StartKey opens the line.
func (l *Line) StartKey(m *model.Machine) screen.Key {
	return screen.On("9", "print failed", "logs a print that failed: the letter of what was seen",
		screen.Do(func() {
			*l = New(l.Of)
			l.Stage, l.Machine = screen.QuickChoose, m.ID
		})).When(!m.Retired)
}

// UndoKey strikes what was just saved.
func (l *Line) UndoKey() screen.Key { return l.QuickLine.UndoKey("failed print") }

// SymptomKey opens the symptoms of the machine, behind a failed print just saved the care for what
// was seen.
func (l *Line) SymptomKey(m *model.Machine) screen.Key {
	if l.Stage != screen.QuickSaved || l.symptom == "" {
		return screen.SymptomKey(m)
	}
	return screen.On("s", "symptom", "the care that is likely to cure what was just logged",
		screen.Opens(screen.ToSymptom{Machine: l.Machine, Symptom: l.symptom}))
}

// Keys are those of the open line, which is about m.
func (l *Line) Keys(m *model.Machine) []screen.Key {
	back := screen.On("esc", "back", "logs nothing", screen.Do(l.Close))
	switch {
	case m == nil || m.ID != l.Machine:
		return []screen.Key{back}
	case l.Typing():
		return []screen.Key{screen.On("enter", "save", "", func(screen.Press) tea.Cmd {
			return l.write(m, l.meant(m), l.Field.Text)
		}).Afresh(), screen.On("esc", "back", "", screen.Do(func() { l.Turn(screen.QuickChoose) }))}
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
			screen.Do(func() {
				l.Turn(screen.QuickType)
				l.Field = screen.Field{}
			}))}
}

// meant is the symptom that what is typed is a name of; other where it is none, or of several.
func (l *Line) meant(m *model.Machine) string {
	if meant := procedures.Symptoms().Called(l.Field.Text); len(meant) == 1 && meant[0].On(m) {
		return meant[0].ID
	}
	return action.OtherReason
}

// Typed takes a letter of another reason.
func (l *Line) Typed(p screen.Press, m *model.Machine) tea.Cmd { return l.Letter(p, l.Keys(m)) }

// write asks for the entry. What stops a machine is no reason for a record: its page comes at once.
func (l *Line) write(m *model.Machine, why, note string) tea.Cmd {
	if s := procedures.Symptoms().Get(why); s != nil && s.Stop {
		l.Close()
		return screen.Send(screen.Open{To: screen.ToSymptom{Machine: m.ID, Symptom: s.ID}})
	}
	fact, err := action.Failed(procedures.Symptoms(), m, why, strings.TrimSpace(note))
	if l.Bad = screen.Sentence(err); err != nil {
		return nil
	}
	l.Stage, l.symptom = screen.QuickWrite, fact.Failed.Symptom
	return l.Of.Append(model.Action{Machine: m.ID, Facts: []model.Fact{fact}})
}

// Result takes the answer to the line's own writes.
func (l *Line) Result(r screen.Result) {
	for _, e := range l.Wrote(r) {
		if f := e.Failed; f != nil && f.Symptom != "" {
			l.Says = "print failed: " + l.Of.Env.Names().Symptom(f.Symptom)
		} else if f != nil {
			l.Says = "print failed: " + f.Note
		}
	}
}

// Lines draws the line, two where its choices need it.
func (l *Line) Lines(w int) []string {
	t := l.Of.Env.Theme
	m := l.Of.Data.Machine(l.Machine)
	if m == nil {
		return nil
	}
	if l.Stage != screen.QuickChoose {
		words := []string{t.Text.Accent.Text("u") + " undo"}
		if l.symptom != "" {
			words = append(words, t.Text.Accent.Text("s")+" the care likely to cure it")
		}
		return l.Drawn(w, "what was seen, in a few words:", "", words...)
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
