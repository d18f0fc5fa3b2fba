package screen

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// Field is one line of typed text with a cursor. The keys that edit are those of bubbles/textinput,
// which is made for each of them from the text: the text alone is the truth, and it is made safe
// again after each.
type Field struct {
	Text   string
	back   int  // runes between the cursor and the end
	stands bool // nobody typed the text: a figure typed takes the place of a figure
	bad    bool // the text was refused: what is typed takes its place
}

// Known is a field with what is known already, to be typed over.
func Known(text string) Field { return Field{Text: text, stands: true} }

// Refused marks the text as no answer: what is typed next takes its place, while a key that edits
// mends it.
func (f *Field) Refused() { f.bad = f.Text != "" }

// maxField is the longest text a field takes, in runes.
const maxField = 200

// editKeys are the keys that edit or move the cursor. The others of the engine belong to the
// screens: ctrl with a letter is a command of a session, and what the clipboard holds is pasted by
// the terminal.
var editKeys = []string{"left", "right", "ctrl+left", "ctrl+right", "alt+left", "alt+right",
	"alt+b", "alt+f", "home", "end",
	"backspace", "delete", "ctrl+w", "alt+backspace", "alt+d", "alt+delete", "ctrl+u", "ctrl+k"}

// Edits tells whether a key edits a field without typing into it.
func Edits(k tea.KeyMsg) bool {
	return !types(k) && slices.Contains(editKeys, k.String())
}

// types tells whether a key is text.
func types(k tea.KeyMsg) bool {
	return k.Type == tea.KeySpace || k.Type == tea.KeyRunes && !k.Alt
}

// Press takes a key that edits, and tells whether it was one.
func (f *Field) Press(k tea.KeyMsg) bool { return f.PressAmong(k, nil) }

// PressAmong takes a key as Press does where one of several names is typed: tab types on the one
// that is suggested.
func (f *Field) PressAmong(k tea.KeyMsg, names []string) bool {
	if k.Type == tea.KeyTab && f.suggested(names) != "" {
		f.take(f.engine(f.longer(names)), k)
		return true
	}
	switch {
	case types(k):
		if k.Type == tea.KeySpace {
			k.Runes = []rune{' '}
		}
		if f.bad || f.stands && figure(f.Text) && figure(string(k.Runes)) {
			f.Text, f.back = "", 0
		}
		if utf8.RuneCountInString(f.Text)+len(k.Runes) > maxField {
			return true
		}
		// else letters that spell a key's name are the key
		k = tea.KeyMsg{Type: tea.KeyRunes, Runes: k.Runes, Paste: true}
	case !Edits(k):
		return false
	case f.at() == utf8.RuneCountInString(f.Text)-1 &&
		(k.String() == "alt+d" || k.String() == "alt+delete"):
		k = tea.KeyMsg{Type: tea.KeyDelete} // the engine panics at the last rune
	}
	f.take(f.engine(nil), k)
	f.stands, f.bad = false, false
	return true
}

// figure tells whether a text begins with a digit.
func figure(text string) bool { return text != "" && text[0] >= '0' && text[0] <= '9' }

// engine is the one that edits, as the field stands.
func (f *Field) engine(names []string) textinput.Model {
	in := textinput.New()
	in.Focus()
	in.SetValue(f.Text)
	in.SetCursor(f.at())
	in.ShowSuggestions = len(names) > 0
	in.SetSuggestions(names)
	return in
}

// take gives a key to the engine and takes what it made of the text.
func (f *Field) take(in textinput.Model, k tea.KeyMsg) {
	in, _ = in.Update(k)
	f.Text = theme.Safe(in.Value())
	f.back = max(0, utf8.RuneCountInString(in.Value())-in.Position())
}

// TabKey says what tab does where a name is typed.
var TabKey = Shown("tab", "", "types on the name that is suggested")

// suggested is the first of some names that begins as what is typed and goes on; "" where none
// does.
func (f *Field) suggested(names []string) string {
	if f.Text == "" || len(names) == 0 {
		return ""
	}
	in := f.engine(f.longer(names))
	if len(in.MatchedSuggestions()) == 0 {
		return "" // the engine panics where it has none
	}
	return in.CurrentSuggestion()
}

// longer are the names that go on behind what is typed.
func (f *Field) longer(names []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool {
		return utf8.RuneCountInString(n) <= utf8.RuneCountInString(f.Text)
	})
}

// DrawnAmong is what is typed, as Drawn draws it, and the name that tab completes it to, all in w
// cells.
func (f *Field) DrawnAmong(t *theme.Theme, w int, names []string) string {
	name := f.suggested(names)
	if name == "" {
		return t.Plain(f.Drawn(w))
	}
	hint := "   " + t.Text.Accent.Text("tab") + " " + t.Text.Dim.Text(t.Plain(theme.Safe(name)))
	text := t.Plain(f.Drawn(0))
	if theme.Width(text)+theme.Width(hint) > w {
		return t.Plain(f.Drawn(w))
	}
	return text + hint
}

// at is the cursor's place, in runes from the beginning.
func (f *Field) at() int { return max(0, utf8.RuneCountInString(f.Text)-f.back) }

// Drawn is the text with its cursor, a low line that is seen without colour; what is too wide for w
// cells is cut where nobody types. w of 0 is as wide as it is.
func (f *Field) Drawn(w int) string {
	text := []rune(f.Text)
	at := min(f.at(), len(text))
	head, rest := theme.Safe(string(text[:at])), theme.Safe(string(text[at:]))
	if w > 0 {
		head = tail(head, max(w-min(theme.Width(rest), w/2)-1, 0))
		for rest != "" && theme.Width(rest) > w-1-theme.Width(head) {
			_, n := utf8.DecodeLastRuneInString(rest)
			rest = rest[:len(rest)-n]
		}
	}
	return head + "_" + rest
}

// Digits tells whether a key, or several that came at once, belong to a number; its thousands may
// be set apart by spaces.
func Digits(k tea.KeyMsg) bool {
	if k.Type == tea.KeySpace {
		return true
	}
	return k.Type == tea.KeyRunes && !k.Alt && len(k.Runes) > 0 &&
		strings.Trim(string(k.Runes), "0123456789.,-+' ") == ""
}

// Line is a line that asks why, or for a remark, over the prompt.
type Line struct {
	Open bool
	Verb string // skip, cut, leave, note, pause, give up
	Ask  string
	Text Field
}
