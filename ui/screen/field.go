package screen

import (
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
)

// field is one line of typed text, cursor at its end.
type field struct{ text string }

// maxField is the longest text a field takes, in runes.
const maxField = 200

// press takes a key that edits, and tells whether it was one.
func (f *field) press(k tea.KeyMsg) bool {
	switch k.Type {
	case tea.KeyBackspace:
		if f.text != "" {
			_, n := utf8.DecodeLastRuneInString(f.text)
			f.text = f.text[:len(f.text)-n]
		}
		return true
	case tea.KeyCtrlU:
		f.text = ""
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

func (f *field) add(s string) bool {
	if utf8.RuneCountInString(f.text)+utf8.RuneCountInString(s) <= maxField {
		f.text += s
	}
	return true
}

// digits tells whether a key belongs to a number; its thousands may be set apart by spaces.
func digits(k tea.KeyMsg) bool {
	if k.Type == tea.KeySpace {
		return true
	}
	if k.Type != tea.KeyRunes || len(k.Runes) != 1 || k.Alt {
		return false
	}
	r := k.Runes[0]
	return (r >= '0' && r <= '9') || r == '.' || r == ',' || r == '-' || r == '+' || r == '\''
}
