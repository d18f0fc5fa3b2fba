package machine_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

var places = []screentest.Place{
	{Name: "machine", Keys: []string{"enter", "n"}},
	{Name: "machine-large", Keys: []string{"enter", "n", "."}},
	{Name: "machine-end", Keys: []string{"enter", "n", "end"}},
	{Name: "machine-form", Keys: []string{"a"}},
	{Name: "machine-form-start", Keys: []string{"a", "Dunlin", "enter"}},
	{Name: "machine-form-many", Keys: []string{"a", "Dunlin", "enter", "1", "1"}},
	{Name: "machine-form-leave", Keys: []string{"a", "Du", "esc"}},
	{Name: "machine-edit", Keys: []string{"/", "her", "enter", "e"}},
	{Name: "care-list", Keys: []string{"/", "her", "enter", "enter", "n", "2"}},
	{Name: "care-list-last", Keys: []string{"/", "her", "enter", "enter", "n", "2", "down", "enter",
		"03/04/2026", "enter"}},
	{Name: "clear-tag", Keys: []string{"/", "tea", "enter", "enter", "5"}},
	{Name: "retire", Keys: []string{"/", "kno", "enter", "enter", "6"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

// The form asks at most twelve things, whatever is answered, and ends on the bench.
func TestAddMachine(t *testing.T) {
	d := screentest.New(t, 80, 24, false, theme.Options{Dark: true})
	d.Keys("a", "Dunlin", "enter", "1") // enclosed with a changer
	d.Keys("enter", "2", "enter", "1", "enter", "enter")
	f := d.R.Top().(asking)
	if n := len(f.Asked()) - 1; n > 12 {
		t.Errorf("%d questions", n)
	}
	f.GoTo("duty")
	d.Keys("2", "2026-03", "enter", "1200", "enter", "4,000", "enter", "ctrl+s")
	m := d.Machine("new1")
	if m == nil {
		t.Fatalf("not added:\n%s", d.View())
	}
	want := model.NewFeatureSet("enclosed", "corexy", "z-screw", "changer", "rods-steel",
		"cutter").List()
	if m.Duty != model.Production || !slices.Equal(m.Features, want) {
		t.Errorf("%s, %v, want %v", m.Duty, m.Features, want)
	}
	if m.Readings[model.Hours].Last.Value != 1200 || m.Readings[model.Changes].Last.Value != 4000 {
		t.Errorf("readings %+v", m.Readings)
	}
	if m.Bought.Format(time.DateOnly) != "2026-03-01" || m.Recounts {
		t.Errorf("bought %v, recounts %v", m.Bought, m.Recounts)
	}
	if want := model.StarterList(d.E.Library.All(),
		model.NewFeatureSet(m.Features...)); !slices.Equal(m.CareList, want) {
		t.Errorf("kept by %v, want the starter list", m.CareList)
	}
	d.Shows("> Dunlin")
}

// Out of its box its counters stand at 0 and are not asked for; nothing of it is unknown or due.
func TestNewMachineOutOfItsBox(t *testing.T) {
	d := screentest.New(t, 80, 24, false, theme.Options{Dark: true})
	d.Keys("a", "Dunlin", "enter", "1")
	f := d.R.Top().(asking)
	f.GoTo("origin")
	d.Keys("new", "enter")
	if f.Row("hours").When() {
		t.Error("the hours of a new machine are asked for")
	}
	d.Keys("ctrl+s")
	gs := d.Data().Gauges["new1"]
	for _, g := range gs {
		if g.Word != model.WordFresh {
			t.Errorf("%s is %s", g.Item, g.Word)
		}
	}
	if len(gs) == 0 {
		t.Error("no gauges")
	}
}

// Another set to start from answers what nobody has answered; what was answered by hand stays.
func TestAnotherStartingSetKeepsWhatWasAnswered(t *testing.T) {
	d := screentest.New(t, 80, 24, false, theme.Options{Dark: true})
	d.Keys("a", "Dunlin", "enter", "1") // enclosed with a changer
	f := d.R.Top().(asking)
	f.GoTo("feature-3")
	d.Keys("2") // steel rods
	f.GoTo("feature-5")
	d.Keys("2") // wheels, beside the screws of the set
	f.GoTo("start")
	d.Keys("4", "ctrl+s") // open, on rails; no screws
	m := d.Machine("new1")
	if m == nil {
		t.Fatalf("not added:\n%s", d.View())
	}
	if want := model.NewFeatureSet("open-frame", "corexy", "rails", "rods-steel",
		"rollers").List(); !slices.Equal(m.Features, want) {
		t.Errorf("%v, want %v", m.Features, want)
	}
}

func TestMachineFormRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
		want string
	}{
		{"no name", []string{"ctrl+s"}, "The machine needs a name"},
		{"a name there is", []string{"heron", "ctrl+s"}, "A machine is already called"},
		{"only a name", []string{"X", "enter", "ctrl+s"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := screentest.Plain(t).Keys("a").Keys(c.keys...)
			n := len(d.Bench().Machines)
			if c.want == "" {
				if n != 6 {
					t.Errorf("%d machines", n)
				}
				return
			}
			d.Shows(c.want)
			if n != 5 {
				t.Errorf("%d machines, want the 5 there were", n)
			}
		})
	}
}

func TestEditKeepsWhatIsNotAsked(t *testing.T) {
	d := screentest.Plain(t).On("her")
	was := d.Machine("m1").MachineFact
	d.Keys("e")
	d.R.Top().(asking).GoTo("setting-clamp-screws")
	d.Keys("4", "ctrl+s")
	is := d.Machine("m1").MachineFact
	if len(is.Features) != len(was.Features) || is.Settings["clamp-screws"] != "4" ||
		is.Name != was.Name {
		t.Errorf("%+v became %+v", was, is)
	}
	d.Keys("e", "down", "down", "2", "ctrl+s")
	if !d.Machine("m1").OutOfUse {
		t.Error("not out of use")
	}
}

// TestAWrongCountStandsAtItsRow: what cannot be counted so is said where it was typed.
func TestAWrongCountStandsAtItsRow(t *testing.T) {
	d := screentest.Plain(t).On("her")
	d.Keys("e")
	f := d.R.Top().(asking)
	f.GoTo("setting-clamp-screws")
	d.Keys("ctrl+u", "0", "ctrl+s")
	if r := f.Row("setting-clamp-screws"); !strings.Contains(r.Bad, "at least 1") ||
		f.Row("save").Bad != "" {
		t.Errorf("at its row %q, at save %q\n%s", r.Bad, f.Row("save").Bad, d.View())
	}
	if got := d.Machine("m1").Settings["clamp-screws"]; got == "0" {
		t.Error("saved all the same")
	}
}

func TestRetireNeedsTheName(t *testing.T) {
	d := screentest.Plain(t).On("kno").Keys("enter", "6", "enter")
	d.Shows("That is not its name")
	d.Keys("Knot", "enter")
	if !d.Machine("m4").Retired {
		t.Error("not retired")
	}
	d.Shows("most pressing", "is retired")
}

func TestTypingLosesNothing(t *testing.T) {
	d := screentest.Plain(t).Keys("a", "Du", "esc", "esc", "nlin")
	d.Shows("Dunlin_")
	d.Keys("esc", "y")
	d.Shows("most pressing")
	d.Keys("a", "esc") // nothing typed: no question
	d.Shows("most pressing")
	d.Keys("a")
	d.Send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("two\nlines"), Paste: true})
	d.Shows("two lines_")
	d.Keys("ctrl+u", "?")
	d.Shows("help: a new machine")
	d.Keys("esc", "Du?")
	d.Shows("Du?_", "f1") // where something is typed ? is a letter, and the key line says so
	d.Send(tea.KeyMsg{Type: tea.KeyF1})
	d.Shows("help: a new machine")
	d.Keys("esc")
	d.Shows("Du?_")
}

