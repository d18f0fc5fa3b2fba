package screen

import (
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Key is one thing keys do on a screen: which keys, what is written on them, the words for it, and
// the deed. What a screen gives as its Keys is all there is: the key line and the help page show
// it, and Act does it, so that a key that is not shown does nothing.
type Key struct {
	key.Binding
	says   string // a sentence for the help page
	afresh bool   // held down or in a burst it does nothing
	begins bool   // it begins what is typed, with all that came with it
	do     Deed   // nil: the root does it, or the field that is typed into
}

// Deed is what a key does.
type Deed func(Press) tea.Cmd

// On makes a key of its label ("enter", "c"), one or two words for the key line (none keep it off
// the line), a sentence for the help page (none takes the words), and what it does. keys are the
// names of the keys where the label is none.
func On(label, does, says string, do Deed, keys ...string) Key {
	if len(keys) == 0 {
		keys = []string{label}
	}
	for i, k := range keys {
		if k == "space" {
			keys[i] = " "
		}
	}
	return Key{Binding: key.NewBinding(key.WithKeys(keys...), key.WithHelp(label, does)),
		says: says, do: do}
}

// Shown is a key that the root or a field takes: a screen only has words for it.
func Shown(label, does, says string) Key { return On(label, does, says, nil) }

// When leaves the key in the list only where it works.
func (k Key) When(works bool) Key {
	k.SetEnabled(works)
	return k
}

// Afresh is the key where it passes or writes something: held down, in a burst or pasted it does
// nothing.
func (k Key) Afresh() Key {
	k.afresh = true
	return k
}

// Begins is the key where it is the first of what is typed: of a burst or a paste that begins with
// it the deed is given all, for the rest of a number must not be lost.
func (k Key) Begins() Key {
	k.begins = true
	return k
}

// takes tells whether a press is one of this key.
func (k Key) takes(p Press) bool {
	name := p.Key()
	if k.begins && p.Msg.Type == tea.KeyRunes && !p.Msg.Alt && len(p.Msg.Runes) > 0 {
		name = string(p.Msg.Runes[:1])
	}
	return k.do != nil && k.Enabled() && slices.Contains(k.Keys(), name)
}

// But is the key by some of its keys only.
func (k Key) But(keys ...string) Key {
	k.SetKeys(keys...)
	return k
}

// Then does something more once the key has done its deed.
func (k Key) Then(more func()) Key {
	do := k.do
	k.do = func(p Press) tea.Cmd {
		cmd := do(p)
		more()
		return cmd
	}
	return k
}

// label is what is written on the key.
func (k Key) label() string { return k.Help().Key }

// does is the word or two of the key line.
func (k Key) does() string { return k.Help().Desc }

// Act does what a key does, and tells whether it is in the list.
func Act(ks []Key, p Press) (cmd tea.Cmd, taken bool) {
	for _, k := range ks {
		switch {
		case !k.takes(p):
		case k.afresh && !p.Passes():
			return nil, true
		default:
			return k.do(p), true
		}
	}
	return nil, false
}

// maxNamed is how many keys are named where a wrong one was pressed; the help page has them all.
const maxNamed = 4

// Wrong answers a key that is not in the list: it does nothing, and these do.
func Wrong(ks []Key, p Press) tea.Cmd {
	if p.Msg.Paste {
		return Send(Notice{Text: "Nothing is pasted here: press or type it."})
	}
	var does []string
	for _, k := range ks {
		if k.Enabled() && k.does() != "" && k.label() != "" && len(does) < maxNamed {
			does = append(does, k.label()+" "+k.does())
		}
	}
	text := keyName(p) + " does nothing here"
	if len(does) > 0 {
		text += ": " + strings.Join(does, ", ")
	}
	return Send(Notice{Text: text + "."})
}

// keyName is what a key is called.
func keyName(p Press) string {
	if p.Msg.Type == tea.KeySpace {
		return "space"
	}
	return p.Key()
}

// Do is a deed that asks for nothing more.
func Do(f func()) Deed {
	return func(Press) tea.Cmd { f(); return nil }
}

// Sends is a deed that sends a message.
func Sends(m tea.Msg) Deed {
	return func(Press) tea.Cmd { return Send(m) }
}

// DigitKeys are the keys 1 to n; there are nine.
func DigitKeys(n int) []string {
	var out []string
	for i := 1; i <= min(n, 9); i++ {
		out = append(out, strconv.Itoa(i))
	}
	return out
}

// DigitOf is the number on a digit key, 0 for any other.
func DigitOf(key string) int {
	if len(key) != 1 || key[0] < '1' || key[0] > '9' {
		return 0
	}
	return int(key[0] - '0')
}

// Back is esc where the root goes back.
var Back = Shown("esc", "back", "")

// moving are the keys that move about or look: they are no next action.
var moving = []string{"up", "down", "k", "j", "pgup", "pgdown", "home", "end", "tab", "?", "f1", "u",
	"esc"}

// Moving tells whether a key only moves about, looks, undoes or goes back: what was just saved can
// still be undone behind it. So does one of more.
func Moving(key string, more ...string) bool {
	return slices.Contains(moving, key) || slices.Contains(more, key)
}
