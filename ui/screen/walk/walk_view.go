package walk

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// View shows the current prompt, as it was drawn last.
func (v *walkScreen) View() string { return v.drawn }

// draw draws the current prompt: the state, the caution before the hand moves, the instruction
// alone and bright, what is asked, what runs and what comes.
func (v *walkScreen) draw() {
	switch {
	case v.s == nil:
		v.drawn = " reading the session"
	case v.side == 0:
		v.drawn = strings.Join(v.pageView(), "\n")
	default:
		v.drawn = strings.Join(screen.Beside(v.Env.Theme, v.pageView(), v.sideLines(v.H),
			v.W+screen.PanesApart), "\n")
	}
}

// pageView is what is asked now, in the width and height of the page.
func (v *walkScreen) pageView() []string {
	top := v.stateLines()
	foot := v.footLines()
	note := v.noteLines()
	lines, now := v.bodyLines()
	body := append(note, lines...)
	room := v.H - len(top) - len(foot)
	if p := v.prompt(); p.Kind == walk.AskStep && len(v.s.W.Card()) == 0 && v.page() == nil &&
		!v.asksBelow() && v.side == 0 {
		next := v.nextLines(min(nextRoom+v.H/20, room-len(body)))
		foot, room = append(foot, next...), room-len(next)
	}
	if len(body) > room && !v.asksBelow() { // what is typed there is seen
		foot = foot[:max(0, len(foot)-(len(body)-room))]
		room = v.H - len(top) - len(foot)
	}
	if len(body) > room {
		top = nil
		room = v.H - len(foot)
	}
	if len(body) > room { // what was noted stays in view
		top, body = v.pinned(note, room/3), lines
		room -= len(top)
	}
	low := len(body) - room + 1 // what is asked stands at the end
	if now >= 0 {
		low = screen.InView(now, now+rowRoom, len(body), room-1)
	}
	return append(screen.Pad(append(top, v.window(body, room, low)...), v.H-len(foot)), foot...)
}

// pinned is what was noted in n lines at most, the last of them cut where it is longer.
func (v *walkScreen) pinned(note []string, n int) []string {
	if len(note) == 0 {
		return nil
	}
	note = note[:len(note)-1] // the air below it
	if n = max(1, n); len(note) > n {
		note = append(slices.Clone(note[:n-1]),
			v.Env.Theme.Trunc(note[n-1]+" "+strings.TrimSpace(strings.Join(note[n:], " ")), v.W))
	}
	return note
}

// asksBelow tells whether something is asked below the page: a reason, or whether to leave.
func (v *walkScreen) asksBelow() bool { return v.reason.Open || v.leaving.ask != "" }

// rowRoom is what a row of the state takes at most, with how it is read.
const rowRoom = 3

// window is the part of the body in view, where not all is: from line low on, which shows what is
// asked; a line says how much is above, and pgup shows it.
func (v *walkScreen) window(body []string, room, low int) []string {
	if len(body) <= room || room < 2 {
		v.above, v.up = 0, 0
		return screen.Clip(body, max(0, room))
	}
	v.above = max(0, low)
	v.up = min(v.up, v.above)
	from, t := v.above-v.up, v.Env.Theme
	below := max(0, len(body)-from-(room-1))
	if from == 0 {
		return append(body[:room-1:room-1], t.State.Due.Text(fmt.Sprintf(" %d lines below", below)))
	}
	say := fmt.Sprintf(" pgup: %d lines above", from)
	if slices.ContainsFunc(body[:from], v.isCaution) {
		say += ", cautions too"
	}
	if below > 0 {
		say += fmt.Sprintf("; %d below", below)
	}
	return append([]string{t.State.Due.Text(say)}, body[from:len(body)-below]...)
}

func (v *walkScreen) width() int { return min(screen.TextWidth, v.W-6) }

// stateLines are what the program believes, and the ledger.
func (v *walkScreen) stateLines() []string {
	t := v.Env.Theme
	var out []string
	if !v.s.W.StateMatters() || v.stateRows() != nil {
		return nil // the rows of the state say it
	}
	for _, l := range screen.WrapParts(t.Plain(theme.Safe(walk.StateLine(v.s.W))), t.Plain(" · "), v.W-2) {
		out = append(out, " "+l)
	}
	if l := v.s.W.LedgerShown(v.s.W.Step()); l != "" && v.side == 0 {
		for _, x := range screen.Clip(theme.Wrap(t.Plain(theme.Safe(l)), v.W-2), 2) {
			out = append(out, " "+x)
		}
	}
	return append(out, "")
}

