package walk

import (
	"errors"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model/walk"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
)

// Update takes a message, and draws what View shows.
func (v *walkScreen) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	cmd := v.update(msg)
	v.draw()
	return v, cmd
}

func (v *walkScreen) update(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case screen.Result:
		return v.result(msg)
	case screen.Press:
		return v.press(msg)
	case screen.WorkedOut:
		v.takeWorked(msg.Value)
	case screen.Tick:
		before := v.Now
		v.Take(msg)
		return v.tick(before)
	case screen.DataChanged:
		v.Take(msg)
		if v.s != nil {
			if m := msg.Data.Machine(v.s.W.MachineID); m != nil {
				v.s.Machine = m
			}
		}
	}
	return nil
}

func (v *walkScreen) result(r screen.Result) tea.Cmd {
	if v.Stale(r) {
		return nil
	}
	v.busy = false
	if errors.Is(r.Err, store.ErrStale) {
		return screen.Send(screen.Pop{}) // another terminal carried it on; the root says so
	}
	if r.Err != nil {
		v.ahead, v.wentBack = nil, false
		return nil // the root shows it
	}
	switch x := r.Value.(type) {
	case walkOpened:
		v.s, v.note = x.s, x.s.Lately
	case walkWritten:
		if err := v.s.Written(x.entries); err != nil {
			return screen.Send(screen.Failed{Err: err})
		}
		// what follows by itself does not take back what was said
		v.note = strings.TrimSpace(v.note + " " + x.reply.Note)
		v.at, v.refusedSince = -1, false
		if x.reply.Refusal != "" {
			v.field, v.ahead = screen.Field{}, nil // typed anew, not added to
		}
		if x.reply.Paused {
			return screen.Send(screen.Pop{})
		}
	}
	return v.settle()
}

// settle writes what needs no person, or goes to the summary where the session has ended.
func (v *walkScreen) settle() tea.Cmd {
	if v.s.W.Ended {
		return screen.Send(screen.Open{To: screen.ToSummary{Session: v.s.W.ID}, Instead: true})
	}
	r, err := v.s.Next(v.Now)
	if err != nil {
		return screen.Send(screen.Failed{Err: err})
	}
	v.freshPrompt()
	write := v.write(r)
	v.catchUp()
	return write
}

// freshPrompt empties field and choice where the prompt is another one.
func (v *walkScreen) freshPrompt() {
	p := v.prompt()
	key := string(p.Kind) + v.s.W.Position() + p.Item + string(p.Variable)
	if p.Step != nil {
		key += p.Block.ID + "/" + p.Step.Name
	}
	if key != v.key {
		// nothing is chosen for the person
		v.key, v.field, v.aside, v.at, v.up = key, screen.Field{}, false, -1, 0
		v.sure, v.state, v.worked, v.leaving = unsure{}, stateForm{}, worked{}, leaving{}
		if v.listed() {
			v.up = fromTop
		}
		if v.wentBack && v.stateRows() != nil && v.Now.Sub(v.statedAt) < statedFor {
			v.state.States = v.stated // one of them was wrong, not all
		}
		v.wentBack = false
	}
	pg := v.page()
	if pg == nil || v.told() {
		v.onPage = ""
	} else if on := pg.Block.ID + "/" + pg.Rows[0].Step.Name; on != v.onPage {
		v.onPage, v.up = on, fromTop // its cautions are read first
	}
}

// write sends a reply's facts to the data file.
func (v *walkScreen) write(r walk.Reply) tea.Cmd {
	if len(r.Facts) == 0 {
		return nil
	}
	v.busy = true
	a := v.s.Action(r, v.Now)
	return v.Write(func(s screen.Store) (any, error) {
		entries, err := s.Append(a)
		return walkWritten{entries: entries, reply: r}, err // the machine comes with the bench
	})
}

// tick rings for waits that ran out, and goes on where one stood in the way.
func (v *walkScreen) tick(before time.Time) tea.Cmd {
	if v.s == nil || v.busy || before.IsZero() {
		return nil
	}
	var ring tea.Cmd
	if len(v.s.W.Elapsed(v.rung, v.Now)) > 0 && !v.rung.IsZero() {
		ring = screen.Send(screen.Ring{})
	}
	v.rung = v.Now
	if v.reason.Verb == "cut" && v.prompt().Kind != walk.AskWait {
		v.reason = screen.Line{} // it has run out by itself
	}
	if v.prompt().Kind == walk.AskNone && v.reason.Verb != "fault" {
		return tea.Batch(ring, v.settle())
	}
	return ring
}

