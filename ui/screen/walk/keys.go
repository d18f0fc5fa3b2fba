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

// One word for one thing on the key line: "answer" gives what is typed or chosen, "as written" is
// what space or enter does with what is seen when it is right.
const (
	answerWord = "answer"
	asWritten  = "as written"
)

const typeFirst = "Type the answer first, then enter."

// Keys are those that work on the current prompt.
func (v *walkScreen) Keys() []screen.Key {
	var ks []screen.Key
	switch {
	case v.s == nil || v.busy:
		return nil
	case v.reason.Open:
		return v.reasonKeys()
	case v.leaving.ask != "":
		return v.leavingKeys()
	case v.sure.Leads != "":
		ks = v.sureKeys()
	case v.stateRows() != nil:
		ks = v.stateKeys(v.stateRows())
	default:
		p := v.prompt()
		ks = append(append(v.answerKeys(p), v.viewKeys(p)...), v.verbKeys(p)...)
	}
	// behind those that have an esc of their own
	ks = append(ks, screen.On("esc", "", "pauses, after asking: the machine is hot or moves",
		v.pause).When(v.leftOn() != ""))
	return append(ks, screen.On("?", "", "this page, where nothing is typed yet",
		screen.Sends(screen.AskHelp{})).When(v.TakesText() && v.field.Text == ""))
}

// reasonKeys are those while a reason is typed.
func (v *walkScreen) reasonKeys() []screen.Key {
	return []screen.Key{
		screen.On("enter", "write it", "", func(screen.Press) tea.Cmd {
			return v.takeReason()
		}).Afresh(),
		screen.On("esc", "never mind", "", screen.Do(func() { v.reason = screen.Line{} })),
	}
}

// sureKeys are those while an answer that leads elsewhere waits for its y.
func (v *walkScreen) sureKeys() []screen.Key {
	return []screen.Key{
		screen.On("y", "so it is", "take the answer, with what it leads to",
			func(screen.Press) tea.Cmd {
				said := v.sure.said
				said.Meant = true
				return v.judge(said)
			}).Afresh(),
		screen.On("esc", "never mind", "", screen.Do(func() { v.sure = unsure{} })),
	}
}

// readOnKey shows more of what must be read before it passes.
func (v *walkScreen) readOnKey(keys ...string) screen.Key {
	return screen.On("space", "read on",
		"a page passes when its last row was in view; enter reads on too", screen.Do(func() {
			v.up = max(0, min(v.up, v.above)-max(1, v.H*3/4))
		}), keys...)
}

// answerKeys are those that answer what is asked.
func (v *walkScreen) answerKeys(p walk.Prompt) []screen.Key {
	if v.told() {
		return v.toldKeys()
	}
	row, n := rowNow(v.page())
	switch {
	case (row != nil || p.Kind == walk.AskStep && v.listed()) && v.unread():
		return []screen.Key{v.readOnKey("space", "enter")}
	case v.typed() && v.aside:
		return v.leftKeys()
	case v.typed():
		return []screen.Key{
			screen.On("enter", v.enterWord(), "", func(screen.Press) tea.Cmd {
				return v.enter(n)
			}).Afresh(),
			v.calculatorKey(),
			v.asideKey(p),
			screen.On("h", "hot", "it is hot, or cannot be read", v.says("hot")).When(
				p.Kind == walk.AskState && p.Variable == model.Heat && v.field.Text == ""),
		}
	case row != nil:
		return v.rowKeys(row)
	case p.Kind == walk.AskWait:
		return v.waitKeys()
	case len(v.answers()) > 0:
		return v.letterKeys()
	case v.mode() == pickOption:
		return v.choiceKeys(p)
	case p.Kind == walk.AskResume:
		return []screen.Key{screen.On("enter", "go on", "", v.says("ok")).Afresh()}
	case p.Kind == walk.AskNone:
		return nil
	case v.ordinary() != "":
		return []screen.Key{v.writtenKey(p)}
	}
	return []screen.Key{screen.On("enter", "done", "", v.says("ok")).Afresh()}
}

// asideKey leaves what is typed, so that letters are keys: those it says, as many as there is room
// for.
func (v *walkScreen) asideKey(p walk.Prompt) screen.Key {
	does, sep, room := "then", " ", asideRoom
	if v.s.Calculator(v.Now) != nil {
		room += theme.Width("   = " + workWord)
	}
	ks := []screen.Key{v.backKey("", true)}
	if p.Kind == walk.AskStep {
		ks = v.stepKeys(p, "")
	}
	for _, k := range append(ks, v.noteKey(""), v.pauseKey("")) {
		h := k.Help()
		if next := does + sep + h.Key + " " + h.Desc; k.Enabled() && h.Desc != "" &&
			theme.Width(next) < v.W+v.side-room {
			does, sep = next, ", "
		}
	}
	if does == "then" {
		does = "then keys"
	}
	return screen.On("esc", does,
		"leave what is typed: letters are keys then; enter or a figure goes on typing",
		func(screen.Press) tea.Cmd {
			v.aside = true
			return screen.Send(screen.Notice{Text: "Letters are keys now; enter or a figure goes on typing."})
		})
}