// bodyLines are what is asked, and the line of the row that is answered next; -1 where the end is.
func (v *walkScreen) bodyLines() (lines []string, now int) {
	p := v.prompt()
	switch p.Kind {
	case walk.AskStep:
		if v.told() {
			return v.toldLines(p)
		}
		return v.stepLines(p), -1
	case walk.AskWait:
		return v.waitLines(p), -1
	case walk.AskNone, walk.AskOver:
		return []string{" one moment"}, -1
	}
	if rows := v.stateRows(); rows != nil {
		return v.stateFormLines(p, rows)
	}
	return v.askLines(p), -1
}

// stepLines draw a step of a procedure.
func (v *walkScreen) stepLines(p walk.Prompt) []string {
	t := v.Env.Theme
	if pg := v.page(); pg != nil {
		return v.pageLines(p, pg)
	}
	n, of := v.s.W.StepOf()
	head := t.Between(" "+t.Text.Strong.Text(theme.Safe(p.Block.Proc.Heading())),
		fmt.Sprintf("%d of %d ", n, of), v.W)
	out := append([]string{head}, v.knownLines()...)
	out = append(out, v.cautionLines()...)
	out = append(out, v.elsewhereLines()...)
	out = append(out, v.togetherLines(true)...)
	if card := v.s.W.Card(); len(card) > 0 {
		return append(append(out, v.asideLines(p)...), v.cardLines(card)...)
	}
	for _, l := range theme.Wrap(t.Plain(theme.Safe(p.Step.Do)), v.width()) {
		out = append(out, "   "+t.Text.Strong.Text(l))
	}
	out = append(out, "")
	out = append(out, v.asideLines(p)...)
	if list := v.s.W.ListOf(p.Block.ID, p.Step); list != nil {
		out = append(append(out, v.layLines(list)...), "")
	}
	if book := v.s.W.InBook(v.s.Machine, p.Block.ID, p.Step); book != nil {
		out = append(append(out, v.bookLines(book)...), "")
	}
	if v.s.W.Alone() {
		out = append(out, "   "+v.question(p.Question+":"))
		return append(append(out, v.aloneLines(p)...), v.togetherLines(false)...)
	}
	return append(out, v.answerLines(p)...)
}

// cardLines draw neighbouring plain confirms as one card; each tick is an entry of its own.
func (v *walkScreen) cardLines(card []walk.CardLine) []string {
	t := v.Env.Theme
	var out []string
	now := false
	for _, c := range card {
		mark, paint := "[ ] ", theme.Paint{}
		switch {
		case c.Done:
			mark = "[x] "
		case !now:
			now = true
			mark, paint = "["+t.Plain("›")+"] ", t.Text.Strong
		}
		for j, l := range theme.Wrap(t.Plain(theme.Safe(c.Step.Do)), v.width()-2) {
			if j > 0 {
				mark = "    "
			}
			out = append(out, "   "+mark+paint.Text(l))
		}
	}
	out = append(out, "", "   "+v.question("Done?"))
	return append(out, v.refusalLines(v.prompt())...)
}

func (v *walkScreen) cautionLines() []string {
	return v.cautionText(v.s.W.ShownCautions(v.s.Context(v.Now)))
}

// cautionText draws cautions, in full or as their briefs; all in full where ! was pressed.
func (v *walkScreen) cautionText(cs []walk.Shown) []string {
	t := v.Env.Theme
	var out []string
	for _, c := range cs {
		head := v.cautionHead(c.Signal)
		text := c.Harm + " " + c.Avoid
		if !c.Whole && !v.whole {
			text = c.Brief
		}
		for i, l := range theme.Wrap(t.Plain(theme.Safe(text)), min(screen.WideText, v.W-16)) {
			if i > 0 {
				head = strings.Repeat(" ", 12)
			}
			out = append(out, head+l)
		}
	}
	if len(out) > 0 {
		out = append(out, "")
	}
	return out
}

