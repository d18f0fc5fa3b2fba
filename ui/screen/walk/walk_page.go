package walk

import (
	"fmt"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// page is the page of rows before the person, nil where a step stands by itself.
func (v *walkScreen) page() *walk.Page { return v.s.W.Page(v.s.Context(v.Now)) }

// rowNow is the row answered next, and its place; nil where what stands behind the rows is asked.
func rowNow(p *walk.Page) (*walk.Row, int) {
	if p == nil {
		return nil, -1
	}
	for i := range p.Rows {
		if p.Rows[i].Now {
			return &p.Rows[i], i
		}
	}
	return nil, -1
}

// fromTop scrolls to the first line, however many there are.
const fromTop = 1 << 20

// unread tells whether the end of a page was not in view yet, because what stands above it fills
// the screen.
func (v *walkScreen) unread() bool { return v.above > 0 && v.up > 0 }

// pageLines draw the rows of a page, and what stands behind them.
func (v *walkScreen) pageLines(p walk.Prompt, pg *walk.Page) []string {
	out := v.rowsOf(p, pg)
	switch {
	case pg.Wait != nil:
		out = append(append(out, v.divider()), v.cautionText(pg.Beside)...)
		return append(out, v.wrapped(pg.Wait.Line, "   ", theme.Paint{})...)
	case pg.Hold == nil:
		return out
	}
	out = append(append(out, v.divider()), v.cautionText(pg.Beside)...)
	if pg.Asked() {
		out = append(out, v.togetherLines(true)...)
		out = append(out, v.wrapped(pg.Hold.Line, "   ", v.Env.Theme.Text.Strong)...)
		return append(append(out, v.aloneLines(p)...), v.togetherLines(false)...)
	}
	return append(out, v.wrapped(pg.Hold.Line, "   ", theme.Paint{})...)
}

// rowsOf draws the rows of a page, with their cautions above them.
func (v *walkScreen) rowsOf(p walk.Prompt, pg *walk.Page) []string {
	out := append([]string{" " + v.Env.Theme.Text.Strong.Text(theme.Safe(pg.Block.Proc.Heading()))},
		v.knownLines()...)
	out = append(out, v.cautionText(pg.Cautions)...)
	out = append(out, v.elsewhereLines()...)
	for i := range pg.Rows {
		out = append(out, v.rowLines(&pg.Rows[i])...)
		if pg.Rows[i].Now {
			out = append(out, v.refusalLines(p)...)
		}
	}
	return out
}

// divider stands between the rows of a page and what is asked behind them.
func (v *walkScreen) divider() string {
	return "   " + strings.Repeat(v.Env.Theme.Plain("─"), max(8, min(screen.WideText, v.W-6)))
}

// togetherLines are the holds that share the screen with the one that is asked: those answered
// above it, those to come below.
func (v *walkScreen) togetherLines(done bool) []string {
	var out []string
	for _, r := range v.s.W.Together() {
		if r.Now || r.Done != done {
			continue
		}
		if !done {
			out = append(out, v.wrapped(r.Step.Line, "   then  ", v.Env.Theme.Text.Dim)...)
			continue
		}
		out = append(out, v.rowLines(&r)...)
	}
	if len(out) > 0 {
		out = append(out, "")
		if !done {
			out = append([]string{""}, out[:len(out)-1]...)
		}
	}
	return out
}

// rowLines draw one row: its mark, its text, and at the right what is seen when it is right.
func (v *walkScreen) rowLines(r *walk.Row) []string {
	t := v.Env.Theme
	mark, paint, right := "  ", theme.Paint{}, r.Seen
	switch {
	case r.Left:
		mark, paint, right = "- ", t.Text.Dim, r.Answer
	case r.Done:
		mark, paint, right = t.Plain("✓")+" ", t.Text.Dim, r.Answer
	case r.Now:
		mark, paint = "> ", t.Text.Strong
	}
	if !r.Done && r.Step.Typed() {
		right = v.typedText(r)
	}
	wide := min(screen.WideText, v.W-6)
	line := theme.Safe(r.Step.Line)
	if r.Rank == model.MarkedLine && !r.Done {
		line = "* " + line
	}
	var out []string
	if theme.Width(line)+2+theme.Width(right) <= wide {
		gap := strings.Repeat(" ", wide-theme.Width(line)-theme.Width(right))
		out = append(out, "   "+mark+paint.Text(t.Plain(line))+gap+t.Plain(theme.Safe(right)))
	} else {
		out = append(out, v.wrapped(line, "   "+mark, paint)...)
		out = append(out, "     "+strings.Repeat(" ", max(0, wide-theme.Width(right)))+
			t.Plain(theme.Safe(right)))
	}
	if !r.Done {
		out = append(append(out, v.layLines(r.List)...), v.bookLines(r.Book)...)
	}
	if r.Now {
		out = append(out, v.otherLines(r)...)
	}
	return out
}

// bookLines are what the record says of the machine, below the row that compares the two.
func (v *walkScreen) bookLines(book []string) []string {
	var out []string
	for _, b := range book {
		out = append(out, v.wrapped(b, "       ", v.Env.Theme.Text.Dim)...)
	}
	return out
}

// typedText is the field of a row that is typed.
func (v *walkScreen) typedText(r *walk.Row) string {
	if r.Now {
		return strings.TrimSpace(v.drawnField()+" "+r.Step.Unit) + v.wants()
	}
	return strings.TrimSpace("____ " + r.Step.Unit)
}

func (v *walkScreen) wants() string {
	if w := walk.Wants(v.s.W, v.s.Context(v.Now)); w != "" && len(w) <= 24 {
		return " (" + w + ")"
	}
	return ""
}

// otherLines are the other answers of the row that is answered next, each with its digit, and what
// one would bring where it leads elsewhere.
func (v *walkScreen) otherLines(r *walk.Row) []string {
	t := v.Env.Theme
	var out []string
	if r.Step.Gate == model.Choice {
		var parts []string
		for i, o := range v.s.W.Choices(r.Step) {
			parts = append(parts, fmt.Sprintf("%d %s", i+1, theme.Safe(o)))
		}
		for _, l := range screen.WrapParts(strings.Join(parts, "   "), "   ",
			min(screen.WideText, v.W-8)) {
			out = append(out, "       "+t.Text.Dim.Text(t.Plain(l)))
		}
	}
	return append(append(out, v.lastLines()...), v.sureLines()...)
}

// sureLines say what an answer would bring, before it is taken.
func (v *walkScreen) sureLines() []string {
	if v.sure.Leads == "" {
		return nil
	}
	return v.wrapped(v.sure.Leads+" y: so it is; esc: never mind.", "     ", v.Env.Theme.State.Due)
}

// aloneLines are the answers of a step that stands alone, behind its question.
func (v *walkScreen) aloneLines(p walk.Prompt) []string {
	var out []string
	if as := v.answers(); len(as) > 0 {
		var words []string
		for _, a := range as {
			words = append(words, a.marked())
		}
		for _, l := range screen.WrapParts(strings.Join(words, "   "), "   ", v.W-8) {
			out = append(out, "     "+v.Env.Theme.Text.Strong.Text(l))
		}
		out = append(out, v.sureLines()...)
		return append(out, v.refusalLines(p)...)
	}
	line := "     " + v.drawnField()
	if p.Unit != "" {
		line += " " + v.Env.Theme.Plain(p.Unit)
	}
	if p.Step.Gate != model.Count {
		line += v.wants()
	}
	return append(append(append(out, line), v.lastLines()...), v.refusalLines(p)...)
}

// answers are those of what is asked by letter: of a step that stands alone, of the old part; nil
// where it is typed, or a row.
func (v *walkScreen) answers() []answer {
	if v.s == nil {
		return nil
	}
	switch p := v.prompt(); {
	case p.Kind == walk.AskEnd:
		var out []answer
		for _, x := range screen.Ends {
			out = append(out, answer{rune(x.Key[0]), x.Says, string(x.End)})
		}
		return out
	case p.Kind == walk.AskStep && v.s.W.Alone():
		return answersOf(p)
	}
	return nil
}

// knownLines say in one quiet line, where else one is left free, what passed by itself and what it
// rests on.
func (v *walkScreen) knownLines() []string {
	known, t := v.s.W.PassedKnown(), v.Env.Theme
	again := v.s.W.AskedAgain()
	switch {
	case again != "":
		return v.wrapped(strings.Join(append(known, again), " · "), "   ", t.Text.Dim)
	case len(known) == 0:
		return []string{""}
	}
	return v.wrapped(strings.Join(known, " · "), "   "+t.Plain("✓")+" ", t.Text.Dim)
}

func (v *walkScreen) elsewhereLines() []string {
	e := v.s.W.Elsewhere(v.s.Machine)
	if e == "" {
		return nil
	}
	return append(v.wrapped(e, "   ", v.Env.Theme.State.Due), "")
}

// wrapped breaks a text behind a head, the lines after the first below the text.
func (v *walkScreen) wrapped(text, head string, paint theme.Paint) []string {
	t := v.Env.Theme
	var out []string
	for i, l := range theme.Wrap(t.Plain(theme.Safe(text)),
		max(8, min(screen.WideText, v.W-2-theme.Width(head)))) {
		if i > 0 {
			head = strings.Repeat(" ", theme.Width(head))
		}
		out = append(out, head+paint.Text(l))
	}
	return out
}