// asideRoom is what else the key line says while something is typed.
const asideRoom = 30

// leftKeys are those of a row that is typed, once it was left: its letters are keys, and a figure
// goes on typing.
func (v *walkScreen) leftKeys() []screen.Key {
	return []screen.Key{
		screen.On("enter", "type", "go on typing the answer; a figure does the same",
			screen.Do(func() { v.aside = false })),
		v.calculatorKey(),
		screen.On("0-9", "", "go on typing the answer", func(p screen.Press) tea.Cmd {
			v.aside = false
			v.field.Press(p.Msg)
			return nil
		}, append(screen.DigitKeys(9), "0", "-", ".", ",")...).Begins(),
	}
}

// rowKeys are those of a row of a page that is not typed.
func (v *walkScreen) rowKeys(row *walk.Row) []screen.Key {
	seen, all := asWritten, "all as written"
	if row.Seen == "" { // they say then what is missing
		seen, all = "", ""
	} else if row.Rank != model.PlainLine {
		all = ""
	}
	return []screen.Key{
		screen.On("space", seen, "this row is done as it is written; a foot pedal sends it too",
			v.says(session.Row(row.No, ""))).Afresh(),
		screen.On("enter", all, "the rows left are done as they are written, up to one marked *",
			v.says("ok")).Afresh(),
		v.digitsKey(row.Step, func(text string) tea.Cmd {
			return v.say(session.Row(row.No, text))
		}),
	}
}

// digitsKey gives another answer at once, by its number.
func (v *walkScreen) digitsKey(s *model.Step, say func(string) tea.Cmd) screen.Key {
	words, does := v.s.W.Choices(s), "another answer"
	if s.Gate != model.Choice {
		words = nil
	}
	if row, _ := rowNow(v.page()); s.Decision || v.told() && row != nil && row.Seen == "" {
		does = answerWord
	}
	return v.byDigit(words, does, say)
}

// byDigit gives one of some answers at once, by its number.
func (v *walkScreen) byDigit(words []string, does string, say func(string) tea.Cmd) screen.Key {
	n := min(9, len(words))
	return screen.On(fmt.Sprintf("1-%d", n), does, "", func(p screen.Press) tea.Cmd {
		v.took = true
		return say(words[screen.DigitOf(p.Key())-1])
	}, screen.DigitKeys(n)...).Afresh().When(n > 0)
}

// letterKeys are those of what stands alone: the letter of an answer, nothing else, passes it.
func (v *walkScreen) letterKeys() []screen.Key {
	var ks []screen.Key
	for _, a := range v.answers() {
		ks = append(ks, screen.On(string(a.letter), a.word, "", func(screen.Press) tea.Cmd {
			v.took = true
			return v.say(a.says)
		}).Afresh())
	}
	return append(ks, v.backKey("", true))
}

// ordinary is what is seen when what stands by itself is right; "" where it has no such answer.
func (v *walkScreen) ordinary() string {
	if v.prompt().Kind != walk.AskStep {
		return ""
	}
	return v.s.W.Ordinary(v.s.Context(v.Now))
}

// writtenKey takes a step that is shown by itself, and would be a row of a page, as it is written.
func (v *walkScreen) writtenKey(p walk.Prompt) screen.Key {
	says := v.ordinary()
	if p.Step.Gate == model.Confirm {
		says = "ok"
	}
	label, keys := "space", []string{"space"}
	if p.Step.Rank() == model.PlainLine && v.at < 0 {
		label, keys = "enter", []string{"space", "enter"}
	}
	return screen.On(label, asWritten, "done as it is written; space and a foot pedal do the same",
		v.says(says), keys...).Afresh()
}

