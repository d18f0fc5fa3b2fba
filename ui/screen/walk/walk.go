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

// walkScreen takes a person through one care session, a gate at a time. What a person answers is
// judged in Update and written in a command; the screen moves on only when the write has answered.
type walkScreen struct {
	screen.Base
	desk    session.Desk
	session string
	fresh   bool // just begun here: nothing to ask anew
	s       *session.Session

	field    screen.Field // what is typed
	at       int          // the option chosen
	key      string       // what the field and the option belong to
	reason   screen.Line  // a reason being typed
	busy     bool         // a write is on its way
	took     bool         // the last key was an answer that is taken without enter
	missed   bool         // the last key was a number that is no answer
	going    bool         // it is being left
	leaving  leaving
	ahead    []screen.Press // keys typed meanwhile
	aside    bool           // what is typed was left: letters are keys
	sure     unsure
	worked   worked // what a calculator gave for what is asked
	state    stateForm
	stated   session.States // as it was told last on this screen, for what is taken back at once
	statedAt time.Time
	wentBack bool   // the last answer is being taken back
	whole    bool   // cautions are shown in full
	note     string // what the last answer brought beside
	// an answer was refused since the refusal that the session keeps: what is said of it stands alone
	refusedSince bool
	rung         time.Time
	onPage       string // the page that is read: its block and first row
	above        int    // lines of the body over its window, at its lowest
	up           int    // lines scrolled up
	drawn        string // what View shows
	side         int    // width of the session beside the page; 0 where there is no room
}

// walkOpened is a session read from the data file.
type walkOpened struct{ s *session.Session }

// walkWritten is what a write of the walk brought.
type walkWritten struct {
	entries []model.Entry
	reply   walk.Reply
}

// New makes the screen of a begun session. A fresh one was begun just now by this program; any
// other is resumed: its state is asked anew and its ledger counted.
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
	return v.s != nil && slices.ContainsFunc(v.s.W.Waits, func(r walk.Running) bool {
		return r.Until.After(v.Now.Add(-2 * time.Second))
	})
}

// HasInner tells that something is typed or said that is not written yet.
func (v *walkScreen) HasInner() bool {
	if v.leaving.ask != "" || v.leftOn() != "" {
		return true // or it goes on by itself, and esc asks first
	}
	if v.s != nil && v.stateRows() != nil {
		return v.state.Any() || v.field.Text != ""
	}
	return v.reason.Open || v.sure.Leads != "" || v.typing()
}

// Leave pauses the session that is left. With nothing to pause it is just left.
func (v *walkScreen) Leave() tea.Cmd {
	if !v.pauses() {
		return nil
	}
	return v.pauseNow(screen.Press{})
}

// TakesText tells that letters are text or answers here, and no keys.
func (v *walkScreen) TakesText() bool {
	return v.leaving.ask == "" && (v.reason.Open || v.s != nil && (v.typing() || len(v.answers()) > 0 ||
		v.stateRows() != nil))
}

// typed tells whether what is asked is answered by typing.
func (v *walkScreen) typed() bool { m := v.mode(); return m == typeNumber || m == typeText }

// typing tells whether letters are text of what is typed: it was not left, and nothing stands
// before it.
func (v *walkScreen) typing() bool {
	switch {
	case v.s == nil || v.busy || v.reason.Open || v.sure.Leads != "" || v.leaving.ask != "":
		return false
	case v.stateRows() != nil:
		return v.lettersOfState(v.state.Now(v.stateRows())) == nil
	}
	row, _ := rowNow(v.page())
	return v.typed() && !v.aside && (row == nil || !v.unread())
}

// drawnField is what is typed, with its cursor while it is.
func (v *walkScreen) drawnField() string {
	if v.aside {
		return theme.Safe(v.field.Text)
	}
	return v.field.Drawn(0)
}

// mode is how the current prompt is answered.
type mode int

const (
	justEnter mode = iota
	pickOption
	typeNumber
	typeText
)

func (v *walkScreen) prompt() walk.Prompt {
	p := v.s.W.Prompt(v.Now)
	if v.told() {
		p = v.toldPrompt(p)
	}
	return p
}

func (v *walkScreen) mode() mode {
	if v.told() {
		return v.toldMode()
	}
	return modeOf(v.prompt())
}

func modeOf(p walk.Prompt) mode {
	switch p.Kind {
	case walk.AskState:
		switch {
		case p.Variable == model.Heat || p.Variable == model.Vapour:
			return typeNumber
		case p.Tag:
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
		return modeOfStep(p)
	}
	return justEnter
}

func modeOfStep(p walk.Prompt) mode {
	switch p.Step.Gate {
	case model.State, model.Choice:
		if p.Tag {
			return typeText
		}
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
	if v.s.W.Telling() {
		return left, at // nobody works now
	}
	right := fmt.Sprintf("%s %s %s%s", at, v.Env.Theme.Plain("·"), soFar(hands+waited,
		v.s.W.Begun.Minutes), v.left())
	if room := v.W - len(" ") - theme.Width(left) - len("  "); room < len(
		"step 100 of 100 · 100 min so far, 100 left") {
		right = at // the title whole before the minutes; the same through the whole session
	}
	return left, right
}

// soFar is the time gone by, beside that there was where the session was chosen for it.
func soFar(gone, of float64) string {
	switch {
	case of == 0:
		return model.Minutes(gone) + " min so far"
	case gone >= of:
		return model.Minutes(of) + " min used up"
	}
	return model.Minutes(gone) + " of " + model.Minutes(of) + " min"
}

// left is the time still ahead, once the blocks are known.
func (v *walkScreen) left() string {
	m, of := v.s.W.Left(), v.s.W.Begun.Minutes
	hands, waited := v.s.W.Minutes()
	switch {
	case m <= 0:
		return ""
	case of > 0 && hands+waited >= of:
		return fmt.Sprintf(", %.0f to do", m)
	}
	return fmt.Sprintf(", %.0f left", m)
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
		{Head: "state line",
			Lines: []string{"unknown?\tmust be asked before anything counts on it"}},
		{Head: "where limits come from",
			Lines: []string{"each file of the library says so: oilcan procedures show ID"}},
	}
}

// nextRoom is how many lines what comes next may take on a low screen.
const nextRoom = 2

// nextLines are what comes next, in at most room lines: whole where they have room, else the first
// cut.
func (v *walkScreen) nextLines(room int) []string {
	t := v.Env.Theme
	head := "next"
	var out []string
	shared := 0 // of what comes next, what stands on this screen already
	for _, r := range v.s.W.Together() {
		if !r.Done && !r.Now {
			shared++
		}
	}
	all := v.s.W.Next(1 + v.H/20 + shared)
	for _, next := range all[min(shared, len(all)):] {
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
