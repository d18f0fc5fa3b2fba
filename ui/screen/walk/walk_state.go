package walk

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// stateForm is all that is asked of the machine's state on one screen: what was said of each row,
// and the row the keys go to.
type stateForm struct {
	session.States
}

// stateRows are the rows of the state asked on one screen; nil where one thing alone is asked, or
// something else.
func (v *walkScreen) stateRows() []walk.StateRow {
	p := v.prompt()
	if p.Kind != walk.AskState && p.Kind != walk.AskLedger {
		return nil
	}
	rows := v.s.W.StateRows()
	if len(rows) < 2 || rows[0].Variable != p.Variable || rows[0].Item != p.Item {
		return nil
	}
	return rows
}

// lettersOfState are the answers of a row of the state by letter; nil where it is typed.
func (v *walkScreen) lettersOfState(r walk.StateRow) []answer {
	switch modeOf(r.Prompt) {
	case pickOption:
		return lettered(r.Prompt.Options)
	case justEnter:
		return []answer{{'y', "yes", "ok"}}
	}
	return nil
}

// statedFor is how long what was told of the state comes back with the answer that is taken back.
const statedFor = 5 * time.Minute

// tell takes the answer to the row the keys go to.
func (v *walkScreen) tell(text string) tea.Cmd {
	v.field = screen.Field{}
	v.stated, v.statedAt = v.state.With(v.stateRows(), text), v.Now
	return v.reply(v.s.Tell(&v.state.States, text, v.Now))
}

// moveKey goes to another row of the state. What is typed in the row is taken first, as enter takes
// it.
func (v *walkScreen) moveKey(label, does string, rows []walk.StateRow, n int,
	keys ...string) screen.Key {
	return screen.On(label, does, "", func(screen.Press) tea.Cmd {
		if text := strings.TrimSpace(v.field.Text); text != "" {
			return v.tell(text)
		}
		v.state.Move(rows, n)
		v.field = screen.Field{}
		return nil
	}, keys...)
}

// stateKeys are the keys of the state's rows.
func (v *walkScreen) stateKeys(rows []walk.StateRow) []screen.Key {
	rest, blank := "", strings.TrimSpace(v.field.Text) == ""
	if v.state.Lacking(rows, 0) < 0 {
		rest = "the rest as shown"
	}
	ks := append(v.rowAnswerKeys(v.state.Now(rows)),
		screen.On("space", rest, "the rest stands as it is shown: look before you say so",
			func(screen.Press) tea.Cmd {
				return v.reply(v.s.TellRest(&v.state.States, v.Now))
			}).Afresh().When(blank),
		v.moveKey("tab", "next row", rows, 1, "tab", "down"),
		v.moveKey("up", "row before", rows, -1, "shift+tab", "up"),
		screen.On("ctrl+u", "", "empties the row", screen.Do(func() { v.field = screen.Field{} })),
		v.backKey("ctrl+", true),
		v.pauseKey("ctrl+"))
	if v.field.Text != "" {
		return append(ks, screen.On("esc", "", "empties the row",
			screen.Do(func() { v.field = screen.Field{} })))
	}
	return append(ks, screen.On("esc", "", "", screen.Do(func() {
		v.leaving = leaving{screen.Unsaved, screen.LeavesUnsaved, v.dropState}
	})).When(v.state.Any()))
}

// dropState leaves what was said of the state unwritten.
func (v *walkScreen) dropState(screen.Press) tea.Cmd {
	v.state, v.leaving = stateForm{}, leaving{}
	return screen.Send(screen.Pop{})
}

// rowAnswerKeys answer one row of the state. Nothing is written before the last, so that a letter
// in a burst counts too.
func (v *walkScreen) rowAnswerKeys(r walk.StateRow) []screen.Key {
	var ks []screen.Key
	for _, a := range v.lettersOfState(r) {
		ks = append(ks, screen.On(string(a.letter), a.word, "", func(p screen.Press) tea.Cmd {
			if p.Held {
				return nil
			}
			return v.tell(a.says)
		}))
	}
	if ks != nil {
		return ks
	}
	return []screen.Key{
		screen.On("enter", answerWord, "", func(screen.Press) tea.Cmd {
			if text := strings.TrimSpace(v.field.Text); text != "" {
				return v.tell(text)
			}
			return screen.Send(screen.Notice{Text: typeFirst})
		}).Afresh(),
		screen.On("h", "hot", "it is hot, or cannot be read", func(screen.Press) tea.Cmd {
			return v.tell("hot")
		}).When(r.Variable == model.Heat && v.field.Text == ""),
	}
}

