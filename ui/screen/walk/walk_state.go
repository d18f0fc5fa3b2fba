package walk

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// stateForm is all that is asked of the machine's state on one screen: what was said of each row, and the row the keys go to.
type stateForm struct {
	said    map[string]string // by row
	at      int
	leaving bool // "leave without saving?"
}

// stateRows are the rows of the state asked on one screen; nil where one thing alone is asked, or something else.
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

func rowKey(r walk.StateRow) string { return string(r.Variable) + r.Item }

// lacking is the first row from i on, round and round, that has neither an answer nor a guess; -1 where none has.
func (f *stateForm) lacking(rows []walk.StateRow, i int) int {
	for n := range rows {
		if j := (i + n) % len(rows); f.said[rowKey(rows[j])] == "" && rows[j].Guess == "" {
			return j
		}
	}
	return -1
}

// stateNow is the row the keys go to.
func (v *walkScreen) stateNow(rows []walk.StateRow) walk.StateRow {
	return rows[min(v.state.at, len(rows)-1)]
}

// lettersOfState are the answers of a row of the state by letter; nil where it is typed.
func (v *walkScreen) lettersOfState(r walk.StateRow) []answer {
	switch modeOf(r.Prompt, v.s.W.Begun.Settings) {
	case pickOption:
		return lettered(r.Prompt.Options)
	case justEnter:
		return []answer{{'y', "yes", "ok"}}
	}
	return nil
}

// pressState takes a key while the state is asked. Letters that arrive in one burst are one answer each, as far as rows
// take letters.
func (v *walkScreen) pressState(p screen.Press, rows []walk.StateRow) tea.Cmd {
	if p.Msg.Type != tea.KeyRunes || len(p.Msg.Runes) < 2 || p.Msg.Paste {
		return v.pressStateKey(p, rows)
	}
	for _, r := range p.Msg.Runes {
		one := p
		one.Msg = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: p.Msg.Alt}
		if cmd := v.pressStateKey(one, rows); cmd != nil {
			return cmd
		}
	}
	return nil
}

func (v *walkScreen) pressStateKey(p screen.Press, rows []walk.StateRow) tea.Cmd {
	r, key := v.stateNow(rows), p.Key()
	as := v.lettersOfState(r)
	switch {
	case v.state.leaving:
	case key == "tab" || key == "down":
		v.state.at, v.field = (v.state.at+1)%len(rows), screen.Field{}
	case key == "shift+tab" || key == "up":
		v.state.at, v.field = (v.state.at+len(rows)-1)%len(rows), screen.Field{}
	case key == "esc" && v.field.Text == "":
		v.state.leaving = len(v.state.said) > 0
	case key == "esc":
		v.field = screen.Field{}
	case key == "ctrl+u":
		v.state, v.field = stateForm{}, screen.Field{} // from the first row again
	case p.Msg.Type == tea.KeySpace && p.Passes() && strings.TrimSpace(v.field.Text) == "":
		if v.state.lacking(rows, 0) >= 0 {
			return screen.Send(screen.Notice{Text: "Power and heat are answered every time, and what nobody may guess: the rows left free."})
		}
		return v.sayState(rows)
	case key == "enter" && as == nil && p.Passes():
		if text := strings.TrimSpace(v.field.Text); text != "" {
			return v.tell(rows, r, text)
		}
	case as == nil && key == "h" && r.Variable == model.Heat:
		return v.tell(rows, r, "hot")
	case as == nil:
		v.field.Press(p.Msg)
	case !p.Held: // nothing is written before the last row
		for _, a := range as {
			if key == string(a.letter) {
				return v.tell(rows, r, a.says)
			}
		}
		return noAnswer(p, as)
	}
	return nil
}

// tell takes the answer to one row, and goes on to the next that has none; the last one writes them all, unless some are
// guesses, which a person confirms.
func (v *walkScreen) tell(rows []walk.StateRow, r walk.StateRow, text string) tea.Cmd {
	if rep, err := v.s.W.AnswerStates(v.s.Context(v.Now), v.toldWith(rows, r, text)); err != nil || rep.Refusal != "" {
		v.field = screen.Field{}
		if err != nil {
			return screen.Send(screen.Failed{Err: err})
		}
		return screen.Send(screen.Notice{Text: rep.Refusal})
	}
	if said := (walk.StateAnswer{Variable: r.Variable, Text: text}); v.s.W.Urgent(v.s.Context(v.Now), said) {
		v.state = stateForm{}
		return v.reply(v.s.W.AnswerStates(v.s.Context(v.Now), []walk.StateAnswer{said})) // power goes first
	}
	if v.state.said == nil {
		v.state.said = map[string]string{}
	}
	v.state.said[rowKey(r)], v.field = text, screen.Field{}
	next := v.state.lacking(rows, v.state.at+1)
	if next < 0 {
		if !v.guesses(rows) {
			return v.sayState(rows)
		}
		return nil
	}
	v.state.at = next
	return nil
}