// cautionHead begins a caution.
func (v *walkScreen) cautionHead(signal string) string {
	return "   " + v.Env.Theme.SignalWord(signal) + strings.Repeat(" ", 9-len(signal))
}

// isCaution tells whether one of the cautions shown now begins in a line.
func (v *walkScreen) isCaution(line string) bool {
	cs := v.cautionsNow()
	if os, at := v.offers(); at >= 0 {
		cs = append(slices.Clone(cs), os[at].Cautions...)
	}
	return slices.ContainsFunc(cs, func(c walk.Shown) bool {
		return strings.HasPrefix(line, v.cautionHead(c.Signal))
	})
}

// asideLines are why, with what, and how tight.
func (v *walkScreen) asideLines(p walk.Prompt) []string {
	t := v.Env.Theme
	var out []string
	add := func(head, text string) {
		for i, l := range theme.Wrap(t.Plain(theme.Safe(text)), v.W-16) {
			if i > 0 {
				head = ""
			}
			out = append(out, fmt.Sprintf("   %-9s%s", head, l))
		}
	}
	if p.Step.Why != "" {
		add("why", p.Step.Why)
	}
	if n, _ := v.s.W.StepOf(); n == 1 {
		add("with", strings.Join(toolNames(p.Block.Proc), ", "))
		add("wear", strings.Join(p.Block.Proc.Gear, ", "))
	}
	if f := p.Step.Fastener; f != nil {
		text := f.Size + " " + f.Head + keyFor(f)
		if tight := walk.Tightness(*f); tight != "" {
			text += ": " + tight
		}
		add("screw", text)
	}
	if len(out) > 0 {
		out = append(out, "")
	}
	return out
}

func keyFor(f *model.Fastener) string {
	if mm, ok := model.HexKey(f.Head, f.Size); ok {
		return fmt.Sprintf(", hex key %g mm", mm)
	}
	return ""
}

func toolNames(p *model.Procedure) []string {
	var out []string
	for _, x := range p.Tools {
		out = append(out, x.Name)
	}
	return out
}

// answerLines are what is asked, with the field or the choice.
func (v *walkScreen) answerLines(p walk.Prompt) []string {
	t := v.Env.Theme
	var out []string
	q := p.Question
	wants := walk.Wants(v.s.W, v.s.Context(v.Now))
	switch v.mode() {
	case pickOption:
		out = append(out, "   "+v.question(q+":"))
		for i, o := range p.Options {
			mark, line := "  ", fmt.Sprintf("%d  %s", i+1, theme.Safe(o))
			if p.Kind == walk.AskStep && o == v.s.W.Ordinary(v.s.Context(v.Now)) {
				line += "   " + t.Text.Dim.Text(t.Plain("as written"))
			}
			if i == v.at {
				mark, line = "> ", t.Text.Accent.Text(line)
			}
			out = append(out, "   "+mark+line)
		}
	case typeNumber, typeText:
		line := v.question(q+":") + " " + v.drawnField()
		if p.Unit != "" {
			line += " " + t.Plain(p.Unit)
		}
		if wants != "" {
			line += "   (" + t.Plain(theme.Safe(wants)) + ")"
		}
		out = append(append(out, "   "+line), v.lastLines()...)
	default:
		out = append(out, "   "+v.question(q+"?"))
	}
	out = append(out, v.sureLines()...)
	return append(out, v.refusalLines(p)...)
}

// question is what is asked: plain, for the instruction is the brightest thing on the screen.
func (v *walkScreen) question(q string) string { return theme.Safe(q) }

// refusalLines say under a question why the last answer to it did not pass.
func (v *walkScreen) refusalLines(p walk.Prompt) []string {
	if p.Refusal == "" || v.refusedSince {
		return nil
	}
	t := v.Env.Theme
	out := []string{""}
	for _, l := range theme.Wrap(t.Plain(theme.Safe(p.Refusal)), v.width()) {
		out = append(out, "   "+t.State.Due.Text(l))
	}
	return out
}

// noteLines say what the answer before brought: above what is asked now, which it is no advice for.
func (v *walkScreen) noteLines() []string {
	if v.note == "" || v.prompt().Refusal != "" {
		return nil
	}
	return append(v.wrapped(v.note, " noted  ", theme.Paint{}), "")
}

