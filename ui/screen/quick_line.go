package screen

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// QuickLine is what quick logs have in common: a line at the bottom of the screen it belongs to,
// answered by letters, saved at once and taken back until something else is begun. Embed it.
type QuickLine struct {
	Of      *Base
	Stage   QuickStage
	Machine string
	Field   Field  // what is typed
	Bad     string // why nothing was taken
	Says    string // what was saved

	at     string // when that was, as a clock shows it
	action string // its id, to strike
}

// QuickStage is how far a quick log has come.
type QuickStage int

// The stages, in their order.
const (
	QuickIdle   QuickStage = iota
	QuickChoose            // an answer by its letter
	QuickType
	QuickWrite // asked of the store
	QuickSaved
	QuickUndone
)

// Open tells whether the line shows anything.
func (l *QuickLine) Open() bool { return l.Stage != QuickIdle }

// Choosing tells whether the line takes the keys.
func (l *QuickLine) Choosing() bool { return l.Stage == QuickChoose || l.Stage == QuickType }

// Typing tells whether letters are typed.
func (l *QuickLine) Typing() bool { return l.Stage == QuickType }

// Close closes the line.
func (l *QuickLine) Close() { l.Turn(QuickIdle) }

// Turn goes to a stage; what was wrong is forgotten.
func (l *QuickLine) Turn(to QuickStage) { l.Stage, l.Bad = to, "" }

// Passed closes what offers to undo where another action was begun: what was saved is history then,
// and is struck in the book; what was undone is no news then. keeps are keys that go on with what
// was saved.
func (l *QuickLine) Passed(key string, keeps ...string) {
	if l.Stage >= QuickSaved && !Moving(key, keeps...) {
		l.Close()
	}
}

// UndoKey strikes what was just saved, which is called what.
func (l *QuickLine) UndoKey(what string) Key {
	return On("u", "undo", "strikes the "+what+" just saved; the book keeps both",
		func(Press) tea.Cmd {
			return l.Of.Strike(l.Machine, l.action, "undone right after it was saved")
		}).Afresh().When(l.Stage == QuickSaved)
}

// Letter takes what is no key of the line: a letter of what is typed; any other does nothing, and is
// told so.
func (l *QuickLine) Letter(p Press, keys []Key) tea.Cmd {
	if l.Typing() && l.Field.Press(p.Msg) || p.Held {
		return nil
	}
	return Wrong(keys, p)
}

// Wrote takes the answer to the line's own writes, and gives the entries of what is saved now.
func (l *QuickLine) Wrote(r Result) []model.Entry {
	if !r.Wrote || l.Of.Stale(r) || l.Stage != QuickWrite && l.Stage != QuickSaved {
		return nil
	}
	entries, _ := r.Value.([]model.Entry)
	if r.Err != nil || len(entries) == 0 {
		if l.Stage == QuickWrite { // else what was saved stands, and can still be undone
			l.Stage = QuickIdle // nothing was written; the status line says why
		}
		return nil
	}
	l.at = model.Clock(entries[0].Written, l.Of.Now)
	if l.Stage == QuickSaved {
		l.Stage = QuickUndone
		return nil
	}
	l.action, l.Stage = entries[0].Action, QuickSaved
	return entries
}

// Drawn draws the line where no letter is chosen: asking for what is typed; and what was saved, with
// more said of it and the words behind "undo".
func (l *QuickLine) Drawn(w int, ask, more string, words ...string) []string {
	t := l.Of.Env.Theme
	switch l.Stage {
	case QuickWrite:
		return []string{" saving"}
	case QuickUndone:
		says := "undone " + l.at + "   " + theme.Safe(l.Says) + "; the book keeps both"
		return []string{" " + t.Trunc(t.Plain(says), w-1)}
	case QuickSaved:
		return Flow(t.Text.Strong.Text("saved")+" "+l.at+"   "+t.Plain(theme.Safe(l.Says+more)),
			words, w)
	case QuickType:
		line := " " + t.Text.Strong.Text(ask) + " " + t.Plain(l.Field.Drawn(0))
		return append([]string{Fit(t, line, w)},
			Wrapped(t, " ", l.Bad, w-1, theme.Paint{})...)
	}
	return nil
}
