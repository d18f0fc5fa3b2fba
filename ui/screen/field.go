package screen

import (
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
)

// Field is one line of typed text, cursor at its end.
type Field struct{ Text string }

// maxField is the longest text a field takes, in runes.
const maxField = 200

// Press takes a key that edits, and tells whether it was one.
func (f *Field) Press(k tea.KeyMsg) bool {
	switch k.Type {
	case tea.KeyBackspace:
		if f.Text != "" {
			_, n := utf8.DecodeLastRuneInString(f.Text)
			f.Text = f.Text[:len(f.Text)-n]
		}
		return true
	case tea.KeyCtrlU:
		f.Text = ""
		return true
	case tea.KeySpace:
		return f.add(" ")
	case tea.KeyRunes:
		if k.Alt {
			return false
		}
		return f.add(string(k.Runes))
	}
	return false
}

func (f *Field) add(s string) bool {
	if utf8.RuneCountInString(f.Text)+utf8.RuneCountInString(s) <= maxField {
		f.Text += s
	}
	return true
}

// Digits tells whether a key belongs to a number; its thousands may be set apart by spaces.
func Digits(k tea.KeyMsg) bool {
	if k.Type == tea.KeySpace {
		return true
	}
	if k.Type != tea.KeyRunes || len(k.Runes) != 1 || k.Alt {
		return false
	}
	r := k.Runes[0]
	return (r >= '0' && r <= '9') || r == '.' || r == ',' || r == '-' || r == '+' || r == '\''
}

// Line is a line that asks why, or for a remark, over the prompt.
type Line struct {
	Open bool
	Verb string // skip, cut, leave, note, pause, give up
	Ask  string
	Text Field
}
