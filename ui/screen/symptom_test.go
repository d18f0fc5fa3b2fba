package screen

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/exp/golden"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// symptomPlaces are the stages of the symptom screen, and the keys that lead there from the bench.
var symptomPlaces = []struct {
	name string
	keys []string
}{
	{"choose", []string{"s"}},
	{"choose-stop", []string{"s", "/", "scorch"}},
	{"ask", []string{"s", "/", "ringing", "enter", "enter"}},
	{"ranked", []string{"s", "/", "layer", "enter", "enter", "1", "enter"}},
	{"ranked-below", []string{"s", "/", "layer", "enter", "enter", "1", "enter", "end"}},
	{"second", []string{"s", "/", "layer", "enter", "enter", "1", "enter", "a"}},
	{"together", []string{"s", "/", "layer", "enter", "enter", "1", "enter", "a", "/", "ringing", "enter", "enter", "enter"}},
	{"by-hand", []string{"s", "/", "door", "enter", "enter", "1", "enter", "enter"}},
	{"normal", []string{"s", "/", "sinks", "enter", "enter"}},
	{"stop", []string{"s", "/", "scorch", "enter", "enter"}},
	{"stop-by-answer", []string{"s", "/", "odour", "enter", "enter", "1", "enter"}},
	{"stop-tagged", []string{"s", "/", "tingles", "enter", "enter", "y"}},
	{"materials", []string{"s", "g"}},
	{"plan", []string{"s", "/", "fails-to", "enter", "enter", "2", "enter", "enter"}},
}

func openSymptom(t *testing.T, w, h, i int, o theme.Options) *desk {
	t.Helper()
	now := fixedNow.AddDate(0, 0, -100) // when all but a few were done last
	d, _, _ := sessionDesk(t, func() time.Time { return now })
	now = fixedNow
	d.pass(now)
	d.r.env.Theme = theme.New(o)
	d.send(tea.WindowSizeMsg{Width: w, Height: h})
	return d.keys(symptomPlaces[i].keys...)
}

func TestSymptomFrames(t *testing.T) {
	for i, p := range symptomPlaces {
		for _, size := range []rect{{80, 24}, {120, 40}} {
			t.Run(p.name+"-"+itoa(size.w)+"x"+itoa(size.h), func(t *testing.T) {
				golden.RequireEqual(t, openSymptom(t, size.w, size.h, i, theme.Options{Dark: true}).view())
			})
		}
	}
}

// No frame is larger than its terminal, none draws beyond ASCII where that is asked for, and wherever the
// cursor goes it is in view.
func TestSymptomAtEverySize(t *testing.T) {
	for i, p := range symptomPlaces {
		t.Run(p.name, func(t *testing.T) {
			d := openSymptom(t, 80, 24, i, theme.Options{Dark: true, Profile: theme.TrueColour})
			d.fits(everySize...)
			d.keys("?")
			d.fits(everySize...)
			for _, r := range openSymptom(t, 120, 40, i, theme.Options{Dark: true, ASCII: true, NoColour: true}).view() {
				if r != '\n' && (r < ' ' || r > '~') {
					t.Errorf("%s draws %q", p.name, r)
					break
				}
			}
		})
	}
}

func TestSymptomCursorStaysInView(t *testing.T) {
	for _, size := range []rect{{40, 10}, {80, 24}, {120, 40}} {
		for _, i := range []int{0, 3, 6} {
			d := openSymptom(t, size.w, size.h, i, theme.Options{Dark: true})
			if i == 0 {
				d.keys("end", "home")
			}
			for _, key := range []string{"down", "up"} {
				for range 40 {
					if !strings.Contains(d.view(), " > ") {
						t.Fatalf("%s at %v, %s: the cursor is out of view:\n%s", symptomPlaces[i].name, size, key, d.view())
					}
					d.keys(key)
				}
			}
		}
	}
}

// TestStopScreenOffersNothingElse: no list, no care, no second symptom, no table.
func TestStopScreenOffersNothingElse(t *testing.T) {
	for _, i := range []int{9, 10} {
		d := openSymptom(t, 80, 24, i, theme.Options{Dark: true})
		for _, key := range []string{"enter", "a", "g", "down", "/", "c"} {
			d.keys(key)
			d.shows("STOP", "The door stays shut")
			d.hides("likeliest", "electrical", "%")
		}
		d.keys("y")
		d.shows("carries the tag")
		b := d.bench()
		for _, m := range b.Machines {
			if m.Tag == nil || m.Tag.Kind != "stopped" || len(m.Findings) == 0 || m.Findings[len(m.Findings)-1].Kind != "stop" {
				t.Errorf("%+v %+v", m.Tag, m.Findings)
			}
		}
		d.keys("y", "esc")
		d.shows("most pressing", "stopped: It smells of scorched")
	}
}

// TestStopPageIsReadWhole: on a low screen the page of fire and shock says that there is more, and shows it.
func TestStopPageIsReadWhole(t *testing.T) {
	for _, size := range []rect{{40, 10}, {40, 14}, {80, 12}} {
		d := openSymptom(t, size.w, size.h, 9, theme.Options{Dark: true, NoColour: true})
		d.shows("STOP", "Switch off at the switch", "more: down")
		for range 30 {
			d.keys("down")
		}
		d.shows("closed by name", "above: up")
		for range 30 {
			d.keys("up")
		}
		seen := ""
		for range 30 {
			seen += d.view()
			d.keys("down")
		}
		for _, want := range []string{"Else cut the circuit", "The door stays shut", "do not open", "call for", "even"} {
			if !strings.Contains(seen, want) {
				t.Errorf("%v: %q is nowhere", size, want)
			}
		}
	}
}

