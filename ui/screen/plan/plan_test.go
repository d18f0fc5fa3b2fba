package plan_test

import (
	"maps"
	"regexp"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen/screentest"
)

var places = []screentest.Place{{Name: "plan", Keys: []string{"s", "/", "fails-to", "enter",
	"enter", "2", "enter", "enter"}}}

// Golden frames, every size, one meaning a key.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromSession, places) }

// TestPlanFindAndNone: nothing chosen shows no order; letters find a procedure, space puts it in.
func TestPlanFindAndNone(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("c")
	d.Shows("in this order")
	d.Keys("2")
	d.Shows("Nothing is chosen")
	d.Hides("in this order", " begin")
	d.Keys("/", "rods")
	d.Shows("find:", " rods_")
	d.Keys("enter", "space")
	d.Shows("in this order", "Wipe the motion rods")
	d.Keys("/", "no such care")
	d.Shows("No procedure here has that in its title or id.")
	d.Keys("enter") // nothing was found, so no row is taken
	d.Shows("find:", "No procedure here has that in its title or id.")
	d.Keys("ctrl+u", "wipe the m")
	d.Shows("find:", " wipe the m_", "Wipe the motion rods, in; 1 of 1")
	d.Keys("tab")
	d.Shows(" wipe the motion rods_")
	d.Keys("ctrl+u", "motion")
	d.Shows("Run a motion check, out; 1 of 2", "next one") // its gauge is called so
	d.Keys("down")
	d.Shows("Wipe the motion rods, in; 2 of 2")
	d.Keys("esc", "Q")
	d.Shows("Q does nothing here: enter begin")
	d.Shows("Wipe the motion rods")
	if d.Bench().Machines[m.ID].Session != "" {
		t.Error("a session was begun")
	}
	d.Fits(screentest.EverySize...)
}

// TestMinutesForcedIn: what the minutes leave out says so, and space on it puts it in whatever it
// takes; space again leaves it out.
func TestMinutesForcedIn(t *testing.T) {
	d, _, _ := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("c", "/", "rods-wipe", "enter", "t", "6", "enter")
	at := regexp.MustCompile(`(?m)^ > (\[.\]) (.*)$`)
	row := func() []string { return at.FindStringSubmatch(d.View()) }
	if r := row(); r == nil || r[1] != "[-]" || !strings.Contains(r[2], "not in 6 min") {
		t.Fatalf("the row is %q\n%s", r, d.View())
	}
	d.Keys("space")
	if r := row(); r == nil || r[1] != "[x]" {
		t.Fatalf("forced in the row is %q\n%s", r, d.View())
	}
	d.Shows("What has to be in takes more than 6 min.")
	d.Keys("space")
	if r := row(); r == nil || r[1] != "[ ]" {
		t.Fatalf("left out the row is %q\n%s", r, d.View())
	}
	d.Keys("space")
	if r := row(); r == nil || r[1] != "[x]" {
		t.Fatalf("put in the row is %q\n%s", r, d.View())
	}
	d.Keys("1", "1") // everything, and again what is due: nothing is forced in any more
	if r := row(); r == nil || r[1] != "[-]" {
		t.Fatalf("after all and due again the row is %q\n%s", r, d.View())
	}
}

// TestAskedOnceOnOnePage: all that the session must know of the machine first stands on one form,
// by titles and not by the names it is stored by; what cannot be is said at its row, and nothing is
// written before all can be.
func TestAskedOnceOnOnePage(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	f := m.MachineFact
	f.Settings = maps.Clone(f.Settings)
	for _, s := range []string{"slots", "whole-count", "heaters", "stop-holds"} {
		delete(f.Settings, s)
	}
	if _, err := d.S.Append(model.Action{At: screentest.Now, Machine: m.ID,
		Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}}); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Keys("c", "2", "/", "rods-wipe", "enter", "space", "enter")
	d.Shows("Asked once of this machine", "parts that close it", "heaters with a target",
		"begin the session")
	d.Hides("whole-count", "ctrl+s")
	d.Fits(screentest.EverySize...)
	// what its features name is counted for the person
	d.Shows("heaters with a target   2", "parts that close it     5")
	d.Keys("ctrl+u", "f", "enter")
	d.Shows("Type a")
	d.Keys("ctrl+u", "4")
	d.Shows("4_", "f1")
	d.Send(tea.KeyMsg{Type: tea.KeyF1})
	d.Shows("help:")
	d.Keys("esc")
	d.Shows("4_")
	d.Keys("ctrl+u", "4")
	if _, has := d.Machine(m.ID).Settings["slots"]; has {
		t.Error("half of the answers were written")
	}
	d.Keys("esc")
	d.Shows("in this order")
}

