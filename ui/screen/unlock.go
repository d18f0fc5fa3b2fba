package screen

import (
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// Unlocks is said where an answer lets power return.
const Unlocks = "Clearing it unlocks power: only the person who put it right does it."

// ByRow asks who put something right.
func ByRow(e *Env) *Row {
	r := &Row{Name: "by", Ask: "put right by", Hint: "Your name."}
	r.Text.Text = e.Operator
	return r
}

// NameRow asks for the machine's name before power is unlocked.
func NameRow() *Row {
	return &Row{Name: "name", Ask: "the machine's name",
		Hint: "Type it in full: power may return to this machine."}
}

// NotItsName says that a text is not the machine's name; "" where it is.
func NotItsName(m *model.Machine, text string) string {
	if m == nil || strings.TrimSpace(text) == m.Name {
		return ""
	}
	return "That is not its name: type " + theme.Safe(m.Name) + ", or leave with esc."
}

// NeedsName asks for the person where none is given.
func NeedsName(by string) string {
	if by == "" {
		return "A name is needed: whoever put it right."
	}
	return ""
}