func TestClearTag(t *testing.T) {
	d := screentest.Plain(t).On("teal").Keys("enter", "5", "ctrl+s")
	d.Shows("is needed")
	d.Keys("nozzle changed", "enter", "ctrl+u", "ctrl+s")
	d.Shows("A name is needed")
	d.Keys("Bea", "ctrl+s")
	d.Shows("The tag is cleared.")
	if m := d.Machine("m2"); m.Tag != nil || len(m.Findings) != 0 {
		t.Errorf("left: tag %+v, findings %+v", m.Tag, m.Findings)
	}
	d.Keys("5") // no tag, no key
	d.Hides("clear the tag")
}

// TestUnlockingNeedsTheName: power returns to a stopped machine only once its name is typed, from
// its page and from its findings alike.
func TestUnlockingNeedsTheName(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
	}{
		{"tag", []string{"enter", "5"}},
		{"finding", []string{"f", "down", "enter"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := screentest.Plain(t)
			_, err := d.S.Append(model.Action{Machine: "m2", Facts: []model.Fact{
				{Kind: model.KindTag, Tag: &model.TagMove{Kind: "stopped", Why: "smoke"}},
				{Kind: model.KindFinding, Finding: &model.Found{Kind: "stop", Text: "smoke"}}}})
			if err != nil {
				t.Fatal(err)
			}
			d.Look()
			d.On("teal").Keys(c.keys...).Keys("new supply", "ctrl+s")
			d.Shows("That is not its name: type Teal")
			d.Keys("teal", "ctrl+s")
			if d.Machine("m2").Tag == nil {
				t.Fatal("unlocked by another name")
			}
			d.Keys("ctrl+u", "Teal", "ctrl+s")
			if m := d.Machine("m2"); m.Tag != nil || len(m.Findings) != 1 {
				t.Errorf("left: tag %+v, findings %+v", m.Tag, m.Findings)
			}
		})
	}
}