// choiceKeys are those of a choice that is shown by itself. Where it would be a row of a page, or
// steps hang on it, its number answers at once.
func (v *walkScreen) choiceKeys(p walk.Prompt) []screen.Key {
	var ks []screen.Key
	if v.ordinary() != "" {
		ks = append(ks, v.writtenKey(p))
	}
	n, choose, answer := len(p.Options), "choose", answerWord
	if p.Kind == walk.AskLack {
		ks, choose, answer = append(ks, v.byDigit(p.Options, answerWord, v.say)), "", ""
	} else if p.Kind == walk.AskStep && (v.ordinary() != "" || p.Step.Decision) {
		ks, answer = append(ks, v.digitsKey(p.Step, v.say)), ""
		if n <= 9 {
			choose = "" // a digit does
		}
	} else {
		ks, choose = append(ks, v.pickKey(fmt.Sprintf("1-%d", min(n, 9)), choose, n,
			screen.DigitKeys(n)...)), ""
	}
	return append(ks, v.pickKey("up/down", choose, n, "up", "down", "k", "j"),
		screen.On("enter", answer, "give the answer that is marked", func(screen.Press) tea.Cmd {
			return v.enter(-1)
		}).Afresh())
}

// pickKey moves to an answer.
func (v *walkScreen) pickKey(label, does string, n int, keys ...string) screen.Key {
	return screen.On(label, does, "move to an answer; its number does the same",
		func(p screen.Press) tea.Cmd { v.pick(p.Key(), n); return nil }, keys...)
}

// says is the deed of an answer, or of a command that is said as a word.
func (v *walkScreen) says(text string) screen.Deed {
	return func(screen.Press) tea.Cmd { return v.say(text) }
}

// asks is the deed of a command that wants a reason or a remark.
func (v *walkScreen) asks(verb, ask string) screen.Deed {
	return screen.Do(func() { v.reason = screen.Line{Open: true, Verb: verb, Ask: ask} })
}

// backKey takes the last answer back.
func (v *walkScreen) backKey(ctrl string, when bool) screen.Key {
	return screen.On(ctrl+"b", "back", "take the last answer back",
		func(screen.Press) tea.Cmd {
			v.wentBack = true
			return v.say("back")
		}).When(when && v.s.W.CanBack())
}

// noteKey asks for a remark.
func (v *walkScreen) noteKey(ctrl string) screen.Key {
	return screen.On(ctrl+"n", "note", "a remark beside the step", v.asks("note", "note"))
}

// pauseKey leaves the session begun.
func (v *walkScreen) pauseKey(ctrl string) screen.Key {
	return screen.On(ctrl+"p", "pause",
		"leave the session begun; it asks the state when you come back", v.pause)
}

// viewKeys are those that change what is seen, and nothing else.
func (v *walkScreen) viewKeys(p walk.Prompt) []screen.Key {
	half := max(1, v.H/2)
	ks := []screen.Key{
		screen.On("pgup", "read above", "pgup and pgdn show what does not fit",
			screen.Do(func() { v.up += half })).When(v.above > 0),
		screen.On("pgdn", "", "", screen.Do(func() { v.up = max(0, v.up-half) }), "pgdown").When(
			v.up > 0),
	}
	if p.Kind != walk.AskStep {
		return ks
	}
	return append(ks, screen.On("!", "cautions", "the cautions of this page in full",
		screen.Do(func() { v.whole = !v.whole })).
		When(v.hasBriefs() && (!v.typing() || v.mode() == typeNumber)))
}

// verbKeys are the commands: by their letters, with ctrl where letters are answers, and none where
// they are typed.
func (v *walkScreen) verbKeys(p walk.Prompt) []screen.Key {
	switch {
	case v.typing():
		return nil
	case v.TakesText():
		return v.commandKeys(p, "ctrl+")
	}
	return v.commandKeys(p, "")
}

// commandKeys are the commands; ctrl goes before the letters of those that work where letters are
// answers.
func (v *walkScreen) commandKeys(p walk.Prompt, ctrl string) []screen.Key {
	plain := ctrl == ""
	if v.told() {
		return v.toldVerbs(ctrl)
	}
	reads := v.s.W.ReadsInstead(p)
	ks := []screen.Key{screen.On("x", "cut short", "end the wait early; the reason goes on record",
		v.asks("cut", "why is the wait cut short")).
		When(plain && p.Kind == walk.AskWait && v.s.W.Uncuttable(p) == "" && !reads),
		screen.On("r", "read it now", "its temperatures are read before the clock has run out",
			v.says("cut read early")).When(plain && reads),
		screen.On("s", "stop", "it scrapes, smells or smokes: off at the switch first, then say what",
			v.asks("fault", "off at the switch; what is wrong")).When(plain && p.Watched())}
	if p.Kind == walk.AskStep {
		ks = append(ks,
			screen.On(ctrl+"g", "materials",
				"how each polymer is dried, what it wears and gives off", screen.Opens(
					screen.ToMaterials{})).
				When(p.Block.ID == session.DryFilament),
			v.paceKey(ctrl))
		ks = append(ks, v.stepKeys(p, ctrl)...)
	} else {
		ks = append(ks, v.backKey(ctrl, len(v.answers()) == 0)) // there it is a key of its own
	}
	return append(ks,
		screen.On(ctrl+"o", "plan again",
			"plan the rest again, without what was logged elsewhere meanwhile", v.says("plan")).
			When((p.Kind == walk.AskStep || p.Kind == walk.AskWait) &&
				len(v.s.W.Late(v.s.Machine)) > 0),
		v.noteKey(ctrl),
		v.pauseKey(ctrl),
		screen.On("G", "give up",
			"end the session unfinished: what is out stays on the bench until a session closes it",
			v.asks(giveUp,
				"why is the session given up (what is out stays on the bench until closed)")).When(
			plain))
}

