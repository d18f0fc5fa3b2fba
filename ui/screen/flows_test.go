package screen

import (
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

func plainDesk(t *testing.T) *desk { return newDesk(t, 80, 24, true, theme.Options{Dark: true}) }

func (d *desk) machine(id string) *model.Machine { return d.bench().Machines[id] }

// on moves the cursor of the bench to a machine.
func (d *desk) on(name string) *desk { return d.keys("/", name, "enter") }

func TestSwapIsThreeKeysAndUndone(t *testing.T) {
	d := plainDesk(t).on("her")
	lives := len(d.machine("m1").Parts["blade"].Lives)
	d.keys("w", "b", "w")
	d.shows("saved 09:14   blade on Heron, worn at 3,412 changes; 1 left", "u undo")
	p := d.machine("m1").Parts["blade"]
	if n := len(p.Lives); n != lives+1 || p.Lives[n-1].End != "worn" || !p.Since.Equal(fixedNow) {
		t.Errorf("blade after the swap: %+v", p)
	}
	d.keys("j", "k", "u") // moving leaves the line standing
	d.shows("undone 09:14", "; the book keeps both")
	d.hides(" left; the book")
	if n := len(d.machine("m1").Parts["blade"].Lives); n != lives {
		t.Errorf("%d lives after undo, want %d", n, lives)
	}
	if n := *d.bench().Drawer["blade"].Count; n != 2 {
		t.Errorf("%v blades in the drawer after undo, want 2", n)
	}
}

func TestSwapLogsNothing(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(*desk)
	}{
		{"esc at the part", func(d *desk) { d.keys("w", "esc") }},
		{"esc at the end, twice", func(d *desk) { d.keys("w", "b", "esc", "esc") }},
		{"a part the machine lacks", func(d *desk) { d.on("teal").keys("w", "b", "w") }},
		{"w held down", func(d *desk) {
			at := fixedNow
			for range 20 {
				d.send(stamped{Key: runes("w"), At: at})
				at = at.Add(30 * time.Millisecond)
			}
		}},
		{"w in one burst", func(d *desk) { d.send(stamped{Key: runes("www"), At: fixedNow}) }},
		{"pasted", func(d *desk) { d.send(stamped{Key: pasted("wbw"), At: fixedNow}) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := plainDesk(t).on("her")
			before, _ := d.s.Entries(everything)
			c.do(d)
			if after, _ := d.s.Entries(everything); len(after) != len(before) {
				t.Errorf("%d entries were written", len(after)-len(before))
			}
		})
	}
}

func TestBenchOrderAndCursor(t *testing.T) {
	d := plainDesk(t)
	names := func() string {
		var out []string
		for _, m := range d.r.stack[0].(*bench).list {
			out = append(out, m.ID)
		}
		return strings.Join(out, " ")
	}
	if got := names(); got != "m1 m2 m3 m4 m5" {
		t.Errorf("most pressing first: %s", got)
	}
	d.on("her").keys("w", "b", "w")
	if got := names(); got != "m2 m1 m3 m4 m5" {
		t.Errorf("after the swap: %s", got)
	}
	if at := d.r.stack[0].(*bench).at; at != "m1" {
		t.Errorf("the cursor went to %s", at)
	}
	d.keys("o")
	if got := names(); got != "m1 m2 m3 m4 m5" {
		t.Errorf("as added: %s", got)
	}
}

