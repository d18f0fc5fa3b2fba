// Package walk takes a person through a care session, and shows one that has ended.
package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// walkScreen takes a person through one care session, a gate at a time. What a person answers is judged
// in Update and written in a command; the screen moves on only when the write has answered.
type walkScreen struct {
	screen.Base
	desk    session.Desk
	session string
	fresh   bool // just begun here: nothing to ask anew
	s       *session.Session

	field  screen.Field   // what is typed
	at     int            // the option chosen
	key    string         // what the field and the option belong to
	reason screen.Line    // a reason being typed
	busy   bool           // a write is on its way
	going  bool           // esc was pressed to leave
	ahead  []screen.Press // keys typed meanwhile
	sure   string         // an answer that leads elsewhere, until y takes it
	state  stateForm
	whole  bool   // cautions are shown in full
	note   string // what the last answer brought beside
	rung   time.Time
	onPage string // the page that is read: its block and first row
	above  int    // lines of the body over its window, at its lowest
	up     int    // lines scrolled up
	side   int    // width of the session beside the page; 0 where there is no room
}

// walkOpened is a session read from the data file.
type walkOpened struct{ s *session.Session }

// walkWritten is what a write of the walk brought.
type walkWritten struct {
	entries []model.Entry
	reply   walk.Reply
}

// New makes the screen of a begun session. A fresh one was begun just now by this program; any other
// is resumed: its state is asked anew and its ledger counted.
func New(e *screen.Env, desk session.Desk, session string, fresh bool) screen.Screen {
	return &walkScreen{Base: sparing(e), desk: desk, session: session, fresh: fresh}
}

// sparing is the base of a screen that draws no gauges.
func sparing(e *screen.Env) screen.Base {
	b := e.Base()
	b.MachinesOnly = true
	return b
}

// Init reads the session.
func (v *walkScreen) Init() tea.Cmd {
	desk, id, now, fresh := v.desk, v.session, v.Env.Now, v.fresh
	return v.Write(func(screen.Store) (any, error) {
		if fresh {
			s, err := desk.Open(id)
			return walkOpened{s}, err
		}
		s, err := desk.Resume(id, now())
		return walkOpened{s}, err
	})
}

// EverySecond is true while a wait runs.
func (v *walkScreen) EverySecond() bool {
	return v.s != nil && slices.ContainsFunc(v.s.W.Waits, func(r walk.Running) bool { return r.Until.After(v.Now.Add(-2 * time.Second)) })
}

// HasInner tells that something is typed or said that is not written yet.
func (v *walkScreen) HasInner() bool {
	return v.reason.Open || v.field.Text != "" || v.sure != "" || len(v.state.said) > 0
}

// Leave pauses the session that is left: whoever opens it next need not ask who else is at it. Left a second time
// before that was written, or with nothing to pause, it is just left.
func (v *walkScreen) Leave() tea.Cmd {
	if v.s == nil || v.busy || v.going || v.s.W.Ended || v.s.W.Prompt(v.Now).Kind == walk.AskResume {
		return nil
	}
	v.going = true
	return v.say("pause")
}

// TakesText tells that letters are an answer here and no keys.
func (v *walkScreen) TakesText() bool {
	return v.reason.Open || v.s != nil && (v.mode() == typeText || len(v.answers()) > 0 || v.stateRows() != nil)
}

// mode is how the current prompt is answered.
type mode int

const (
	justEnter mode = iota
	pickOption
	typeNumber
	typeText
)

func (v *walkScreen) prompt() walk.Prompt { return v.s.W.Prompt(v.Now) }

func (v *walkScreen) mode() mode { return modeOf(v.prompt(), v.s.W.Begun.Settings) }

func modeOf(p walk.Prompt, settings map[string]string) mode {
	switch p.Kind {
	case walk.AskState:
		switch {
		case p.Variable == model.Heat:
			return typeNumber
		case p.Variable == model.Power && settings["plug-tag"] != "":
			return typeText
		}
		return pickOption
	case walk.AskLedger, walk.AskZero:
		if strings.HasPrefix(p.Item, "flag:") {
			return justEnter
		}
		if p.Kind == walk.AskLedger {
			return typeText
		}
		return typeNumber
	case walk.AskEnd, walk.AskFind:
		return pickOption
	case walk.AskLack:
		if p.Item == "" {
			return typeText
		}
		return pickOption
	case walk.AskStep:
		return modeOfStep(p.Step, settings)
	}
	return justEnter
}