// TestASuggestedNumberIsTypedOver: a machine has 2 plugs where 1 was suggested, and never 12.
func TestASuggestedNumberIsTypedOver(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	f := m.MachineFact
	f.Settings = maps.Clone(f.Settings)
	delete(f.Settings, "slots")
	if _, err := d.S.Append(model.Action{At: screentest.Now, Machine: m.ID,
		Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}}); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Keys("c", "2", "/", "rods-wipe", "enter", "space", "enter")
	d.Shows("changer slots", " 4_")
	d.Keys("8")
	d.Shows(" 8_")
	d.Keys("backspace", "1", "2")
	d.Shows(" 12_")
}

// TestASecondEnterBeginsNothing: enter pressed again before the data file has answered begins one
// session, and opens it.
func TestASecondEnterBeginsNothing(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("c")
	_, first := d.R.Update(screentest.KeyNames["enter"])
	_, second := d.R.Update(screentest.KeyNames["enter"])
	d.Run(first)
	d.Run(second)
	if d.Bench().Machines[m.ID].Session == "" {
		t.Fatalf("no session was begun:\n%s", d.View())
	}
	d.Shows("How does the machine stand?")
}

// TestLeftUnplugged: one key plans for a machine that stays without power, and another press for
// power as it was.
func TestLeftUnplugged(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Send(tea.WindowSizeMsg{Width: 140, Height: 60})
	d.Keys("c", "2", "/", "rods-wipe", "enter", "space")
	d.Shows("count, plug in", "leave unplugged")
	d.Keys("3")
	d.Shows("It is left unplugged", "power as it was")
	d.Hides("plug in", "switch on")
	d.Keys("3")
	d.Shows("count, plug in")
	d.Keys("3", "enter")
	begun := d.Bench().Sessions[d.Bench().Machines[m.ID].Session]
	if begun == nil {
		t.Fatalf("nothing was begun:\n%s", d.View())
	}
	entries, err := d.S.Entries(store.Filter{Session: begun.ID})
	if err != nil || entries[0].Begun.Leave != model.Unplugged {
		t.Errorf("the session leaves power %q, %v", entries[0].Begun.Leave, err)
	}
}

// Another order is read from its beginning, however far down the one before was read.
func TestAnotherOrderStandsAtItsBeginning(t *testing.T) {
	d, _, _ := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("c")
	d.Shows("in this order")
	d.Keys("pgdown", "pgdown", "pgdown", "t", "60", "enter")
	d.Shows("in this order")
}

// TestPaperTellsWhatIsIn: what is told from paper is what is in, also where nothing was due then;
// the times typed are never wider than the screen, and what cannot be keeps plan and line.
func TestPaperTellsWhatIsIn(t *testing.T) {
	d, _, _ := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("c", "2", "/", "rods", "enter", "space", "4")
	d.Shows("When was it, as yesterday 14:00 to 16:10:")
	d.Keys("yesterday 16:10 to 14:00 and much more that is no time at all")
	d.Fits(screentest.EverySize...)
	d.Keys("enter")
	d.Shows("is no date", "When was it", "Wipe the motion rods")
	d.Keys("ctrl+u", "yesterday 16:10 to 14:00", "enter")
	d.Shows("ends before it begins")
	d.Keys("esc")
	d.Shows("in this order", " begin")
	d.Keys("4", "2026-01-02 23:00 to 01:00", "enter")
	d.Shows("told from paper", "0 of 2 told", "done 2026-01-02 23:00")
}

// TestARefusedBeginIsOver: a machine stopped while its plan was open begins nothing, and the next
// plan that may begin waits for a key of its own.
func TestARefusedBeginIsOver(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("c")
	if _, err := d.S.Append(model.Action{At: screentest.Now, Machine: m.ID, Facts: []model.Fact{
		{Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundStop, Text: "scorch smell"}},
		{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagStopped, Why: "scorch smell"}},
	}}); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Keys("enter")
	d.Keys("2", "/", "cable-check", "enter", "space")
	if s := d.Bench().Machines[m.ID].Session; s != "" {
		t.Errorf("space began session %s:\n%s", s, d.View())
	}
}
