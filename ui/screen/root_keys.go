package screen

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// holdGap is the time between two events of one key below which the key counts as held. Key repeat
// starts after a quarter of a second or more and then comes every 25 to 50 ms (common practice of
// desktop settings), so the first repeat of a slow set-up can pass as a second press; 350 ms covers
// it.
const holdGap = 350 * time.Millisecond

// repeatGap is the time below which only key repeat, and no finger, sends a key twice.
const repeatGap = 100 * time.Millisecond

// heldKeys knows the last key and when it came.
type heldKeys struct {
	key string
	at  time.Time
}

// Press makes a key press, and remembers it. Keys without a time are each pressed afresh; a key
// within a burst is never taken as fresh.
func (h *heldKeys) press(k tea.KeyMsg, at time.Time, burst bool) Press {
	p := Press{Msg: k, Again: burst}
	if !at.IsZero() && !h.at.IsZero() {
		p.Gap = at.Sub(h.at)
		if p.Same = k.String() == h.key; p.Same {
			p.Again = burst || p.Gap < holdGap
			p.Held = p.Gap < repeatGap
		}
	}
	h.key, h.at = k.String(), at
	return p
}

// key takes what one read of the terminal brought. Outside text fields a paste is dropped and a
// burst taken rune by rune; in them, and where the first rune begins one, both go in whole, as one
// row of safe text.
func (r *Root) key(msg Stamped) tea.Cmd {
	k := msg.Key
	if k.Type == tea.KeyCtrlC {
		return r.quit()
	}
	if len(r.stack) == 0 || r.data == nil || layout(r.w, r.h).small {
		return nil // what cannot be seen cannot be answered
	}
	if r.Top().TakesText() || r.begins(k) {
		return r.textKey(msg)
	}
	if k.Paste {
		return nil
	}
	if k.Type != tea.KeyRunes || len(k.Runes) <= 1 {
		return r.press(r.held.press(k, msg.At, false))
	}
	var cmds []tea.Cmd
	for i, c := range k.Runes {
		one := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{c}, Alt: k.Alt}
		cmds = append(cmds, r.press(r.held.press(one, msg.At, i > 0)))
		if r.Top().TakesText() {
			break // what follows was typed for another screen
		}
	}
	return tea.Batch(cmds...)
}

// textKey takes a key for a text field.
func (r *Root) textKey(msg Stamped) tea.Cmd {
	k := msg.Key
	if k.Type == tea.KeyRunes {
		if k = oneLine(k); len(k.Runes) == 0 {
			return nil
		}
	}
	return r.press(r.held.press(k, msg.At, false))
}

// oneLine is what a burst or a paste brings into a field.
func oneLine(k tea.KeyMsg) tea.KeyMsg {
	text := theme.Safe(strings.Trim(string(k.Runes), "\r\n"))
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Alt: k.Alt}
}

// begins tells whether a burst or a paste begins as a key does that begins what is typed.
func (r *Root) begins(k tea.KeyMsg) bool {
	return k.Type == tea.KeyRunes && slices.ContainsFunc(r.Keys(), func(of Key) bool {
		return of.begins && of.takes(Press{Msg: oneLine(k)})
	})
}

// Press is one key: the root's own first, then the top screen's.
func (r *Root) press(p Press) tea.Cmd {
	r.notice = ""
	top := r.Top()
	inner, ok := top.(Inner)
	busy := ok && inner.HasInner()
	switch key := p.Key(); {
	case key == "ctrl+z":
		return tea.Suspend
	case key == "f1", key == "?" && !top.TakesText():
		return r.help()
	case r.status != "":
		// what is pressed was meant for what stood there before the error came
		if key == "esc" {
			r.status = ""
		}
		return nil
	case key == "esc" && !busy && len(r.stack) > 1:
		return r.leave()
	case key == "q" && len(r.stack) == 1 && !busy && !top.TakesText():
		return r.quit()
	}
	return r.deliver(len(r.stack)-1, p)
}

// leave goes back from the top screen, once it has written what it leaves behind.
func (r *Root) leave() tea.Cmd {
	if l, ok := r.Top().(Leaver); ok {
		if cmd := l.Leave(); cmd != nil {
			return cmd
		}
	}
	return r.pop(nil)
}

// help opens the help page of the top screen, or closes it.
func (r *Root) help() tea.Cmd {
	if isHelp(r.Top()) {
		return r.pop(nil)
	}
	return r.push(newHelp(r.env, r.Top()))
}