// press takes a key: what is in the list, or a letter of what is typed. Letters that arrive in one
// burst are one answer each while the state is asked.
func (v *walkScreen) press(p screen.Press) tea.Cmd {
	switch {
	case v.s == nil:
		return nil
	case v.busy:
		v.keep(p)
		return nil
	}
	if burst := p.Msg.Type == tea.KeyRunes && len(p.Msg.Runes) > 1 && !p.Msg.Paste; burst &&
		v.stateRows() != nil && !v.reason.Open {
		for _, r := range p.Msg.Runes {
			one := p
			one.Msg = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: p.Msg.Alt}
			if cmd := v.pressOne(one); cmd != nil {
				return cmd
			}
		}
		return nil
	}
	return v.pressOne(p)
}

// oneLook is how soon a key that has just passed one step cannot pass another, nor an enter of habit
// behind it.
const oneLook = 700 * time.Millisecond

// passesAlone tells whether a key would pass what stands by itself: a hold, or a step of its own.
func (v *walkScreen) passesAlone(p screen.Press) bool {
	switch key := p.Key(); {
	case v.stateRows() != nil || v.reason.Open || v.sure.Leads != "" || v.leaving.ask != "":
		return false
	case len(v.answers()) > 0:
		return slices.ContainsFunc(v.answers(), func(a answer) bool { return string(a.letter) == key })
	default:
		return v.prompt().Kind == walk.AskStep && v.page() == nil && !v.typed() &&
			(key == "enter" || key == " ")
	}
}

// oneThought is how soon enter behind a figure that is no answer belongs to it.
const oneThought = time.Second

func (v *walkScreen) pressOne(p screen.Press) tea.Cmd {
	missed, took := v.missed, v.took
	v.missed, v.took = false, false
	if p.Same && p.Gap > 0 && p.Gap < oneLook && v.passesAlone(p) {
		return screen.Send(screen.Notice{Text: "Read it first: the key came twice."})
	}
	if p.Key() == "enter" && took && p.Gap > 0 && p.Gap < oneLook {
		return screen.Send(screen.Notice{
			Text: "Enter belonged to the key before it, which wants none: look at what stands here now."})
	}
	if missed && p.Key() == "enter" && p.Gap < oneThought {
		// it was to confirm that number, and must not pass something else
		return screen.Send(
			screen.Notice{Text: "That number is none of the answers: choose one that stands here."})
	}
	cmd, taken := screen.Act(v.Keys(), p)
	switch {
	case taken:
		return cmd
	case v.reason.Open:
		v.reason.Text.Press(p.Msg)
		return nil
	case v.typing() && !p.Msg.Paste && v.field.Press(p.Msg):
		return nil
	}
	return v.wrongKey(p)
}

// pick moves to an answer.
func (v *walkScreen) pick(key string, n int) {
	switch {
	case key == "up" || key == "k":
		v.at = max(0, v.at-1)
	case key == "down" || key == "j":
		v.at = min(n-1, v.at+1)
	case screen.DigitOf(key) <= n:
		v.at = screen.DigitOf(key) - 1
	}
}

// say says an answer or a word of command.
func (v *walkScreen) say(text string) tea.Cmd { return v.judge(session.Answer{Text: text}) }

// judge judges what was said and writes what follows. What leads elsewhere says where first, and
// wants y.
func (v *walkScreen) judge(said session.Answer) tea.Cmd {
	ver, err := v.s.Judge(said, v.Now)
	v.sure = unsure{}
	if ver.Leads != "" {
		v.sure, v.note = unsure{said, ver.Leads}, ""
		return nil
	}
	return v.reply(ver.Reply, err)
}

// unsure is an answer that leads elsewhere, until y takes it.
type unsure struct {
	said  session.Answer
	Leads string
}

// reply writes what an answer brought, or says why it did not pass.
func (v *walkScreen) reply(r walk.Reply, err error) tea.Cmd {
	if err != nil {
		return screen.Send(screen.Failed{Err: err})
	}
	v.note = ""
	if len(r.Facts) == 0 && r.Refusal != "" {
		v.wentBack = false
		v.field.Refused()
		v.refusedSince = true
		return screen.Send(screen.Notice{Text: r.Refusal})
	}
	return v.write(r)
}

// giveUp is the command that ends the session; any other goes by its word.
const giveUp = "give up"

// takeReason says the command with the reason typed.
func (v *walkScreen) takeReason() tea.Cmd {
	text := strings.TrimSpace(v.reason.Text.Text)
	if text == "" {
		return screen.Send(screen.Notice{Text: "Type it first, then enter; esc leaves it."})
	}
	verb := v.reason.Verb
	if verb == whenWord {
		return v.takeWhen(text)
	}
	v.reason = screen.Line{}
	if verb == giveUp {
		return v.reply(v.s.GiveUp(text, v.Now))
	}
	return v.say(verb + " " + text)
}
