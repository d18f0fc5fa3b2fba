package walk_test

import (
	"path/filepath"
	"strconv"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/exp/golden"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// sampleWalk is a session of the sample procedure, which has one step of every kind, on a screen.
// What it shows does not change when the library does.
func sampleWalk(t *testing.T, w, h int, o theme.Options) (*screentest.Desk, *time.Time) {
	t.Helper()
	return walkOf(t, "own", "frame-sample", w, h, o)
}

// walkOf is a session of one procedure of a folder of testdata.
func walkOf(t *testing.T, folder, id string, w, h int, o theme.Options) (*screentest.Desk,
	*time.Time) {
	t.Helper()
	return begunOf(t, folder, id, nil, w, h, o)
}

// begunOf is walkOf of a session that was done then, on paper; nil where it is walked.
func begunOf(t *testing.T, folder, id string, then *session.Then, w, h int,
	o theme.Options) (*screentest.Desk, *time.Time) {
	t.Helper()
	now := screentest.Now
	st, err := store.Open(filepath.Join(t.TempDir(), "bench.db"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	lib, problems := procedures.Load(filepath.Join("testdata", folder))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	f := model.MachineFact{Name: "Heron", Duty: model.Home}
	entries, err := st.Append(
		model.Action{At: now, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	m := b.Machines[entries[0].Machine]
	at := session.Desk{Store: st, Lib: lib, By: "LN"}
	c, err := at.Choose(m, session.Choice{Only: []string{id}}, now)
	if err != nil {
		t.Fatal(err)
	}
	c.Then = then
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	d := screentest.Open(t, st, w, h, screen.Deps{Store: st, Library: lib, Theme: theme.New(o),
		Now: func() time.Time { return now }, Operator: "LN", Desk: at})
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	return d, &now
}

// say says a line that is meant, writes what follows and settles.
func say(t *testing.T, s *session.Session, text string, now time.Time) {
	t.Helper()
	v, err := s.Judge(session.Answer{Text: text, Meant: true}, now)
	if err == nil {
		_, err = s.Take(v.Reply, now)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// walkPlaces are keys from the beginning of the sample on, and the frame they lead to.
var walkPlaces = []struct {
	name string
	keys []string
	wait time.Duration // time that goes by first
}{
	{name: "card"},
	{name: "caution", keys: []string{"enter", "enter"}},
	{name: "too-hot", keys: []string{"5", "2", "enter"}},
	{name: "fastener", wait: 2 * time.Minute, keys: []string{"3", "1", "enter"}},
	{name: "count", keys: []string{"enter"}},
	{name: "count-short", keys: []string{"3", "enter"}},
	{name: "choice", keys: []string{"4", "enter"}},
	{name: "skip-why", keys: []string{"x", "n", "o"}},
	{name: "wait", keys: []string{"esc", "2", "enter"}},
	{name: "note", wait: 61 * time.Second},
	{name: "summary", keys: []string{"-", "enter", "2", "enter"}},
}

func TestWalkFrames(t *testing.T) {
	for _, size := range []screentest.Size{{W: 80, H: 24}, {W: 120, H: 40}} {
		d, now := sampleWalk(t, size.W, size.H, theme.Options{Dark: true})
		for _, p := range walkPlaces {
			if p.wait > 0 {
				*now = now.Add(p.wait)
				d.Pass(*now)
			}
			d.Keys(p.keys...)
			t.Run(p.name+"-"+strconv.Itoa(size.W)+"x"+strconv.Itoa(size.H), func(t *testing.T) {
				golden.RequireEqual(t, d.View())
				screentest.OneMeaning(t, p.name, d.R.Keys())
			})
		}
	}
}

// TestKeysTypedWhileAnAnswerIsWritten: figures typed before the data file has answered are in the
// next field. An enter among them passes no gate that was not on the screen, and a letter is no
// command.
func TestKeysTypedWhileAnAnswerIsWritten(t *testing.T) {
	d, _ := sampleWalk(t, 80, 24, theme.Options{Dark: true, NoColour: true})
	written := func(typed ...string) {
		_, write := d.R.Update(screentest.KeyNames["enter"])
		d.Keys(typed...)
		d.Run(write)
	}
	d.Keys("enter")
	written("3", "x", "7", "backspace", "1", "enter", "b")
	d.Shows("Hot end: 31_ °C", "3 of 8")
	written("enter")
	d.Shows("Snug the clamp screw", "4 of 8")
	written("3")
	d.Shows("Screws snug: 3_")
	written("9")
	d.Shows("Screws snug: _", "Look again") // it was refused: what was typed after it is not for it
	d.Keys("4")
	written("2")
	d.Shows("> 2  dull")
}

// One answer was refused, then another that is not written: what was said of the first is no advice
// for the second.
func TestOneRefusalAtATime(t *testing.T) {
	d, _ := sampleWalk(t, 80, 24, theme.Options{Dark: true, NoColour: true})
	d.Keys("enter", "enter", "5", "2", "enter")
	d.Shows("Read 52 °C")
	d.Keys("12,345", "enter")
	d.Shows("can be 12345 or 12.345")
	d.Hides("Read 52 °C")
	d.Keys("5", "2", "enter")
	d.Shows("Read 52 °C")
}

// Where a figure is typed letters are text, and none is a command before esc has left it; then a
// figure goes on typing.
func TestLettersInAnEmptyNumberFieldAreText(t *testing.T) {
	d, _ := sampleWalk(t, 80, 24, theme.Options{Dark: true, NoColour: true})
	d.Keys("enter", "enter", "b", "n", "x")
	d.Shows("Hot end: bnx_ °C", "3 of 8", "esc then f fails, b back")
	d.Keys("ctrl+u", "3", "esc")
	d.Shows("Hot end: 3 °C", "enter type", "b back", "n note")
	d.Keys("z")
	d.Shows("z does nothing here: enter type")
	d.Keys("1")
	d.Shows("Hot end: 31_ °C")
	d.Keys("esc", "enter", "0")
	d.Shows("Hot end: 310_ °C")
	d.Keys("esc", "b")
	d.Shows("2 of 8")
	d.Keys("enter", "enter")
	d.Shows("Type the answer first", "3 of 8")
	d.Keys("esc", "esc")
	d.Shows("most pressing")
}

// A figure that comes in one burst or by paste goes on typing as a whole: half a number is another
// number.
func TestAFieldIsTakenUpAgainByAWholeFigure(t *testing.T) {
	for name, typed := range map[string]tea.KeyMsg{
		"burst": screentest.Runes("31"),
		"paste": {Type: tea.KeyRunes, Runes: []rune("31\n"), Paste: true},
		"stray": {Type: tea.KeyRunes, Runes: []rune("x31"), Paste: true},
	} {
		t.Run(name, func(t *testing.T) {
			d, _ := sampleWalk(t, 80, 24, theme.Options{Dark: true, NoColour: true})
			d.Keys("enter", "enter", "esc")
			d.Send(typed)
			if name == "stray" {
				d.Shows("enter type", "Hot end:  °C")
				return
			}
			d.Shows("Hot end: 31_ °C")
			d.Keys("enter")
			d.Shows("Snug the clamp screw")
		})
	}
}

// A word that was refused is typed over, and its end can be mended.
func TestARefusedWordIsTypedOver(t *testing.T) {
	d, _ := sampleWalk(t, 80, 24, theme.Options{Dark: true, NoColour: true})
	d.Keys("enter", "enter", "warm", "enter")
	d.Shows("Hot end: warm_ °C", "Type the value in °C")
	d.Keys("3")
	d.Shows("Hot end: 3_ °C")
	d.Keys("1x", "enter")
	d.Shows("Hot end: 31x_ °C", "Type the value in °C")
	d.Keys("backspace", "enter")
	d.Shows("Snug the clamp screw")
}

// TestGivenUpOpenIsClosedFirst gives a session up with the belts loose: the bench says so, and the
// next care session is one that closes.
func TestGivenUpOpenIsClosedFirst(t *testing.T) {
	now := screentest.Now
	d, at, m := screentest.Session(t, func() time.Time { return now })
	c, err := at.Choose(m, session.Choice{Only: []string{"belts-reset"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	for s.W.Ledger().Flags["belts"] == "" {
		now = now.Add(time.Minute)
		if p := s.W.Prompt(now); p.Kind == walk.AskWait {
			now = now.Add(p.Left)
			if _, err := s.Settle(now); err != nil {
				t.Fatal(err)
			}
			continue
		}
		say(t, s, walktest.Good(s.W, s.Context(now), s.W.Prompt(now)), now)
	}
	r, err := s.GiveUp("called away", now)
	if err == nil {
		_, err = s.Take(r, now)
	}
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Shows("called away")
	d.Keys("c")
	d.Shows("Left open by an earlier session", "belts loosened", "close it now")
	d.Keys("enter")
	if d.Bench().Machines[m.ID].Session == "" {
		t.Fatalf("no closing session was begun:\n%s", d.View())
	}
	d.Shows("How does the machine stand?")
}

// TestCarriedOnElsewhere resumes a session in a second terminal: the first says so and goes back.
func TestCarriedOnElsewhere(t *testing.T) {
	d, now := sampleWalk(t, 80, 24, theme.Options{Dark: true})
	b := d.Bench()
	lib, _ := procedures.Load(filepath.Join("testdata", "own"))
	other := session.Desk{Store: d.S, Lib: lib, By: "RB"}
	for id := range b.Sessions {
		if _, err := other.Resume(id, now.Add(time.Second)); err != nil {
			t.Fatal(err)
		}
	}
	d.Keys("enter")
	d.Shows("carried on elsewhere")
	d.Keys("esc")
	d.Shows("most pressing")
}

// TestNumberOnRecordPutRight: a count that what is on record does not let pass is mended in two
// keys, and the machine keeps it.
func TestNumberOnRecordPutRight(t *testing.T) {
	now := screentest.Now
	d, at, m := screentest.Session(t, func() time.Time { return now })
	c, err := at.Choose(m, session.Choice{Only: []string{"fans-blow"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	for range 500 {
		s, err := at.Open(s.W.ID)
		if err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(now)
		if p.Step != nil && p.Step.Name == "whole" {
			break
		}
		now = now.Add(5 * time.Second)
		if p.Kind == walk.AskWait {
			now = now.Add(p.Left)
		}
		d.Pass(now)
		if p.Kind != walk.AskNone && p.Kind != walk.AskWait {
			reply(d, s, p, now)
		}
	}
	want := m.Settings["whole-count"]
	d.Shows("record is wrong")
	d.Hides("must be") // a count that closes keeps its number to itself
	d.Keys("9", "enter")
	d.Shows("it must be another")
	d.Keys("esc", "e")
	d.Shows("how many this machine has")
	d.Keys("3", "enter")
	d.Shows("was " + want)
	if got := d.Bench().Machines[m.ID].Settings["whole-count"]; got != "3" {
		t.Errorf("%q is on record, want 3", got)
	}
	d.Keys("3", "enter")
}