// toldWith is one answer among those the other rows have, said or guessed: what is said and what is counted must agree.
func (v *walkScreen) toldWith(rows []walk.StateRow, now walk.StateRow, text string) []walk.StateAnswer {
	var as []walk.StateAnswer
	for _, r := range rows {
		says := v.state.said[rowKey(r)]
		switch {
		case rowKey(r) == rowKey(now):
			says = text
		case says == "":
			says = r.Guess
		}
		if says != "" {
			as = append(as, walk.StateAnswer{Variable: r.Variable, Item: r.Item, Text: says})
		}
	}
	return as
}

// guesses tells whether rows stand as they were left, not said anew.
func (v *walkScreen) guesses(rows []walk.StateRow) bool {
	for _, r := range rows {
		if v.state.said[rowKey(r)] == "" && r.Guess != "" {
			return true
		}
	}
	return false
}

// sayState writes all rows in one action.
func (v *walkScreen) sayState(rows []walk.StateRow) tea.Cmd {
	as := v.toldWith(rows, walk.StateRow{}, "")
	v.state = stateForm{}
	return v.reply(v.s.W.AnswerStates(v.s.Context(v.Now), as))
}

// stateKeys are the keys of the state's rows.
func (v *walkScreen) stateKeys(rows []walk.StateRow) []screen.Key {
	if v.state.leaving {
		return screen.LeaveKeys(func(screen.Press) tea.Cmd { v.state = stateForm{}; return screen.Send(screen.Pop{}) }, func() { v.state.leaving = false })
	}
	r := v.stateNow(rows)
	var ks []screen.Key
	for _, a := range v.lettersOfState(r) {
		ks = append(ks, screen.Shown(string(a.letter), a.word, ""))
	}
	if ks == nil {
		ks = append(ks, screen.Shown("enter", "take it", ""))
		if r.Variable == model.Heat {
			ks = append(ks, screen.Shown("h", "hot", "it is hot, or cannot be read"))
		}
	}
	if v.state.lacking(rows, 0) < 0 {
		ks = append(ks, screen.Shown("space", "the rest as shown", "the rest stands as it is shown: look before you say so"))
	}
	return append(ks, screen.Shown("tab", "next row", ""), screen.Shown("ctrl+u", "", "all rows again, from the first"),
		v.backKey("ctrl+"),
		screen.On("ctrl+p", "pause", "leave the session begun; it asks the state when you come back", v.says("pause")))
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
		if i == min(v.state.at, len(rows)-1) {
			mark, paint, now = "> ", t.Text.Strong, len(out)
		}
		name := v.rowName(r)
		head := "   " + mark + paint.Text(name) + strings.Repeat(" ", wide-theme.Width(name)+3)
		out = append(out, v.stateValue(rows, i, head, wide)...)
	}
	out = append(out, "")
	out = append(out, v.wrapped("Power and heat are answered every time; what is as it was left is a guess until you say so.", "   ", t.Text.Dim)...)
	return append(out, v.refusalLines(p)...), now
}

// rowName is what a row of the state asks, in a word or two.
func (v *walkScreen) rowName(r walk.StateRow) string {
	if r.Variable != "" {
		return string(r.Variable)
	}
	return theme.Safe(walk.ItemWords(r.Item))
}

// stateValue is a row with what was said of it, what is guessed, or how it is answered.
func (v *walkScreen) stateValue(rows []walk.StateRow, i int, head string, wide int) []string {
	t, r := v.Env.Theme, rows[i]
	now := i == min(v.state.at, len(rows)-1)
	switch said := v.state.said[rowKey(r)]; {
	case said != "" && !now:
		return []string{head + theme.Safe(said)}
	case said != "" && v.field.Text == "" && v.state.lacking(rows, 0) < 0: // nothing is left to say but that the guesses hold
		return []string{head + theme.Safe(said) + t.Text.Accent.Text("   space: the rest as shown")}
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
	case r.Variable == model.Heat:
		_, text, _ = strings.Cut(r.Prompt.Question, ": ")
	case r.Variable == model.Power && v.lettersOfState(r) == nil:
		text = "on, off, or the tag of the plug in your hand"
	}
	if text == "" {
		return nil
	}
	return v.wrapped(text, strings.Repeat(" ", wide+8), v.Env.Theme.Text.Dim)
}