// stateFormLines draw the rows of the state; now is the line of the one the keys go to.
func (v *walkScreen) stateFormLines(p walk.Prompt, rows []walk.StateRow) (out []string, now int) {
	t := v.Env.Theme
	out = []string{" " + t.Text.Strong.Text("How does the machine stand?"), ""}
	if p.Stopped != "" {
		out = append(out, v.stopLines(p.Stopped)...)
	}
	wide := 0
	for _, r := range rows {
		wide = max(wide, theme.Width(v.rowName(r)))
	}
	for i, r := range rows {
		if r.Item != "" && i > 0 && rows[i-1].Item == "" {
			out = append(out, "", "   what the book says is out, in or loose:")
		}
		mark, paint := "  ", theme.Paint{}
		if i == min(v.state.At, len(rows)-1) {
			mark, paint, now = "> ", t.Text.Strong, len(out)
		}
		name := v.rowName(r)
		head := "   " + mark + paint.Text(name) + strings.Repeat(" ", wide-theme.Width(name)+3)
		out = append(out, v.stateValue(rows, i, head, wide)...)
	}
	out = append(out, "")
	out = append(out,
		v.wrapped("Power and heat are answered every time; what is as it was left is a guess until you say so.", "   ", t.Text.Dim)...)
	return append(out, v.refusalLines(p)...), now
}

// rowName is what a row of the state asks, in a word or two.
func (v *walkScreen) rowName(r walk.StateRow) string {
	if r.Variable != "" {
		return string(r.Variable)
	}
	return theme.Safe(walk.ItemWords(r.Item))
}

// withUnit puts its unit behind a number that was typed without one.
func withUnit(said, unit string) string {
	if n, err := model.ReadNumber(said); err == nil && n.Unit == "" && unit != "" {
		return said + " " + unit
	}
	return said
}

// stateValue is a row with what was said of it, what is guessed, or how it is answered.
func (v *walkScreen) stateValue(rows []walk.StateRow, i int, head string, wide int) []string {
	t, r := v.Env.Theme, rows[i]
	now := i == min(v.state.At, len(rows)-1)
	switch said := v.state.Said(r); {
	case said != "" && !now:
		return []string{head + theme.Safe(withUnit(said, r.Prompt.Unit))}
	case said != "" && v.field.Text == "" && v.state.Lacking(rows, 0) < 0:
		// nothing is left to say but that the guesses hold
		return []string{head + theme.Safe(withUnit(said, r.Prompt.Unit)) + t.Text.Accent.Text("   space: the rest as shown")}
	case now:
		text := v.field.Drawn(0) + " " + t.Plain(r.Prompt.Unit)
		if as := v.lettersOfState(r); as != nil {
			var words []string
			for _, a := range as {
				words = append(words, a.marked())
			}
			text = t.Text.Accent.Text(strings.Join(words, "   "))
		}
		var out []string
		out = append(out, head+text)
		if r.Guess != "" && said == "" {
			out[0] += t.Text.Dim.Text(t.Plain("   left " + r.Guess))
		}
		return append(out, v.stateHint(r, wide)...)
	case r.Guess != "":
		return []string{head + theme.Safe(r.Guess) + t.Text.Dim.Text(t.Plain("   as it was left"))}
	}
	return []string{head + t.Text.Dim.Text(t.Plain("__"))}
}

// stateHint says how a row is read, where its name does not.
func (v *walkScreen) stateHint(r walk.StateRow, wide int) []string {
	text := ""
	switch {
	case r.Item != "":
		_, text, _ = strings.Cut(r.Prompt.Question, ": ")
		if text == "" {
			text = r.Prompt.Question
		}
	case r.Variable == model.Heat || r.Variable == model.Vapour:
		text = r.Prompt.Question
	case r.Variable == model.Power && v.lettersOfState(r) == nil:
		text = "on, off, or the tag of the plug in your hand"
	default:
		if _, text, _ = strings.Cut(r.Prompt.Question, ": "); !strings.Contains(text, "(") {
			text = "" // its words say all
		}
	}
	if text == "" {
		return nil
	}
	return v.wrapped(text, strings.Repeat(" ", wide+8), v.Env.Theme.Text.Dim)
}
