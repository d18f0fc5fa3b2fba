package walk

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/screen"
)

// maxAhead is how many keys are kept while an answer is being written.
const maxAhead = 40

// keep takes a key typed while an answer is being written: a figure lost there would leave another
// number in the next field. Only what fills a field is kept; an enter must not pass a gate nobody
// has read.
func (v *walkScreen) keep(p screen.Press) {
	k := p.Msg
	edits := k.Type == tea.KeyRunes && !k.Alt || k.Type == tea.KeySpace ||
		k.Type == tea.KeyBackspace
	if edits && !k.Paste && len(v.ahead) < maxAhead {
		v.ahead = append(v.ahead, p)
	}
}

// catchUp types what was kept into the prompt that is on the screen now, as far as it belongs to
// one like it.
func (v *walkScreen) catchUp() {
	if v.busy {
		return // another write follows by itself
	}
	for _, p := range v.ahead {
		switch k := p.Msg; v.mode() {
		case typeText:
			v.field.Press(k)
		case typeNumber:
			if screen.Digits(k) || k.Type == tea.KeyBackspace {
				v.field.Press(k)
			}
		case pickOption:
			if screen.Digits(k) {
				v.pick(p.Key(), len(v.prompt().Options))
			}
		}
	}
	v.ahead = nil
}
