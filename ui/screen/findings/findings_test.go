package findings_test

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen/screentest"
)

var places = []screentest.Place{
	{Name: "findings", Keys: []string{"/", "tea", "enter", "f"}},
	{Name: "findings-add", Keys: []string{"f", "a"}},
	{Name: "findings-close", Keys: []string{"/", "tea", "enter", "f", "enter"}},
	{Name: "findings-move", Keys: []string{"/", "tea", "enter", "f", "2"}},
	{Name: "findings-none", Keys: []string{"f"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func TestFindings(t *testing.T) {
	d := screentest.Plain(t).On("teal").Keys("f", "a", "squeal at the rod", "enter", "7d", "ctrl+s")
	d.Shows("squeal at the rod", "look again 2026-12-02", "2 standing")
	d.Keys("enter", "ctrl+s")
	d.Shows("is needed")
	d.Keys("nozzle changed", "ctrl+s")
	d.Shows("1 standing")
	if m := d.Machine("m2"); m.Tag != nil {
		t.Errorf("the tag %q stands though its part came", m.Tag.Kind)
	}
}

// A reminder says what is to do and when: nobody saw anything.
func TestRemindersAreToDo(t *testing.T) {
	d := screentest.Plain(t)
	if _, err := d.S.Append(model.Action{Machine: "m1", Facts: []model.Fact{{
		Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundLater,
			Text: "Re-check the belt screws.", Again: screentest.Now.AddDate(0, 0, 3)}}}}); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.On("heron").Keys("enter")
	d.Shows("Re-check the belt screws, to do 2026-11-28")
	d.Keys("f")
	d.Shows("reminder of 2026-11-25; to do 2026-11-28")
	d.Hides("seen", "look again")
	d.Keys("2")
	d.Shows("to do", "It has 2026-11-28.")
	d.Keys("7d", "ctrl+s")
	d.Shows("reminder of 2026-11-25; to do 2026-12-02")
}

// What is too long for a line goes on below it: a day is never cut.
func TestTheDayIsNotCut(t *testing.T) {
	d := screentest.Plain(t)
	_, err := d.S.Append(model.Action{Machine: "m2", Facts: []model.Fact{
		{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundPart, Part: "nozzle",
			Text: "worn", Procedure: "blade-check",
			Again: screentest.Now.AddDate(0, 0, 20)}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.On("teal").Keys("f")
	d.Send(tea.WindowSizeMsg{Width: 62, Height: 24})
	d.Shows("seen 2026-11-25; look again 2026-12-15\n            waits for nozzle\n            in Check")
}

// A finding is given another day, which may not be the one it has, nor be past.
func TestMovedToAnotherDay(t *testing.T) {
	d := screentest.Plain(t).On("heron").Keys("f", "a", "squeal at the rod", "enter", "7d", "ctrl+s")
	d.Keys("2", "ctrl+s")
	d.Shows("another day", "A day is needed", "It has 2026-12-02. Another: ")
	d.Keys("2026-12-02", "ctrl+s")
	d.Shows("It stands on that day already")
	d.Keys("ctrl+u", "2026-11-02", "ctrl+s")
	d.Shows("2026-11-02 is past")
	d.Keys("ctrl+u", "9d", "enter", "the part comes then", "ctrl+s")
	d.Shows("look again 2026-12-04", "1 standing")
	if f := d.Machine("m1").Findings; len(f) != 1 || f[0].Text != "squeal at the rod" {
		t.Errorf("standing: %+v", f)
	}
}

// Two keys and what was seen stop a machine outside a session.
func TestStopOutsideASession(t *testing.T) {
	d := screentest.Plain(t).On("heron").Keys("f", "1")
	d.Shows("stop: do not use", "Pull the plug if you can reach it")
	d.Keys("ctrl+s")
	d.Shows("is needed")
	d.Keys("brown plug at the bed", "ctrl+s")
	d.Shows("stop", "brown plug at the bed", "1 standing")
	if m := d.Machine("m1"); m.Tag == nil || m.Tag.Kind != "stopped" ||
		m.Tag.Why != "brown plug at the bed" {
		t.Errorf("the tag is %+v", m.Tag)
	}
}
