package screen

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

func jobDesk(t *testing.T, keys ...string) *desk {
	t.Helper()
	d := newDesk(t, 80, 24, true, theme.Options{Dark: true})
	return d.keys(append([]string{"/", "her", "enter", "enter", "1"}, keys...)...)
}

// Recorded in one key, the meters go on; the key after it takes it back.
func TestJobIsRecordedAndTakenBack(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter")
	d.shows("119 changes", "blade check", "2,156")
	changes := func() float64 { return d.bench().Machines["m1"].Readings[model.Changes].Last.Value }
	d.keys("1")
	d.shows("Recorded: the meters have its use. Never read, so not added to: starts.", "u undo")
	if changes() != 3412+119 {
		t.Errorf("the meter shows %v", changes())
	}
	d.keys("1", "2") // once is enough
	if changes() != 3412+119 || len(d.bench().Machines["m1"].Booked) != 0 {
		t.Errorf("the meter shows %v", changes())
	}
	d.keys("u")
	d.shows("Taken back")
	if changes() != 3412 {
		t.Errorf("the meter shows %v", changes())
	}
}

// A counter read while the print ran: the first key says that it would count twice, the second adds it.
func TestJobThatMayBeCountedAlready(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.gcode")
	if err := os.WriteFile(path, []byte("T0\nG4 S900000\nT1\nG1 X0 E0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	d := jobDesk(t, path, "enter")
	changes := func() float64 { return d.bench().Machines["m1"].Readings[model.Changes].Last.Value }
	d.keys("1")
	d.shows("hours, changes of Heron read on", "and would count", "1 add it all the same")
	d.r.top().Update(Press{Msg: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("1")}, Again: true})
	d.shows("and would count", "1 add it all") // a key that bounces is no answer
	d.keys("esc")
	d.hides("and would count")
	d.shows("1 printed")
	if d.keys("1"); changes() != 3412 {
		t.Errorf("the meter shows %v", changes())
	}
	d.keys("1")
	d.shows("Recorded: the meters have its use.")
	if changes() != 3413 {
		t.Errorf("the meter shows %v", changes())
	}
}

func TestJobIsBookedAndThenPrinted(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter", "2")
	d.shows("Booked: the forecast and the drawer count it.")
	if got := d.bench().Machines["m1"].BookedUse()[model.Changes]; got != 119 {
		t.Errorf("booked are %v", got)
	}
	d.keys("esc", "1", "testdata/jobs/f", "enter")
	d.shows("1 print is booked, 119 changes")
	d.keys("1")
	if len(d.bench().Machines["m1"].Booked) != 0 {
		t.Error("the booking stands after the print")
	}
}

// The session that fixes it is one key away, with what it needs chosen.
func TestJobOpensTheCareBeforeIt(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter")
	d.shows("c care before it")
	d.keys("c")
	if got := strings.Join(d.r.top().(*probe).got, " "); got != "plan m1 blade-check-look" {
		t.Errorf("opened is %s", got)
	}
	d.keys("esc", "3")
	d.shows("unattended", "3 attended")
	d.keys("c")
	if got := d.r.top().(*probe).got; len(got) != 2+4 {
		t.Errorf("unattended, opened is %v", got)
	}
}

func TestJobPath(t *testing.T) {
	d := jobDesk(t)
	d.shows("Which file is to be printed?", "testdata/")
	d.keys("te", "tab", "jobs", "tab")
	d.shows("> testdata/jobs/_", "broken.gcode", "two-colours.gcode")
	d.keys("tw", "tab")
	d.shows("> testdata/jobs/two-colours.gcode_")
	d.keys("esc")
	d.shows("> _")
	d.keys("no/such/thing")
	d.shows("There is no such folder")
	d.keys("enter")
	d.shows("thing, there is no such file")
	d.keys("ctrl+u", "-", "enter")
	d.shows("-, there is no such file")
	d.keys("ctrl+u", "testdata/jobs/broken.gcode", "enter")
	d.shows("broken.gcode, line 3: the arc has no centre")
	d.keys("ctrl+u", "testdata/jobs/tw", "enter")
	d.shows("two-colours.gcode", "3 changes")
	d.keys("5", "ctrl+u")
	d.shows("Which file is to be printed?")
	d.keys("esc")
	d.hides("Which file is to be printed?")
}

// A name made to break the screen is shown and breaks nothing.
func TestJobStrangeNames(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a\x1b[31mred.gcode", "line\nbreak.gcode", strings.Repeat("long", 50) + ".gcode", "日本.gcode"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("G90\nG1 X1 E1\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	d := jobDesk(t, dir+"/")
	if v := d.view(); strings.Contains(v, "\x1b[31m") || len(strings.Split(v, "\n")) != 24 {
		t.Errorf("%q", v)
	}
	d.keys("日", "enter")
	d.shows("日本.gcode", "0 changes")
}
