package walk

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
)

// leaving asks back before the session is left.
type leaving struct {
	ask   string // the question; "" while none is asked
	does  string // what y does, for the key line
	leave screen.Deed
}

// leavingKeys answer the question.
func (v *walkScreen) leavingKeys() []screen.Key {
	return screen.LeaveKeys(v.leaving.does, v.leaving.leave, func() { v.leaving = leaving{} })
}

// pauses tells that leaving writes a pause: not a second time before that was written, nor where
// there is nothing to pause.
func (v *walkScreen) pauses() bool {
	return v.s != nil && !v.busy && !v.going && !v.s.W.Ended &&
		v.s.W.Prompt(v.Now).Kind != walk.AskResume
}

// pause leaves the session begun: whoever opens it next need not ask who else is at it. What goes
// on at the machine meanwhile is said first, and wants y.
func (v *walkScreen) pause(screen.Press) tea.Cmd {
	if on := v.leftOn(); on != "" {
		v.leaving = leaving{on + ": leave it so?", "leave it so", v.pauseNow}
		return nil
	}
	return v.pauseNow(screen.Press{})
}

func (v *walkScreen) pauseNow(screen.Press) tea.Cmd {
	v.leaving, v.going = leaving{}, true
	return v.say("pause")
}

// leftOn says what goes on at a machine that is left: it is hot under power, or the step that is
// asked heats or moves it; "" where nothing does.
func (v *walkScreen) leftOn() string {
	if v.s == nil || v.going || v.s.W.Telling() { // what is told is over
		return ""
	}
	power, heat := v.s.W.Believed[model.Power], v.s.W.Believed[model.Heat]
	var on []string
	switch {
	case power == model.On:
		on = append(on, "power is on")
	case power != "":
		return ""
	}
	drives := v.drives()
	switch {
	case power == model.On && heat == model.Hot:
		on = append(on, "it is hot")
	case power == model.On && heat == "" && drives == "":
		on = append(on, "it may be hot")
	case drives == "":
		return ""
	}
	if drives != "" {
		on = append(on, drives)
	}
	text := model.Listed(on, "and")
	return strings.ToUpper(text[:1]) + text[1:]
}

// drives says what the machine does by itself in the step that is asked; "" where nothing.
func (v *walkScreen) drives() string {
	s := v.prompt().Step
	if s == nil {
		return ""
	}
	var how []string
	for _, d := range s.Drives {
		how = append(how, map[string]string{"heat": "heats", "motion": "moves"}[d])
	}
	if len(how) == 0 {
		return ""
	}
	return "this step " + model.Listed(how, "and") + " it"
}
