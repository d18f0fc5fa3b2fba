package printfile_test

import (
	"archive/zip"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

var places = []screentest.Place{
	{Name: "job", Keys: []string{"/", "tea", "enter", "enter", "1"}},
	{Name: "job-names", Keys: []string{"/", "tea", "enter", "enter", "1", "te", "tab", "jobs/",
		"f"}},
	{Name: "job-broken", Keys: []string{"/", "tea", "enter", "enter", "1", "testdata/jobs/br",
		"enter"}},
	{Name: "job-verdict", Keys: []string{"/", "her", "enter", "enter", "n", "1", "testdata/jobs/f",
		"enter"}},
	{Name: "job-unattended", Keys: []string{"/", "her", "enter", "enter", "n", "1",
		"testdata/jobs/f", "enter", "3", "4", "PLA", "enter"}},
	{
		Name: "job-odd",
		Keys: []string{"/", "her", "enter", "enter", "n", "1", "testdata/jobs/od", "enter"},
	},
	{
		Name: "job-took",
		Keys: []string{
			"/",
			"her",
			"enter",
			"enter",
			"n",
			"1",
			"testdata/jobs/f",
			"enter",
			"6",
			"3 h 5",
		},
	},
	{Name: "job-material", Keys: []string{"/", "her", "enter", "enter", "n", "1", "testdata/jobs/f",
		"enter", "4", "0=PL,1"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func jobDesk(t *testing.T, keys ...string) *screentest.Desk {
	t.Helper()
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true})
	return d.Keys(append([]string{"/", "her", "enter", "enter", "1"}, keys...)...)
}

// How long it took is typed, and the next print of the machine is reckoned by it.
func TestJobTook(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter", "6", "150", "enter")
	d.Shows("is no length of time: write it like 3 h 40")
	d.Keys("ctrl+u", "3 h 20", "enter")
	d.Keys("end")
	d.Shows("it took 3 h 20: 1 records that too")
	d.Keys("esc")
	d.Shows("Leave without saving what you typed?")
	d.Keys("n", "end")
	d.Shows("it took 3 h 20: 1 records that too")
	d.Keys("1")
	if times := d.Bench().Machines["m1"].Times; len(times) != 1 || times[0].Took != 12000 {
		t.Errorf("%+v", times)
	}
	d.Keys("esc", "1", "testdata/jobs/f", "enter")
	d.Shows("± ")
}

// A booking takes nothing of how long it took: that is asked for on leaving, and recorded with the
// print, which can be taken back alone.
func TestJobTookIsNotBooked(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter", "6", "3 h 20", "enter", "2")
	d.Shows("Booked")
	d.Keys("end")
	d.Shows("it took 3 h 20: 1 records that too")
	d.Keys("esc")
	d.Shows("Leave without saving what you typed?")
	d.Keys("n", "1")
	d.Shows("Recorded")
	if m := d.Bench().Machines["m1"]; len(m.Times) != 1 || len(m.Booked) != 0 {
		t.Errorf("printed: times %+v, booked %+v", m.Times, m.Booked)
	}
	d.Keys("u")
	if m := d.Bench().Machines["m1"]; len(m.Times) != 0 || len(m.Booked) != 1 {
		t.Errorf("taken back: times %+v, booked %+v", m.Times, m.Booked)
	}
	d.Keys("u")
	if m := d.Bench().Machines["m1"]; len(m.Booked) != 0 {
		t.Errorf("taken back too: booked %+v", m.Booked)
	}
	d.Keys("esc")
	d.Shows("Leave without saving what you typed?")
	d.Keys("y")
	d.Hides("it took 3 h 20")
}

// What speaks against the print stands above what the gauges say: how the machine is tagged, and
// where nobody will be there, a room without a smoke alarm.
func TestWhatSpeaksAgainstThePrintIsFirst(t *testing.T) {
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true})
	found := func(x model.Found) model.Fact {
		return model.Fact{Kind: model.KindFinding, Finding: &x}
	}
	_, err := d.S.Append(model.Action{Machine: "m1", Facts: []model.Fact{
		found(model.Found{Kind: model.FoundNote, Step: "alarm", Text: "Hang a smoke alarm."}),
		found(model.Found{Kind: model.FoundLimits, Text: "PLA only"}),
		{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagLimits, Why: "PLA only"}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Keys("/", "her", "enter", "enter", "1", "testdata/jobs/f", "enter")
	d.Shows("\n\n Ready with limits: PLA only\n")
	d.Hides("Not unattended", "It can go first")
	d.Keys("3")
	d.Shows("\n\n Not unattended: Hang a smoke alarm.\n Ready with limits: PLA only\n")
}

// Of a container with two plates each can be looked at alone.
func TestJobPlates(t *testing.T) {
	path := filepath.Join(t.TempDir(), "two.zip")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	z := zip.NewWriter(f)
	for _, text := range []string{"T0\nG1 X1 E1\nT1\n", "G1 X1 E1\n"} {
		w, err := z.Create("plate_" + text[1:2] + ".gcode")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if z.Close() != nil || f.Close() != nil {
		t.Fatal("not written")
	}
	d := jobDesk(t, path, "enter")
	d.Shows("2 prints in it")
	d.Keys("end")
	d.Shows("all 2 prints")
	d.Keys("7")
	d.Shows("plate_0.gcode", "1 change, 0 s")
	d.Keys("7")
	d.Shows("plate_1.gcode", "0 changes, 0 s")
	d.Keys("7")
	d.Shows("2 prints in it")
}

// Recorded in one key, the meters go on; the key after it takes it back.
func TestJobIsRecordedAndTakenBack(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter")
	d.Shows("119 changes", "blade check", "2 156")
	changes := func() float64 { return d.Bench().Machines["m1"].Readings[model.Changes].Last.Value }
	d.Keys("1")
	d.Shows("Recorded: the meters have its use. Never read, so not added to: starts.", "u undo")
	if changes() != 3412+119 {
		t.Errorf("the meter shows %v", changes())
	}
	d.Keys("1", "2") // once is enough
	if changes() != 3412+119 || len(d.Bench().Machines["m1"].Booked) != 0 {
		t.Errorf("the meter shows %v", changes())
	}
	d.Keys("u")
	d.Shows("Taken back")
	if changes() != 3412 {
		t.Errorf("the meter shows %v", changes())
	}
}

// A counter read while the print ran: the first key says that it would count twice, the second adds
// it.
func TestJobThatMayBeCountedAlready(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.gcode")
	if err := os.WriteFile(path, []byte("T0\nG4 S900000\nT1\nG1 X0 E0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	d := jobDesk(t, path, "enter")
	changes := func() float64 { return d.Bench().Machines["m1"].Readings[model.Changes].Last.Value }
	d.Keys("1")
	d.Shows("hours, changes of Heron read on", "and would count", "1 add it all the same")
	d.Send(screentest.Runes("z1"))
	d.Shows("and would count", "1 add it all") // a key that bounces is no answer
	d.Keys("esc")
	d.Hides("and would count")
	d.Shows("1 printed")
	if d.Keys("1"); changes() != 3412 {
		t.Errorf("the meter shows %v", changes())
	}
	d.Keys("1")
	d.Shows("Recorded: the meters have its use.")
	if changes() != 3413 {
		t.Errorf("the meter shows %v", changes())
	}
}

func TestJobIsBookedAndThenPrinted(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter", "2")
	d.Shows("Booked: the forecast and the drawer count it.")
	if got := d.Bench().Machines["m1"].BookedUse()[model.Changes]; got != 119 {
		t.Errorf("booked are %v", got)
	}
	d.Keys("esc", "1", "testdata/jobs/f", "enter")
	d.Shows("1 print is booked, 119 changes")
	d.Keys("1")
	if len(d.Bench().Machines["m1"].Booked) != 0 {
		t.Error("the booking stands after the print")
	}
	d.Keys("esc", "1", "testdata/jobs/f", "enter", "2", "5", "ctrl+u", "testdata/jobs/f", "enter",
		"2",
		"esc", "esc")
	d.Shows("booked", "Heron 2 prints of 2.1 h and 238 changes")
}

// The session that fixes it is one key away, with what it needs chosen.
func TestJobOpensTheCareBeforeIt(t *testing.T) {
	d := jobDesk(t, "testdata/jobs/f", "enter")
	d.Shows("c care before it")
	d.Keys("c")
	d.Shows("plan m1 blade-check-look")
	d.Keys("esc", "3")
	d.Shows("unattended", "3 attended")
	d.Keys("c")
	if got := strings.Fields(strings.Split(d.View(), "\n")[2]); len(got) != 2+4 ||
		got[0] != "plan" {
		t.Errorf("unattended, opened is %v", got)
	}
}

func TestJobPath(t *testing.T) {
	d := jobDesk(t)
	d.Shows("Which file is to be printed?", "testdata/")
	d.Keys("te", "tab", "jobs", "tab")
	d.Shows("> testdata/jobs/_", "broken.gcode", "two-colours.gcode")
	d.Keys("tw", "tab")
	d.Shows("> testdata/jobs/two-colours.gcode_")
	d.Keys("esc")
	d.Shows("> _")
	d.Keys("no/such/thing")
	d.Shows("There is no such folder")
	d.Keys("enter")
	d.Shows("thing, there is no such file")
	d.Keys("ctrl+u", "-", "enter")
	d.Shows("-, there is no such file")
	d.Keys("ctrl+u", "testdata/jobs/broken.gcode", "enter")
	d.Shows("broken.gcode, line 3: the byte 0x00 is not text")
	d.Keys("ctrl+u", "testdata/jobs/od", "enter")
	d.Shows("1 line skipped, as printers do: line 3, the arc has no centre")
	d.Keys("5")
	d.Keys("ctrl+u", "testdata/jobs/tw", "enter")
	d.Shows("two-colours.gcode", "3 changes")
	d.Keys("5", "ctrl+u")
	d.Shows("Which file is to be printed?")
	d.Keys("esc")
	d.Hides("Which file is to be printed?")
}

// A name made to break the screen is shown and breaks nothing.
func TestJobStrangeNames(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a\x1b[31mred.gcode", "line\nbreak.gcode",
		strings.Repeat("long", 50) + ".gcode", "日本.gcode"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("G90\nG1 X1 E1\n"),
			0o600); err != nil {
			t.Fatal(err)
		}
	}
	d := jobDesk(t, dir+"/")
	if v := d.View(); strings.Contains(v, "\x1b[31m") || len(strings.Split(v, "\n")) != 24 {
		t.Errorf("%q", v)
	}
	d.Keys("日", "enter")
	d.Shows("日本.gcode", "0 changes")
}