func TestGivenUpStays(t *testing.T) {
	d := screentest.Plain(t)
	_, err := d.S.Append(model.Action{Machine: "m2",
		Facts: []model.Fact{{Kind: model.KindTag,
			Tag: &model.TagMove{Kind: "given-up", Why: "no time"}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.On("teal").Keys("enter")
	d.Hides("clear tag")
	d.Keys("5")
	d.Shows("session given up")
}

// One key keeps or lets go; what guards a person goes by word only, and the machine's page says so.
func TestCareListKeepsAndLetsGo(t *testing.T) {
	lib := append(screentest.Library(),
		&model.Procedure{ID: "electrical-glance", Title: "Look at the mains lead", Kind: model.Look,
			Starter: true, Intervals: screentest.Band(model.Days, 30, 40)})
	d := screentest.New(t, 80, 24, true, theme.Options{Dark: true}, screentest.Of(lib)).On(
		"her").Keys("enter", "2")
	d.Shows("Kept by all that fits it", "9 of 9 that fit it", "x belts reset")
	d.Keys("1")
	if list := d.Machine("m1").CareList; len(list) != 8 || slices.Contains(list, "blade-check") {
		t.Errorf("kept by %v", list)
	}
	d.Keys(" ").Shows(">   belts reset", "7 of 9")
	d.Keys(" ").Shows("x belts reset", "8 of 9")
	standOn(d, "electrical glance")
	d.Keys(" ").Shows(`Type "let go"`)
	d.Keys("enter")
	if !d.Machine("m1").Keeps("electrical-glance") {
		t.Error("let go without the word")
	}
	d.Keys("let go", "enter")
	if d.Machine("m1").Keeps("electrical-glance") {
		t.Error("kept though let go by word")
	}
	d.Keys("esc").Shows("not kept by electrical glance, which guards a person")
}

// The page takes every way to say when care was last done, and says at once what cannot be.
func TestLastDoneOnThePage(t *testing.T) {
	d := screentest.Plain(t).On("her").Keys("enter", "2")
	at := func(name string) { standOn(d, name) }
	at("fans blow")
	d.Keys("enter", "1300 h", "enter").Shows("the counter shows 900")
	d.Keys("ctrl+u", "700 h", "enter").Shows("done on 2026-08-27, later than")
	d.Keys("esc")
	at("screws oil")
	d.Keys("enter", "20.10.2026", "enter")
	if c := d.Machine("m1").Care["screws-oil"]; c.At.Format("2006-01-02") != "2026-10-20" {
		t.Errorf("screws-oil %+v", c)
	}
	at("blade check look")
	d.Keys("enter", "03/04/2026", "enter").Shows("can be 3 April 2026 or 4 March 2026")
}

// asking is what the tests must know of a form.
type asking interface {
	Asked() []*screen.Row
	GoTo(name string)
	Row(name string) *screen.Row
}

// standOn moves the cursor of a care list to what is called so.
func standOn(d *screentest.Desk, name string) {
	d.T.Helper()
	d.Keys("home")
	for range 40 {
		for _, l := range strings.Split(d.View(), "\n") {
			if strings.HasPrefix(l, " > ") && strings.HasPrefix(strings.TrimLeft(l[3:], "x "),
				name+" ") {
				return
			}
		}
		d.Keys("down")
	}
	d.T.Fatalf("%q is not in the list:\n%s", name, d.View())
}
