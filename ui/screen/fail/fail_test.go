package fail_test

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

// onMachine opens a full machine's page.
func onMachine(t *testing.T) *screentest.Desk {
	d := screentest.New(t, 100, 40, true, theme.Options{Dark: true})
	return d.Keys("/", "her", "enter", "enter")
}

// failed are the failed prints on record.
func failed(t *testing.T, d *screentest.Desk) (out []model.PrintFailed) {
	t.Helper()
	entries, err := d.S.Entries(store.Filter{Kinds: []model.EntryKind{model.KindFailed}})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		out = append(out, *e.Failed)
	}
	return out
}

// 9 and the letter; then u takes it back, and s goes on to the care for it.
func TestTwoKeysLogAFailedPrint(t *testing.T) {
	d := onMachine(t).Keys("9")
	d.Shows("print failed on Heron:", "l layers shifted", ". other")
	d.Keys("q")
	d.Shows("q does nothing here")
	d.Keys("l")
	d.Shows("saved 09:14   print failed: Layers shifted to one side", "s the care likely to cure it")
	if got := failed(t, d); len(got) != 1 || got[0].Symptom != "layer-shift" {
		t.Fatalf("%+v", got)
	}
	d.Keys("s")
	d.Shows("layer-shift", "Which way, and when?")
	d.Keys("esc", "esc")
	d.Keys("u")
	d.Shows("undone 09:14   print failed: Layers shifted to one side; the book keeps both")
	d.Keys("4")
	d.Shows("struck")
}

// Another reason is typed; words that are a name of a symptom are that one, a stop is no reason, and
// nothing is saved without a word.
func TestAnotherReason(t *testing.T) {
	d := onMachine(t).Keys("9", ".")
	d.Shows("what was seen, in a few words:")
	d.Keys("enter")
	d.Shows("Another reason needs a note: say in a few words what was seen")
	d.Keys("the", "space", "roll", "space", "ran", "space", "out", "enter")
	d.Shows("print failed: the roll ran out", "u undo")
	d.Hides("the care likely")
	d.Keys("9", ".", "ghosting", "enter")
	d.Shows("print failed: Echoes beside edges")
	if got := failed(t, d); len(got) != 2 || got[0] != (model.PrintFailed{Note: "the roll ran out"}) ||
		got[1] != (model.PrintFailed{Symptom: "ringing", Note: "ghosting"}) {
		t.Fatalf("%+v", got)
	}
	d.Keys("9", "esc")
	d.Hides("print failed on")
	d.Keys("9", ".", "esc", "esc")
	d.Hides("print failed on", "in a few words")
}

// What stops a machine is no reason for a record: its page comes at once.
func TestAStopIsNoReason(t *testing.T) {
	d, _, m := screentest.Session(t, func() time.Time { return screentest.Now })
	d.Keys("enter", "9", ".", "smoke", "enter")
	d.Shows("STOP", "Switch off at the switch.")
	if got := failed(t, d); len(got) != 0 {
		t.Fatalf("%+v", got)
	}
	d.Keys("esc", "esc")
	d.Shows(m.Name + "   ")
	d.Hides("in a few words")
}

// A held key and a paste log nothing.
func TestNothingByItself(t *testing.T) {
	d := onMachine(t).Keys("9")
	d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("lll"), Paste: true})
	if got := failed(t, d); len(got) != 0 {
		t.Fatalf("%+v", got)
	}
}

// The letters are of symptoms there are, no stop among them, each letter once and none twice.
func TestLettersAreSymptoms(t *testing.T) {
	keys := map[string]bool{}
	for _, r := range action.FailReasons {
		s := procedures.Symptoms().Get(r.Symptom)
		if s == nil || s.Stop || keys[r.Key] || r.Key == "u" || r.Key == "q" {
			t.Errorf("%+v", r)
		}
		keys[r.Key] = true
	}
}