// askLines draw a question of state, ledger, missing piece or old part.
func (v *walkScreen) askLines(p walk.Prompt) []string {
	t := v.Env.Theme
	head, why := askHead(p)
	out := []string{" " + t.Text.Strong.Text(head), ""}
	if pg := v.page(); pg != nil {
		out = append(v.rowsOf(p, pg), v.divider(), "   "+t.Text.Strong.Text(head), "")
	}
	if p.Stopped != "" && p.Kind == walk.AskState {
		out = append(out, v.stopLines(p.Stopped)...)
	}
	for _, l := range theme.Wrap(why, v.width()) {
		out = append(out, "   "+l)
	}
	if why != "" {
		out = append(out, "")
	}
	q := p
	q.Question = strings.TrimSuffix(p.Question, "?")
	switch {
	case p.Kind == walk.AskLack && p.Item == "":
		out = append(append(out, v.layLines(v.s.W.Laying())...), "")
	case p.Kind == walk.AskLack:
		out = append(append(out, v.wrapped(p.Question+".", "   ", t.Text.Strong)...), "")
		q.Question = "Without it"
	case p.Kind == walk.AskFind:
		out = append(append(out, v.wrapped(p.Question, "   ", t.Text.Strong)...), "")
		q.Question = "The piece"
	}
	if p.Kind == walk.AskState && v.mode() == pickOption {
		q.Question, _, _ = strings.Cut(q.Question, ":")
	}
	if p.Kind == walk.AskEnd {
		return append(append(out, v.wrapped(p.Question, "   ", theme.Paint{})...),
			v.aloneLines(p)...)
	}
	if v.mode() == justEnter {
		for _, l := range theme.Wrap(theme.Safe(p.Question), v.width()) {
			out = append(out, "   "+t.Text.Strong.Text(l))
		}
		return append(append(out, v.sureLines()...), v.refusalLines(p)...)
	}
	return append(out, v.answerLines(q)...)
}

func askHead(p walk.Prompt) (head, why string) {
	switch p.Kind {
	case walk.AskResume:
		return "The session rests",
			"Half an hour went by, or it was paused. How the machine stands is asked first; what is out and in is counted."
	case walk.AskState:
		return "How does the machine stand?", ""
	case walk.AskLedger:
		return "Count what the book says is out or in", ""
	case walk.AskZero:
		return "Before it goes on",
			"Nothing may be left out or in when power comes back or the machine closes."
	case walk.AskFind:
		return "Look for it", ""
	case walk.AskLack:
		return "Something is missing", ""
	case walk.AskEnd:
		return "One word about the old part",
			"worn, failed in use, early (taken off while sound), or lost: it tells how long they last here."
	}
	return "", ""
}

func (v *walkScreen) stopLines(why string) []string {
	t := v.Env.Theme
	var out []string
	text := "Stop: " + why + " " + model.StopNow
	for _, l := range theme.Wrap(theme.Safe(text), v.width()) {
		out = append(out, "   "+t.State.Past.Text(l))
	}
	return append(out, "")
}

// footLines are the reason being typed, and the waits that run.
func (v *walkScreen) footLines() []string {
	t := v.Env.Theme
	if v.reason.Open {
		return []string{" " + t.Text.Strong.Text(v.reason.Ask+":"),
			" " + v.reason.Text.Drawn(v.W-2), ""}
	}
	if v.leaving.ask != "" {
		return []string{screen.LeaveLine(t, v.leaving.ask, v.W)}
	}
	var out []string
	if v.side == 0 {
		for _, r := range v.running() {
			out = append(out, fmt.Sprintf(" waiting   %s  %s left", theme.Safe(r.Why),
				model.TimeLeft(r.Until.Sub(v.Now))))
		}
	}
	return slices.Insert(out, 0, "")
}

// running are the waits that go on beside what is asked.
func (v *walkScreen) running() []walk.Running {
	p := v.prompt()
	var out []walk.Running
	for _, r := range v.s.W.Waits {
		if r.Until.After(v.Now) && (p.Wait == nil || p.Wait.Key != r.Key) {
			out = append(out, r)
		}
	}
	return out
}
