package symptom_test

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// places are the stages of the symptom screen, and the keys that lead there from the bench.
var places = []screentest.Place{
	{Name: "choose", Keys: []string{"s"}},
	{Name: "choose-stop", Keys: []string{"s", "/", "scorch"}},
	{Name: "ask", Keys: []string{"s", "/", "ringing", "enter", "enter"}},
	{Name: "ranked", Keys: []string{"s", "/", "layer", "enter", "enter", "1", "enter"}},
	{Name: "ranked-below", Keys: []string{"s", "/", "layer", "enter", "enter", "1", "enter",
		"end"}},
	{Name: "second", Keys: []string{"s", "/", "layer", "enter", "enter", "1", "enter", "a"}},
	{Name: "together", Keys: []string{"s", "/", "layer", "enter", "enter", "1", "enter", "a", "/",
		"ringing", "enter", "enter", "enter"}},
	{Name: "by-hand", Keys: []string{"s", "/", "door", "enter", "enter", "1", "enter", "enter"}},
	{Name: "normal", Keys: []string{"s", "/", "sinks", "enter", "enter"}},
	{Name: "stop", Keys: []string{"s", "/", "scorch", "enter", "enter"}},
	{Name: "stop-by-answer", Keys: []string{"s", "/", "odour", "enter", "enter", "1", "enter"}},
	{Name: "stop-tagged", Keys: []string{"s", "/", "tingles", "enter", "enter", "y"}},
}

func openPlace(t *testing.T, w, h, i int, o theme.Options) *screentest.Desk {
	return screentest.FromSession(t, w, h, places[i], o)
}

// Golden frames, every size, one meaning a key.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromSession, places) }

func TestSymptomCursorStaysInView(t *testing.T) {
	for _, size := range []screentest.Size{{W: 40, H: 10}, {W: 80, H: 24}, {W: 120, H: 40}} {
		for _, i := range []int{0, 3, 6} {
			d := openPlace(t, size.W, size.H, i, theme.Options{Dark: true})
			if i == 0 {
				d.Keys("end", "home")
			}
			for _, key := range []string{"down", "up"} {
				for range 40 {
					if !strings.Contains(d.View(), " > ") {
						t.Fatalf("%s at %v, %s: the cursor is out of view:\n%s", places[i].Name,
							size, key, d.View())
					}
					d.Keys(key)
				}
			}
		}
	}
}

// TestStopScreenOffersNothingElse: no list, no care, no second symptom, no table.
func TestStopScreenOffersNothingElse(t *testing.T) {
	for _, i := range []int{9, 10} {
		d := openPlace(t, 80, 24, i, theme.Options{Dark: true})
		for _, key := range []string{"enter", "a", "g", "down", "/", "c"} {
			d.Keys(key)
			d.Shows("STOP", "The door stays shut")
			d.Hides("likeliest", "electrical", "%")
		}
		d.Keys("y")
		d.Shows("carries the tag")
		b := d.Bench()
		for _, m := range b.Machines {
			if m.Tag == nil || m.Tag.Kind != "stopped" || len(m.Findings) == 0 ||
				m.Findings[len(m.Findings)-1].Kind != "stop" {
				t.Errorf("%+v %+v", m.Tag, m.Findings)
			}
		}
		d.Keys("y", "esc")
		d.Shows("most pressing", "stopped: It smells of scorched")
	}
}

// TestStopPageIsReadWhole: on a low screen the page of fire and shock says that there is more, and
// shows it.
func TestStopPageIsReadWhole(t *testing.T) {
	for _, size := range []screentest.Size{{W: 40, H: 10}, {W: 40, H: 14}, {W: 80, H: 12}} {
		d := openPlace(t, size.W, size.H, 9, theme.Options{Dark: true, NoColour: true})
		d.Shows("STOP", "Switch off at the switch", "more: down")
		for range 30 {
			d.Keys("down")
		}
		d.Shows("closed by name", "above: up")
		for range 30 {
			d.Keys("up")
		}
		seen := ""
		for range 30 {
			seen += d.View()
			d.Keys("down")
		}
		for _, want := range []string{"Else cut the circuit", "The door stays shut", "do not open",
			"call for", "even"} {
			if !strings.Contains(seen, want) {
				t.Errorf("%v: %q is nowhere", size, want)
			}
		}
	}
}

// TestSymptomKeysRest: while a session is begun nothing new is begun, and a second look at the same
// place keeps what was chosen.
func TestSymptomKeysRest(t *testing.T) {
	d, at, m := screentest.Session(t, func() time.Time { return screentest.Now })
	c, err := at.Choose(m, session.Choice{Only: []string{"fans-blow"}}, screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := at.Begin(m, c, screentest.Now); err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Keys("s", "/", "loud", "enter", "enter", "enter", "enter")
	d.Shows("A session is begun on")
	d.Keys("a", "esc")
	d.Shows("care, the likeliest first")
	d.Keys("esc")
	d.Shows("what do you see?")
	d.Keys("esc")
	d.Shows("most pressing")
}

// TestFindNarrows: the list narrows as words are typed, fire and shock first in it; the cursor is
// on what is most likely meant and stays there when the whole list comes back.
func TestFindNarrows(t *testing.T) {
	d := openPlace(t, 80, 24, 0, theme.Options{Dark: true})
	d.Keys("/", "smell")
	d.Shows("scorch-smell", "> It smells", "find: smell_")
	d.Hides("ringing", "stringing")
	d.Keys("ctrl+u", "smel", "l")
	d.Shows("odour")
	d.Keys("ctrl+u", "cobwebs")
	d.Shows("> Strings and hairs")
	d.Hides("odour", "scorch-smell")
	d.Keys("enter")
	d.Shows("> Strings and hairs", "Layers shifted")
	d.Keys("/", "qqxzv")
	d.Shows("no symptom by these words", "Layers shifted")
	d.Keys("backspace", "esc", "/", "jam", "down", "enter")
	d.Shows("Layers shifted")
}

// A symptom of fire or shock chosen by mistake: esc leads back to the list.
func TestEscLeavesTheStopPageForTheList(t *testing.T) {
	d := openPlace(t, 80, 24, 9, theme.Options{Dark: true, NoColour: true})
	d.Shows("STOP")
	d.Keys("esc")
	d.Shows("what do you see?", "Too little plastic comes out")
	d.Keys("esc")
	d.Shows("most pressing")
}

// Help says each key once.
func TestHelpSaysEscOnce(t *testing.T) {
	d := openPlace(t, 80, 24, 0, theme.Options{Dark: true, NoColour: true}).Keys("?")
	if n := strings.Count(d.View(), "\n   esc "); n != 1 {
		t.Errorf("esc is told %d times:\n%s", n, d.View())
	}
}