func modeOfStep(s *model.Step, settings map[string]string) mode {
	switch s.Gate {
	case model.State:
		if s.Variable == model.Power && s.Value == model.Unplugged && settings["plug-tag"] != "" {
			return typeText
		}
		return pickOption
	case model.Choice:
		return pickOption
	case model.Measure, model.Count:
		return typeNumber
	case model.Note:
		return typeText
	}
	return justEnter
}

// Title names the machine and the session, and how far it is.
func (v *walkScreen) Title() (string, string) {
	if v.s == nil {
		return "care session", ""
	}
	hands, waited := v.s.W.Minutes()
	left, at := v.s.Machine.Name+"   "+v.s.W.Title, v.s.W.Position()
	right := fmt.Sprintf("%s %s %.0f min so far%s", at, v.Env.Theme.Plain("·"), hands+waited, v.left())
	if room := v.W - len(" ") - theme.Width(left) - len("  "); room < len("step 100 of 100 · 100 min so far, 100 left") {
		right = at // the title whole before the minutes; the same through the whole session
	}
	return left, right
}

// left is the time still ahead, once the blocks are known.
func (v *walkScreen) left() string {
	if m := v.s.W.Left(); m > 0 {
		return fmt.Sprintf(", %.0f left", m)
	}
	return ""
}

// Keys are those that work on the current prompt.
func (v *walkScreen) Keys() []screen.Key {
	switch {
	case v.s == nil || v.busy:
		return nil
	case v.reason.Open:
		return []screen.Key{screen.Shown("enter", "write it", ""), screen.Shown("esc", "never mind", "")}
	}
	return append(v.promptKeys(), screen.On("?", "", "this page, where nothing is typed yet", screen.Sends(screen.AskHelp{})).
		When(v.TakesText() && v.field.Text == ""))
}

func (v *walkScreen) promptKeys() []screen.Key {
	if v.sure != "" {
		return []screen.Key{screen.Shown("y", "so it is", "take the answer, with what it leads to"), screen.Shown("esc", "never mind", "")}
	}
	p := v.prompt()
	if rows := v.stateRows(); rows != nil {
		return v.stateKeys(rows)
	}
	if p.Kind == walk.AskStep {
		if ks := v.pageKeys(p); ks != nil {
			return ks
		}
	}
	ks := v.waitKeys()
	switch v.mode() {
	case pickOption:
		ks = append(ks, screen.Shown("up/down", "choose", "move to an answer; its number does the same"), screen.Shown("enter", "answer", ""))
	case typeNumber, typeText:
		ks = append(ks, screen.Shown("enter", "answer", ""))
	default:
		if p.Kind != walk.AskWait {
			ks = append(ks, screen.Shown("enter", enterDoes(p), ""))
		}
	}
	return append(append(ks, v.viewKeys()...), v.verbKeys(p, v.ctrl())...)
}

// ctrl is what goes before the letter of a command, where letters are answers.
func (v *walkScreen) ctrl() string {
	if v.TakesText() {
		return "ctrl+"
	}
	return ""
}

// says is the deed of a command that is said as a word.
func (v *walkScreen) says(word string) screen.Deed {
	return func(screen.Press) tea.Cmd { return v.say(word) }
}

// asks is the deed of a command that wants a reason or a remark.
func (v *walkScreen) asks(verb, ask string) screen.Deed {
	return screen.Do(func() { v.reason = screen.Line{Open: true, Verb: verb, Ask: ask} })
}

// backKey takes the last answer back.
func (v *walkScreen) backKey(ctrl string) screen.Key {
	return screen.On(ctrl+"b", "back", "take the last answer back", v.says("back"))
}