// paceKey changes how a block is walked.
func (v *walkScreen) paceKey(ctrl string) screen.Key {
	c := v.s.Context(v.Now)
	does, says := "page by page", "walk this block page by page, as a practised hand does; for good by pace in the settings file"
	if v.s.W.InPages(c) {
		does, says = "step by step", "walk this block step by step, each in full"
	}
	return screen.On(ctrl+"v", does, says, func(screen.Press) tea.Cmd {
		if v.s.Flip(v.Now) {
			return v.settle()
		}
		return nil
	}).When(v.s.W.InPages(c) || v.s.W.CanPages(c))
}

// stepKeys are the commands at a step.
func (v *walkScreen) stepKeys(p walk.Prompt, ctrl string) []screen.Key {
	plain := ctrl == ""
	_, is, wrong := v.s.W.Correctable()
	record, says := "record is wrong",
		"the number on record of this machine is wrong: say the right one"
	if is < 0 {
		record, says = "put on record", "how many this machine has was never said: say it"
	}
	// what was typed of it was refused, and may be true all the same
	_, counter := v.s.W.Counter(v.s.Context(v.Now))
	return []screen.Key{
		screen.On("r", "not read", "", v.says("not read")).When(plain && p.Step.Optional),
		screen.On("e", "correction", screen.ItIsRight, v.says("correction")).When(plain && counter),
		screen.On("a", "new counter", screen.ItIsNew, v.says("new counter")).When(plain && counter),
		screen.On("e", record, says, v.asks("set", "how many this machine has")).When(plain && wrong),
		screen.On(ctrl+"f", "fails", "it cannot be done as said: what its file says then follows",
			v.says("fail")).When(p.Step.Gate != model.Choice && p.Step.Miss != nil),
		v.backKey(ctrl, len(v.answers()) == 0), // there it is a key of its own
		screen.On(ctrl+"x", "skip", "pass over this step; the reason goes on record",
			v.asks("skip", "why is this step skipped")).When(v.s.W.CanSkip()),
		screen.On(ctrl+"l", "leave out", "leave the rest of this procedure out, with a reason",
			v.asks("leave", "why is the rest of this procedure left out")).When(v.s.W.CanLeave()),
	}
}

// wrongKey answers a key that nothing takes.
func (v *walkScreen) wrongKey(p screen.Press) tea.Cmd {
	if p.Held {
		return nil
	}
	v.missed = (screen.DigitOf(p.Key()) > 0 || p.Key() == "0") && v.prompt().Kind != walk.AskWait
	return screen.Wrong(v.Keys(), p)
}

// enter gives what was typed, or the answer that stands; n is the row of the page it is for, -1
// where it stands by itself.
func (v *walkScreen) enter(n int) tea.Cmd {
	text := strings.TrimSpace(v.field.Text)
	if text == "" {
		text = v.s.W.Blank(v.s.Context(v.Now))
	}
	switch p := v.prompt(); {
	case v.mode() == pickOption && (v.at < 0 || v.at >= len(p.Options)) &&
		v.s.W.Ordinary(v.s.Context(v.Now)) != "":
		// enter is too quick for it
		return screen.Send(screen.Notice{Text: "Enter is too easy here, for nothing later asks it again: space where it is as written, else the number of another answer."})
	case v.mode() == pickOption && (v.at < 0 || v.at >= len(p.Options)):
		return screen.Send(screen.Notice{Text: "Choose first: its number, or up and down."})
	case v.mode() == pickOption:
		return v.say(p.Options[v.at])
	case text == "" && n >= 0:
		return v.say("ok") // the rows so far pass, or it says what is missing
	case text == "":
		return screen.Send(screen.Notice{Text: typeFirst})
	}
	return v.judge(v.typedAnswer(text))
}

// enterWord is what enter does to what is typed, or to nothing typed.
func (v *walkScreen) enterWord() string {
	blank := v.s.W.Blank(v.s.Context(v.Now))
	switch {
	case blank == "" || strings.TrimSpace(v.field.Text) != "":
		return answerWord
	case blank == "-":
		return "none"
	}
	return "sign as " + theme.Safe(blank)
}
