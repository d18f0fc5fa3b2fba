package walk

import (
	"errors"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
)

// Update takes a message.
func (v *walkScreen) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Result:
		return v, v.result(msg)
	case screen.Press:
		return v, v.press(msg)
	case screen.Tick:
		before := v.Now
		v.Take(msg)
		return v, v.tick(before)
	case screen.DataChanged:
		v.Take(msg)
		if v.s != nil {
			if m := msg.Data.Machine(v.s.W.MachineID); m != nil {
				v.s.Machine = m
			}
		}
	}
	return v, nil
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
		v.ahead = nil
		return nil // the root shows it
	}
	switch x := r.Value.(type) {
	case walkOpened:
		v.s, v.note = x.s, x.s.Lately
	case walkWritten:
		if err := v.s.Written(x.entries); err != nil {
			return screen.Send(screen.Failed{Err: err})
		}
		v.note = strings.TrimSpace(v.note + " " + x.reply.Note) // what follows by itself does not take back what was said
		v.at = -1
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
	r, err := v.s.W.Auto(v.s.Context(v.Now))
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
		v.key, v.field, v.at, v.up, v.sure, v.state = key, screen.Field{}, -1, 0, "", stateForm{} // nothing is chosen for the person
	}
	pg := v.page()
	if pg == nil {
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
	if v.prompt().Kind == walk.AskNone {
		return tea.Batch(ring, v.settle())
	}
	return ring
}

// Press takes a key.
func (v *walkScreen) press(p screen.Press) tea.Cmd {
	if v.s == nil {
		return nil
	}
	if v.busy {
		v.keep(p)
		return nil
	}
	if v.reason.Open {
		return v.pressReason(p)
	}
	if v.sure != "" {
		return v.pressSure(p)
	}
	if cmd, taken := screen.Act(v.Keys(), p); taken {
		return cmd
	}
	pr := v.prompt()
	if rows := v.stateRows(); rows != nil && p.Key() != "pgup" && p.Key() != "pgdown" {
		return v.pressState(p, rows)
	}
	if pg := v.page(); pr.Kind == walk.AskStep && p.Key() != "pgup" && p.Key() != "pgdown" {
		if row, _ := rowNow(pg); row != nil {
			return v.pressRow(p, pg)
		}
		if as := v.answers(); len(as) > 0 {
			return v.pressAlone(p, as)
		}
		if cmd, ok := v.pressWritten(p, pr); ok {
			return cmd
		}
	}
	if pr.Kind == walk.AskWait {
		if cmd, ok := v.pressWait(p); ok {
			return cmd
		}
	}
	switch {
	case p.Key() == "pgup":
		v.up += max(1, v.H/2)
	case p.Key() == "pgdown":
		v.up = max(0, v.up-max(1, v.H/2))
	case p.Key() == "enter":
		if !p.Passes() {
			return nil
		}
		return v.enter(pr)
	case p.Key() == "esc":
		v.field = screen.Field{}
	case v.mode() == pickOption:
		v.pick(p.Key(), len(pr.Options))
	case v.mode() == typeText, v.mode() == typeNumber && (screen.Digits(p.Msg) || screen.Edits(p.Msg)):
		if !p.Msg.Paste {
			v.field.Press(p.Msg)
		}
	}
	return nil
}

// pick moves to an answer.
func (v *walkScreen) pick(key string, n int) {
	switch {
	case key == "up" || key == "k":
		v.at = max(0, v.at-1)
	case key == "down" || key == "j":
		v.at = min(n-1, v.at+1)
	case len(key) == 1 && key[0] >= '1' && int(key[0]-'0') <= n:
		v.at = int(key[0] - '1')
	}
}

// enter gives the answer that stands.
func (v *walkScreen) enter(p walk.Prompt) tea.Cmd {
	text := "ok"
	switch v.mode() {
	case pickOption:
		if v.at < 0 || v.at >= len(p.Options) {
			return screen.Send(screen.Notice{Text: "Choose first: its number, or up and down."})
		}
		text = p.Options[v.at]
	case typeNumber, typeText:
		if text = strings.TrimSpace(v.field.Text); text == "" {
			return nil
		}
		if p.Step != nil && p.Step.Gate == model.Note && looksLikeVerb(text) {
			text = "- " + text // a note that begins with a word of command is still a note
		}
	}
	if p.Kind == walk.AskWait || p.Kind == walk.AskNone {
		return nil
	}
	return v.say(text)
}

func looksLikeVerb(text string) bool {
	switch w, _, _ := strings.Cut(strings.ToLower(text), " "); w {
	case "pause", "back", "skip", "leave", "cut", "plan":
		return true
	}
	return false
}

// say judges an answer and writes what follows. One that leads elsewhere says where first, and wants y.
func (v *walkScreen) say(text string) tea.Cmd {
	if v.s.W.LeadsTo(v.s.Context(v.Now), text) != "" {
		v.sure, v.note = text, ""
		return nil
	}
	return v.reply(v.s.W.Answer(v.s.Context(v.Now), text))
}

// pressReason takes a key while a reason is typed.
func (v *walkScreen) pressReason(p screen.Press) tea.Cmd {
	switch p.Key() {
	case "esc":
		v.reason = screen.Line{}
		return nil
	case "enter":
		text := strings.TrimSpace(v.reason.Text.Text)
		if text == "" || !p.Passes() {
			return nil
		}
		verb := v.reason.Verb
		v.reason = screen.Line{}
		if verb == "give up" {
			return v.giveUp(text)
		}
		return v.say(verb + " " + text)
	}
	v.reason.Text.Press(p.Msg)
	return nil
}

func (v *walkScreen) giveUp(why string) tea.Cmd {
	r, err := v.s.W.GiveUp(v.s.Context(v.Now), why)
	if err != nil {
		return screen.Send(screen.Failed{Err: err})
	}
	return v.write(r)
}
