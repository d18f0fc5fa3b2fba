package walk

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// told tells whether a procedure done on paper stands before the person, to be told.
func (v *walkScreen) told() bool {
	return v.s != nil && v.s.W.Telling() && v.s.W.Prompt(v.Now).Kind == walk.AskStep
}

// toldPrompt is what the row of the sheet asks that is told next; all that is left is ticked where
// no row is.
func (v *walkScreen) toldPrompt(p walk.Prompt) walk.Prompt {
	p.Options, p.Unit = nil, ""
	if row, _ := rowNow(v.page()); row != nil {
		p.Step, p.Unit = row.Step, row.Step.Unit
	}
	return p
}

// toldMode is how the row told next is answered: by typing, or by a key.
func (v *walkScreen) toldMode() mode {
	row, _ := rowNow(v.page())
	switch {
	case row == nil || !row.Step.Typed():
		return justEnter
	case row.Step.Gate == model.Note:
		return typeText
	}
	return typeNumber
}

// toldKeys are those of a sheet that is told: enter ticks, a row that wants it is typed or takes
// its digit.
func (v *walkScreen) toldKeys() []screen.Key {
	row, n := rowNow(v.page())
	var ks []screen.Key
	switch {
	case row == nil:
		ks = append(ks, screen.On("enter", "all as ticked", "what is left was done as it is written",
			v.says("ok")).Afresh())
	case v.typed() && v.aside:
		ks = v.leftKeys()
	case v.typed():
		ks = append(ks, screen.On("enter", answerWord, "", func(screen.Press) tea.Cmd {
			return v.enter(n)
		}).Afresh(), v.calculatorKey(), screen.On("esc", "then keys",
			"leave what is typed: letters are keys then", screen.Do(func() { v.aside = true })))
	case row.Seen != "":
		ks = append(ks, screen.On("enter", "as ticked", "this row was as it is written",
			v.says(session.Row(row.No, ""))).Afresh())
	}
	if row != nil && row.Step.Gate == model.Choice {
		ks = append(ks, v.digitsKey(row.Step, func(text string) tea.Cmd {
			return v.say(session.Row(row.No, text))
		}))
	}
	return append(ks, v.toldMoves()...)
}

// toldMoves go from row to row, to tell one that was not as it is ticked.
func (v *walkScreen) toldMoves() []screen.Key {
	move := func(n int) screen.Deed {
		return screen.Do(func() {
			v.s.GoTo(n, v.Now)
			v.freshPrompt()
		})
	}
	return []screen.Key{
		screen.On("up/down", "another row", "go to a row that was not as it is ticked", move(-1),
			"up"),
		screen.On("down", "", "", move(1), "down"),
	}
}

// toldVerbs are the commands of a telling.
func (v *walkScreen) toldVerbs(ctrl string) []screen.Key {
	row, _ := rowNow(v.page())
	_, counter := v.s.W.Counter(v.s.Context(v.Now))
	return []screen.Key{
		screen.On("e", "correction", screen.ItIsRight, v.says("correction")).When(
			ctrl == "" && counter),
		screen.On("a", "new counter", screen.ItIsNew, v.says("new counter")).When(
			ctrl == "" && counter),
		screen.On(ctrl+"x", "skip", "the row was not done; the reason goes on record",
			v.asks("skip", "why was it not done")).When(row != nil),
		screen.On(ctrl+"l", "leave out", "the procedure, or the rest of it, was not done",
			v.asks("leave", "why was the procedure not done")).When(v.s.W.CanLeave()),
		screen.On(ctrl+"t", "when", "the procedure was done at another time of the session",
			v.asks(whenWord, "when was it done, "+v.span())),
		screen.On(ctrl+"f", "fails", "it could not be done as said: what its file says then follows",
			v.says("fail")).When(row != nil && row.Step.Gate != model.Choice && row.Step.Miss != nil),
		screen.On("r", "not read", "", v.says("not read")).When(
			ctrl == "" && row != nil && row.Step.Optional),
		v.backKey(ctrl, true),
		v.noteKey(ctrl),
		screen.On(ctrl+"p", "pause", "leave it begun; it goes on at this row when you come back",
			v.says("pause")),
		screen.On("G", "give up", "end the session unfinished", v.asks(giveUp,
			"why is the session given up")).When(ctrl == ""),
	}
}