// viewKeys are those that change what is seen, and nothing else.
func (v *walkScreen) viewKeys() []screen.Key {
	ks := []screen.Key{screen.Shown("pgup", "read above", "pgup and pgdn show what does not fit").When(v.above > 0)}
	p := v.prompt()
	if p.Kind != walk.AskStep {
		return ks
	}
	c := v.s.Context(v.Now)
	does, says := "page by page", "walk this block page by page, as a practised hand does"
	if v.s.W.InPages(c) {
		does, says = "step by step", "walk this block step by step, each in full"
	}
	return append(ks,
		screen.On(v.ctrl()+"g", "materials", "how each polymer is dried, what it wears and gives off", screen.Opens(screen.ToMaterials{})).When(p.Block.ID == session.DryFilament),
		screen.On(v.ctrl()+"v", does, says, func(screen.Press) tea.Cmd {
			if v.s.Flip(v.Now) {
				return v.settle()
			}
			return nil
		}).When(v.s.W.InPages(c) || v.s.W.CanPages(c)),
		screen.On("!", "cautions", "the cautions of this page in full", screen.Do(func() { v.whole = !v.whole })).
			When(v.hasBriefs() && (v.mode() != typeText || len(v.answers()) > 0)))
}

// cautionsNow are those of the page, or of the step where it stands by itself.
func (v *walkScreen) cautionsNow() []walk.Shown {
	if pg := v.page(); pg != nil {
		return append(slices.Clone(pg.Cautions), pg.Beside...)
	}
	return v.s.W.ShownCautions(v.s.Context(v.Now))
}

// hasBriefs tells whether a caution stands here as its brief.
func (v *walkScreen) hasBriefs() bool {
	return slices.ContainsFunc(v.cautionsNow(), func(c walk.Shown) bool { return !c.Whole })
}

// pageKeys are the keys of the rows of a page, or of what stands alone; nil where neither is asked.
func (v *walkScreen) pageKeys(p walk.Prompt) []screen.Key {
	var ks []screen.Key
	row, _ := rowNow(v.page())
	switch as := v.answers(); {
	case row != nil && v.unread():
		ks = append(ks, screen.Shown("space", "read on", "a page passes when its last row was in view; enter reads on too"))
	case row != nil && row.Step.Typed():
		ks = append(ks, screen.Shown("enter", "take it", ""))
	case row != nil:
		if row.Seen != "" {
			ks = append(ks, screen.Shown("space", "this row", "this row is done as it is written; a foot pedal sends it too"))
			if row.Rank == model.PlainLine {
				ks = append(ks, screen.Shown("enter", "all as written", "the rows left are done as they are written, up to one marked *"))
			}
		}
		if n := len(row.Step.Options); n > 0 {
			ks = append(ks, screen.Shown(fmt.Sprintf("1-%d", n), "another answer", ""))
		}
	case v.s.W.Ordinary(v.s.Context(v.Now)) != "":
		label := "space"
		if p.Step.Rank() == model.PlainLine {
			label = "enter"
		}
		ks = append(ks, screen.Shown(label, "as written", "done as it is written; space and a foot pedal do the same"))
		if n := len(p.Step.Options); n > 0 {
			ks = append(ks, screen.Shown(fmt.Sprintf("1-%d", n), "another answer", ""))
		}
	case len(as) > 0:
		for _, a := range as {
			ks = append(ks, screen.Shown(string(a.letter), a.word, ""))
		}
		ks = append(ks, v.backKey(""))
		verbs := slices.DeleteFunc(v.verbKeys(p, v.ctrl()), func(k screen.Key) bool { return k.Help().Key == "ctrl+b" })
		return append(append(ks, v.viewKeys()...), verbs...)
	default:
		return nil
	}
	return append(append(ks, v.viewKeys()...), v.verbKeys(p, v.ctrl())...)
}

func enterDoes(p walk.Prompt) string {
	if p.Kind == walk.AskResume {
		return "go on"
	}
	return "done"
}