func TestSecondTerminalIsNoticed(t *testing.T) {
	d := plainDesk(t)
	d.hides("cracked")
	_, err := d.s.Append(model.Action{Machine: "m2", Facts: []model.Fact{{Kind: model.KindFinding, Finding: &model.Found{Kind: "note", Text: "cracked clip"}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.run(d.r.poll(true)) // what a tick does each second when the file has changed
	d.shows("cracked clip")
}

func TestMeters(t *testing.T) {
	d := plainDesk(t).on("her").keys("m", "950", "enter", "3500", "ctrl+s")
	if s := d.machine("m1").Readings[model.Hours]; s.Last.Value != 950 {
		t.Errorf("hours %v", s.Last.Value)
	}
	d.shows("the gauges follow", "most pressing")
}

func TestMetersAskAgain(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
		want float64 // of the running meter
		off  float64
	}{
		{"read again", []string{"50", "enter", "ctrl+u", "951", "ctrl+s"}, 951, 0},
		{"correction", []string{"850", "enter", "e", "ctrl+s"}, 850, 0},
		{"new counter", []string{"50", "enter", "a", "ctrl+s"}, 900, 850},
		{"changed after it was flagged", []string{"50", "enter", "a", "backspace", "1", "ctrl+s", "ctrl+u", "960", "ctrl+s"}, 960, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := plainDesk(t).on("her").keys("m").keys(c.keys...)
			s := d.machine("m1").Readings[model.Hours]
			if s.Last.Value != c.want || s.Offset != c.off {
				t.Errorf("meter %v, offset %v; want %v, %v\n%s", s.Last.Value, s.Offset, c.want, c.off, d.view())
			}
		})
	}
	d := plainDesk(t).on("her").keys("m", "50", "enter", "a")
	d.shows("A new counter, not saved yet")
	d.hides("Saved as")
	d.keys("ctrl+s")
	d.shows("Saved as a new counter")
	d = plainDesk(t).on("her").keys("m", "50", "enter", "a")
	d.keys("backspace")
	d.hides("A new counter")
	d = plainDesk(t).on("her").keys("m", "999999", "enter")
	d.shows("over 24 hours a day")
	d.keys("esc", "n") // stays
	d.shows("999999")
	d.keys("esc", "y")
	d.shows("most pressing")
}

// The form asks at most twelve things, whatever is answered, and ends on the bench.
func TestAddMachine(t *testing.T) {
	d := newDesk(t, 80, 24, false, theme.Options{Dark: true})
	d.keys("a", "Dunlin", "enter", "1") // enclosed with a changer
	d.keys("enter", "2", "enter", "1", "enter", "enter")
	f := d.r.top().(*machineForm)
	if n := len(f.asked()) - 1; n > 12 {
		t.Errorf("%d questions", n)
	}
	f.goTo("duty")
	d.keys("2", "2026-03", "enter", "1200", "enter", "4,000", "enter", "ctrl+s")
	m := d.machine("new1")
	if m == nil {
		t.Fatalf("not added:\n%s", d.view())
	}
	want := model.NewFeatureSet("enclosed", "corexy", "z-screw", "changer", "rods-steel", "cutter").List()
	if m.Duty != model.Production || !slices.Equal(m.Features, want) {
		t.Errorf("%s, %v, want %v", m.Duty, m.Features, want)
	}
	if m.Readings[model.Hours].Last.Value != 1200 || m.Readings[model.Changes].Last.Value != 4000 {
		t.Errorf("readings %+v", m.Readings)
	}
	if m.Bought.Format(time.DateOnly) != "2026-03-01" || m.Recounts {
		t.Errorf("bought %v, recounts %v", m.Bought, m.Recounts)
	}
	if want := model.StarterList(d.r.env.Library.All(), model.NewFeatureSet(m.Features...)); !slices.Equal(m.CareList, want) {
		t.Errorf("kept by %v, want the starter list", m.CareList)
	}
	d.shows("> Dunlin")
}

// Out of its box its counters stand at 0 and are not asked for; nothing of it is unknown or due.
func TestNewMachineOutOfItsBox(t *testing.T) {
	d := newDesk(t, 80, 24, false, theme.Options{Dark: true})
	d.keys("a", "Dunlin", "enter", "1")
	f := d.r.top().(*machineForm)
	f.goTo("origin")
	d.keys("new", "enter")
	if f.row("hours").when() {
		t.Error("the hours of a new machine are asked for")
	}
	d.keys("ctrl+s")
	gs := d.r.data.Gauges["new1"]
	for _, g := range gs {
		if g.Word != model.WordFresh {
			t.Errorf("%s is %s", g.Item, g.Word)
		}
	}
	if len(gs) == 0 {
		t.Error("no gauges")
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
			d := plainDesk(t).keys("a").keys(c.keys...)
			n := len(d.bench().Machines)
			if c.want == "" {
				if n != 6 {
					t.Errorf("%d machines", n)
				}
				return
			}
			d.shows(c.want)
			if n != 5 {
				t.Errorf("%d machines, want the 5 there were", n)
			}
		})
	}
}