// whenWord is the command that says when a procedure on paper was done.
const whenWord = "at"

// span is from when to when the session on paper was.
func (v *walkScreen) span() string {
	return model.Stamp(v.s.W.Start, v.Now) + " to " + model.Stamp(v.s.W.Begun.Told, v.Now)
}

// takeWhen takes when the procedure was done.
func (v *walkScreen) takeWhen(text string) tea.Cmd {
	if err := v.s.Date(text, v.Now); err != nil {
		return screen.Send(screen.Notice{Text: screen.Sentence(err)})
	}
	v.reason = screen.Line{}
	return nil
}

// toldLines draw one procedure as it stands on the sheet, and give the line of the row that is told
// next.
func (v *walkScreen) toldLines(p walk.Prompt) (out []string, now int) {
	t, pg := v.Env.Theme, v.page()
	if pg == nil {
		return []string{" one moment"}, -1
	}
	out = []string{t.Between(" "+t.Text.Strong.Text(theme.Safe(pg.Block.Proc.Heading())),
		"done "+model.Stamp(v.s.Dated(v.Now), v.Now)+" ", v.W), ""}
	out = append(out, v.elsewhereLines()...)
	now = -1
	for i := range pg.Rows {
		if pg.Rows[i].Now {
			now = len(out)
		}
		out = append(out, v.toldRow(&pg.Rows[i])...)
		if pg.Rows[i].Now {
			out = append(out, v.refusalLines(p)...)
		}
	}
	if now < 0 {
		out = append(out, "", "   "+t.Text.Strong.Text("All that is left is ticked. Was it so?"))
		out = append(append(out, v.sureLines()...), v.refusalLines(p)...)
		now = len(out) - 1
	}
	return out, now
}

// toldRow draws one row of the sheet: its number there, its box, its text, and at the right what
// was.
func (v *walkScreen) toldRow(r *walk.Row) []string {
	t := v.Env.Theme
	box, paint, right := "[x]", t.Text.Dim, r.Answer
	switch {
	case r.Left:
		box = "[-]"
	case !r.Done:
		paint, right = theme.Paint{}, r.Seen
		if right == "" {
			box, right = "[ ]", v.choices(r)
		}
		if r.Step.Typed() && (r.Now || r.Seen == "") {
			right = v.typedText(r)
		}
	}
	mark := "  "
	if r.Now {
		mark, paint = "> ", t.Text.Strong
	}
	head := " " + mark + fmt.Sprintf("%2d %s ", r.No, box)
	wide := min(screen.WideText+4, v.W-2) - theme.Width(head)
	line := t.Plain(theme.Safe(session.RowText(*r)))
	gap := wide - theme.Width(line) - theme.Width(right)
	out := []string{head + paint.Text(line) + strings.Repeat(" ", max(2, gap)) + t.Plain(
		theme.Safe(right))}
	if gap < 2 {
		out = v.wrapped(session.RowText(*r), head, paint)
		out = append(out, strings.Repeat(" ", theme.Width(head)+max(0, wide-theme.Width(right)))+
			t.Plain(theme.Safe(right)))
	}
	if r.Now {
		out = append(out, v.otherLines(r)...)
	}
	return out
}

// choices are the answers of a row that has no ordinary one, where they are short and do not stand
// below it.
func (v *walkScreen) choices(r *walk.Row) string {
	text := strings.Join(v.s.W.Choices(r.Step), " / ")
	switch {
	case r.Now || r.Step.Gate != model.Choice:
		return ""
	case len(text) > shortChoice:
		return "____"
	}
	return text
}

// shortChoice is as long as the answers of a row may be to stand beside it.
const shortChoice = 20
