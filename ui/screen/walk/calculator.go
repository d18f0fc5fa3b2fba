package walk

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
)

// worked is what a calculator gave for the gate that is asked: what it typed, and how.
type worked struct {
	text string
	from *model.Worked
}

// workWord is what the key that works a value out says.
const workWord = "work it out"

// calculatorKey opens what works out the value that is asked.
func (v *walkScreen) calculatorKey() screen.Key {
	k := v.s.Calculator(v.Now)
	return screen.On("=", workWord,
		"a calculator: its figures, source and tolerance; what it gives is typed here",
		func(screen.Press) tea.Cmd {
			return screen.Send(screen.Open{To: screen.ToCalculator{Machine: v.s.W.MachineID,
				By: k.By, For: k, Said: v.s.Said}})
		}).When(k != nil)
}

// takeWorked types what a calculator gave; the person still answers with it.
func (v *walkScreen) takeWorked(m *model.Measured) {
	v.worked = worked{model.Digits(m.Value), m.From}
	v.field, v.aside = screen.Field{Text: v.worked.text}, false
}

// typedAnswer is what was typed; it says how it was worked out, unless it was changed since.
func (v *walkScreen) typedAnswer(text string) session.Answer {
	a := session.Answer{Text: text, Typed: true}
	if v.worked.from != nil && v.worked.text == text {
		a.From = v.worked.from
	}
	return a
}

// lastLines say beside a value that can be worked out what was last read of it on this machine.
func (v *walkScreen) lastLines() []string {
	last := v.s.Last(v.Now)
	if last == "" || v.prompt().Kind != walk.AskStep {
		return nil
	}
	return v.wrapped("last "+last+"; = works it out", "     ", v.Env.Theme.Text.Dim)
}
