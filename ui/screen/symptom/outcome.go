package symptom

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
)

func (v *page) judgeKeys() []screen.Key {
	ks := screen.OutcomeKeys("it is not asked again", func(is model.CureWord) tea.Cmd {
		v.saving = true
		return v.WriteOutcome(v.pending, v.machine, is, v.desk.Lib.All)
	})
	return append(ks, screen.On("enter", "later",
		"goes on; it is asked again at the next look here", func(screen.Press) tea.Cmd {
			v.leaveJudging()
			if v.stage == ranked {
				return v.rank()
			}
			return nil
		}).Afresh(), screen.Back)
}

// leaveJudging goes on to the list of care that was in view before, or to the symptoms.
func (v *page) leaveJudging() {
	if len(v.heard) == 0 {
		v.toChoosing()
		return
	}
	v.stage, v.At, v.top = ranked, 0, 0
}