// verbKeys are the commands; ctrl goes before the letters of those that work where letters are answers.
func (v *walkScreen) verbKeys(p walk.Prompt, ctrl string) []screen.Key {
	plain := ctrl == ""
	ks := []screen.Key{screen.On("x", "cut short", "end the wait early; the reason goes on record", v.asks("cut", "why is the wait cut short")).
		When(plain && p.Kind == walk.AskWait && p.Wait.Uncuttable() == "")}
	if p.Kind == walk.AskStep {
		ks = append(ks, v.stepKeys(p, ctrl)...)
	} else {
		ks = append(ks, screen.On("h", "hot", "it is hot, or cannot be read", v.says("hot")).When(plain && p.Kind == walk.AskState && p.Variable == model.Heat), v.backKey(ctrl))
	}
	return append(ks,
		screen.On(ctrl+"o", "plan again", "plan the rest again, without what was logged elsewhere meanwhile", v.says("plan")).
			When((p.Kind == walk.AskStep || p.Kind == walk.AskWait) && len(v.s.W.Late(v.s.Machine)) > 0),
		screen.On(ctrl+"n", "note", "a remark beside the step", v.asks("note", "note")),
		screen.On(ctrl+"p", "pause", "leave the session begun; it asks the state when you come back", v.says("pause")),
		screen.On("G", "give up", "end the session unfinished: what is out stays on the bench until a session closes it",
			v.asks("give up", "why is the session given up (what is out stays on the bench until closed)")).When(plain))
}

// stepKeys are the commands at a step.
func (v *walkScreen) stepKeys(p walk.Prompt, ctrl string) []screen.Key {
	plain := ctrl == ""
	_, _, wrong := v.s.W.Correctable()
	return []screen.Key{
		screen.On(ctrl+"f", "fails", "it cannot be done as said: what its file says then follows", v.says("fail")).When(p.Step.Gate != model.Choice && p.Step.Miss != nil),
		screen.On("r", "not read", "", v.says("not read")).When(plain && p.Step.Optional),
		screen.On("e", "correction", screen.ItIsRight, v.says("correction")).When(plain && v.counter()),
		screen.On("a", "new counter", screen.ItIsNew, v.says("new counter")).When(plain && v.counter()),
		screen.On("e", "record is wrong", "the number on record of this machine is wrong: say the right one", v.asks("set", "how many this machine has")).When(plain && wrong),
		v.backKey(ctrl),
		screen.On(ctrl+"x", "skip", "pass over this step; the reason goes on record", v.asks("skip", "why is this step skipped")).When(v.s.W.CanSkip()),
		screen.On(ctrl+"l", "leave out", "leave the rest of this procedure out, with a reason", v.asks("leave", "why is the rest of this procedure left out")).When(v.s.W.CanLeave()),
	}
}

// counter tells whether what was typed of a counter was refused, and may be true all the same.
func (v *walkScreen) counter() bool {
	_, ok := v.s.W.Counter(v.s.Context(v.Now))
	return ok
}

// Help says more for the help page.
func (v *walkScreen) Help() []screen.HelpPart {
	return []screen.HelpPart{
		{Head: "gates", Lines: []string{
			"confirm\tenter, once it is done; holding the key passes nothing",
			"state\tchoose how it is; only the right answer passes",
			"unplugged\ttype the id on the tag of the plug in your hand, where it has one",
			"wait\truns by the clock, also while the program is closed",
			"number\ttype what you read or count; what is out of range says what to do, and the same answer given twice is taken for true",
		}},
		{Head: "state line", Lines: []string{"unknown?\tmust be asked before anything counts on it"}},
		{Head: "where limits come from", Lines: []string{"each file of the library says so: oilcan procedures show ID"}},
	}
}

// nextRoom is how many lines what comes next may take on a low screen.
const nextRoom = 2

// nextLines are what comes next, in at most room lines: whole where they have room, else the first cut.
func (v *walkScreen) nextLines(room int) []string {
	t := v.Env.Theme
	head := "next"
	var out []string
	for _, next := range v.s.W.Next(1 + v.H/20) {
		lines := theme.Wrap(t.Plain(theme.Safe(next)), max(8, v.W-14))
		if len(out)+len(lines) > room {
			if len(out) > 0 || room < 1 {
				break
			}
			lines = []string{t.Trunc(strings.Join(lines, " "), max(8, v.W-12))}
		}
		for i, l := range lines {
			if i > 0 {
				l = "  " + l // so that the second line is not taken for the step after
			}
			out = append(out, fmt.Sprintf(" %-9s %s", head, l))
			head = ""
		}
	}
	return out
}