// TestFromSymptomToOutcome goes the whole way: symptom, answer, care, session, outcome, and the weight moved.
func TestFromSymptomToOutcome(t *testing.T) {
	for _, asked := range []string{"summary", "later"} {
		t.Run(asked, func(t *testing.T) {
			now := fixedNow
			d, at, m := sessionDesk(t, func() time.Time { return now })
			d.keys("s", "/", "stringing", "enter", "enter", "2", "enter")
			d.shows("Strings and hairs", "no care cures", "Retraction", "Dry a roll")
			d.keys("enter")
			d.shows("for stringing", "> [x]", "Dry a roll")
			for i := 0; d.bench().Machines[m.ID].Session == "" && i < 40; i++ {
				d.keys("enter")
			}
			walkToTheEnd(t, d, at, d.bench().Machines[m.ID].Session, &now)
			d.shows("Did dry-filament cure it: stringing?")
			switch asked {
			case "summary":
				d.keys("1")
			case "later":
				d.keys("enter")
				d.shows("most pressing", "cured? s answers: stringing")
				d.keys("s")
				d.shows("Did dry-filament cure it: stringing?")
				d.keys("1")
			}
			d.shows("Weight of dry-filament here: stringing 5.1, was 5")
			d.hides("Did dry-filament cure it")
			if c := d.bench().Machines[m.ID].Outcomes[model.TallyKey("stringing", "dry-filament")]; c == nil || c.Cured != 1 {
				t.Errorf("%+v", c)
			}
			d.keys("esc", "esc", "esc", "esc", "s", "/", "stringing", "enter", "enter", "enter")
			d.shows("here it cured stringing 1 of 1 times: weight 5.1")
		})
	}
}

// walkToTheEnd answers everything of a session as it should be, until its summary.
func walkToTheEnd(t *testing.T, d *desk, at sitting.Desk, id string, now *time.Time) {
	t.Helper()
	for range 1500 {
		s, err := at.Open(id)
		if err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(*now)
		if p.Kind == walk.AskOver {
			return
		}
		*now = now.Add(5 * time.Second)
		if p.Kind == walk.AskWait {
			*now = now.Add(p.Left)
		}
		d.r.now = *now
		d.run(d.r.all(Tick{*now}))
		if p.Kind != walk.AskNone && p.Kind != walk.AskWait {
			d.answer(s, p, *now)
		}
	}
	t.Fatalf("the session does not end:\n%s", d.view())
}

// TestSymptomKeysRest: while a session is begun nothing new is begun, and a second look at the same place
// keeps what was chosen.
func TestSymptomKeysRest(t *testing.T) {
	d, at, m := sessionDesk(t, func() time.Time { return fixedNow })
	c, err := at.Choose(m, sitting.Choice{Only: []string{"fans-blow"}}, fixedNow)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := at.Begin(m, c, fixedNow); err != nil {
		t.Fatal(err)
	}
	d.run(d.r.poll(true))
	d.keys("s", "/", "loud", "enter", "enter", "enter", "enter")
	d.shows("A session is begun on")
	d.keys("a", "esc")
	d.shows("care, the likeliest first")
	d.keys("esc")
	d.shows("what do you see?")
	d.keys("esc")
	d.shows("most pressing")
}

// TestMaterialsBesideDryFilament: while a roll is dried its table is a key away, and the walk stays where it is.
func TestMaterialsBesideDryFilament(t *testing.T) {
	d, at, m := sessionDesk(t, func() time.Time { return fixedNow })
	c, err := at.Choose(m, sitting.Choice{Only: []string{"dry-filament"}}, fixedNow)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, fixedNow)
	if err != nil {
		t.Fatal(err)
	}
	d.send(Open{To: ToWalk{Session: s.W.ID, Fresh: true}})
	d.shows("Read every roll and spool", " materials")
	d.keys("g")
	d.shows("Bands of a spool dryer", "abrasive")
	d.keys("esc")
	d.shows("Read every roll and spool")
}

// TestFindNarrows: the list narrows as words are typed, fire and shock first in it; the cursor is on what is most
// likely meant and stays there when the whole list comes back.
func TestFindNarrows(t *testing.T) {
	d := openSymptom(t, 80, 24, 0, theme.Options{Dark: true})
	d.keys("/", "smell")
	d.shows("scorch-smell", "> It smells", "find: smell_")
	d.hides("ringing", "stringing")
	d.keys("ctrl+u", "smel", "l")
	d.shows("odour")
	d.keys("ctrl+u", "cobwebs")
	d.shows("> Strings and hairs")
	d.hides("odour", "scorch-smell")
	d.keys("enter")
	d.shows("> Strings and hairs", "Layers shifted")
	d.keys("/", "qqxzv")
	d.shows("no symptom by these words", "Layers shifted")
	d.keys("backspace", "esc", "/", "jam", "down", "enter")
	d.shows("Layers shifted")
}