func TestEditKeepsWhatIsNotAsked(t *testing.T) {
	d := plainDesk(t).on("her")
	was := d.machine("m1").MachineFact
	d.keys("e")
	d.r.top().(*machineForm).goTo("setting-clamp-screws")
	d.keys("4", "ctrl+s")
	is := d.machine("m1").MachineFact
	if len(is.Features) != len(was.Features) || is.Settings["clamp-screws"] != "4" || is.Name != was.Name {
		t.Errorf("%+v became %+v", was, is)
	}
	d.keys("e", "down", "down", "2", "ctrl+s")
	if !d.machine("m1").OutOfUse {
		t.Error("not out of use")
	}
}

func TestFindings(t *testing.T) {
	d := plainDesk(t).on("teal").keys("f", "a", "squeal at the rod", "enter", "7d", "ctrl+s")
	d.shows("squeal at the rod", "look again 2026-12-02", "2 standing")
	d.keys("enter", "ctrl+s")
	d.shows("is needed")
	d.keys("nozzle changed", "ctrl+s")
	d.shows("1 standing")
	if m := d.machine("m2"); m.Tag != nil {
		t.Errorf("the tag %q stands though its part came", m.Tag.Kind)
	}
}

// Two keys and what was seen stop a machine outside a session.
func TestStopOutsideASession(t *testing.T) {
	d := plainDesk(t).on("heron").keys("f", "1")
	d.shows("stop: do not use", "pull the plug if you can reach it")
	d.keys("ctrl+s")
	d.shows("is needed")
	d.keys("brown plug at the bed", "ctrl+s")
	d.shows("stop", "brown plug at the bed", "1 standing")
	if m := d.machine("m1"); m.Tag == nil || m.Tag.Kind != "stopped" || m.Tag.Why != "brown plug at the bed" {
		t.Errorf("the tag is %+v", m.Tag)
	}
}

func TestDrawer(t *testing.T) {
	d := plainDesk(t).keys("d", "enter", "5", "enter", "ctrl+u", "1", "ctrl+s")
	b := d.bench().Drawer["blade"]
	if *b.Count != 5 || b.Minimum != 1 || b.Lead != 6 {
		t.Errorf("%+v", *b)
	}
	d.keys("a", "3", "ctrl+s")
	if n := *d.bench().Drawer["blade"].Count; n != 8 {
		t.Errorf("%v blades", n)
	}
	d.keys("a", "ctrl+s")
	d.shows("Type how many came")
}

func TestStrikeFromTheBook(t *testing.T) {
	d := plainDesk(t).on("her").keys("enter", "4", "u", "ctrl+s")
	d.shows("A reason is needed")
	d.keys("wrong machine", "ctrl+s")
	d.keys("home")
	d.shows("(struck)", "wrong machine")
	if v := d.machine("m1").Readings[model.Changes].Last.Value; v != 1500 {
		t.Errorf("changes %v: the reading still counts", v)
	}
}

func TestRetireNeedsTheName(t *testing.T) {
	d := plainDesk(t).on("kno").keys("enter", "6", "enter")
	d.shows("That is not its name")
	d.keys("Knot", "enter")
	if !d.machine("m4").Retired {
		t.Error("not retired")
	}
	d.shows("most pressing", "is retired")
}

func TestBegunSessionIsOffered(t *testing.T) {
	d := plainDesk(t)
	begin(t, d)
	id := d.machine("m1").Session
	d.on("her").keys("enter")
	d.shows("Go on with it?")
	d.keys("y")
	d.shows("walk " + id)
	d.keys("esc", "c")
	d.shows("walk " + id)
	d.keys("esc").on("teal").keys("c")
	d.shows("plan m2")
}

func TestTypingLosesNothing(t *testing.T) {
	d := plainDesk(t).keys("a", "Du", "esc", "esc", "nlin")
	d.shows("Dunlin_")
	d.keys("esc", "y")
	d.shows("most pressing")
	d.keys("a", "esc") // nothing typed: no question
	d.shows("most pressing")
	d.keys("a")
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("two\nlines"), Paste: true})
	d.shows("two lines_")
	d.keys("ctrl+u", "?")
	d.shows("help: a new machine")
}
