package bench_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/exp/golden"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/bench"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

var places = []screentest.Place{
	{Name: "bench"},
	{Name: "bench-empty", Empty: true},
	{Name: "bench-find", Keys: []string{"/", "kn"}},
	{Name: "bench-session", Keys: []string{"/", "her", "enter", "enter"}},
	{Name: "help", Keys: []string{"?"}},
}

// Golden frames, every size, one meaning a key, and nothing raw from what is stored.
func TestFrames(t *testing.T) { screentest.Frames(t, screentest.FromBench, places) }

func TestNothingRaw(t *testing.T) { screentest.NothingRaw(t, places) }

func TestFrameInColourAndInASCII(t *testing.T) {
	t.Run("colour", func(t *testing.T) {
		golden.RequireEqual(t,
			screentest.FromBench(t, 80, 24, places[0],
				theme.Options{Dark: true, Profile: theme.ANSI256}).View())
	})
	t.Run("ascii", func(t *testing.T) {
		v := screentest.FromBench(t, 80, 24, places[0],
			theme.Options{Dark: true, ASCII: true}).View()
		for _, r := range v {
			if r > 126 {
				t.Errorf("%q is not ASCII", r)
			}
		}
		golden.RequireEqual(t, v)
	})
}

// The frame of a full bench, and a key on it.
func BenchmarkBenchKeyAndFrame(b *testing.B) {
	d := screentest.New(b, 120, 40, true, theme.Options{Dark: true, Profile: theme.ANSI256})
	down, up := screentest.KeyNames["down"], screentest.KeyNames["up"]
	for i := 0; b.Loop(); i++ {
		k := down
		if i%2 == 1 {
			k = up
		}
		d.R.Update(k)
		d.R.View()
	}
}

func TestBenchOrderAndCursor(t *testing.T) {
	d := screentest.Plain(t)
	ids := map[string]string{"Heron": "m1", "Teal": "m2", "日本鷺": "m3", "Knot": "m4", "Plover": "m5"}
	names := func() string {
		var out []string
		for _, l := range strings.Split(d.View(), "\n") {
			if len(l) > 3 && slices.Contains([]string{"   ", " > "}, l[:3]) {
				if id := ids[strings.Fields(l[3:] + " .")[0]]; id != "" &&
					!slices.Contains(out, id) {
					out = append(out, id)
				}
			}
		}
		return strings.Join(out, " ")
	}
	if got := names(); got != "m1 m2 m3 m4 m5" {
		t.Errorf("most pressing first: %s", got)
	}
	d.On("her").Keys("w", "b", "w")
	if got := names(); got != "m2 m1 m3 m4 m5" {
		t.Errorf("after the swap: %s", got)
	}
	d.Shows(" > Heron")
	d.Keys("o")
	if got := names(); got != "m1 m2 m3 m4 m5" {
		t.Errorf("as added: %s", got)
	}
}

func TestSecondTerminalIsNoticed(t *testing.T) {
	d := screentest.Plain(t)
	d.Hides("cracked")
	_, err := d.S.Append(model.Action{Machine: "m2",
		Facts: []model.Fact{{Kind: model.KindFinding,
			Finding: &model.Found{Kind: "note", Text: "cracked clip"}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.Look() // what a tick does each second when the file has changed
	d.Shows("cracked clip")
}

func TestBegunSessionIsOffered(t *testing.T) {
	d := screentest.Plain(t)
	screentest.Begin(t, d)
	id := d.Machine("m1").Session
	d.On("her").Keys("enter")
	d.Shows("Go on with it?")
	d.Keys("y")
	d.Shows("walk " + id)
	d.Keys("esc", "c")
	d.Shows("walk " + id)
	d.Keys("esc").On("teal").Keys("c")
	d.Shows("plan m2")
}

// TestEmptyBenchLeadsToTheDemo leaves for the demo from an empty bench, and from no other.
func TestEmptyBenchLeadsToTheDemo(t *testing.T) {
	d := screentest.New(t, 80, 24, false, theme.Options{})
	d.Shows("view the demo")
	d.Keys("1")
	if d.R.Err() != screen.ErrDemo {
		t.Errorf("1 on an empty bench: %v", d.R.Err())
	}
	d = screentest.New(t, 80, 24, true, theme.Options{})
	d.Hides("view the demo")
	d.Keys("1")
	if d.R.Err() != nil {
		t.Errorf("1 on a bench with machines: %v", d.R.Err())
	}
}

// TestBenchTitle: a bench is called what the settings say, a demo is a demo whatever they say.
func TestBenchTitle(t *testing.T) {
	for _, c := range []struct {
		name, title string
		demo        bool
		want        string
	}{
		{"named", "north bench", false, "oilcan   north bench"},
		{"without a name", "", false, "oilcan"},
		{"a demo", "north bench", true, "oilcan   invented bench, thrown away when you leave"},
		{"a name that draws", "north\x1b[2J", false, "oilcan   north␛[2J"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got, _ := bench.New(
				screen.NewEnv(screen.Deps{Title: c.title, Demo: c.demo})).Title(); got != c.want {
				t.Errorf("the title is %q, want %q", got, c.want)
			}
		})
	}
}

// startNotes are what a start may have to say of the operator's own files.
var startNotes = []string{
	"config.toml:3: theme cannot be that: write theme = \"dark\" or theme = \"light\"; the defaults are used",
	"spool-holder.toml is left out: line 21, unknown tool \"hex key 3\": write \"hex key 3 mm\"; 2 more in it: oilcan procedures check",
}

// TestBenchNamesFilesLeftOut: a start says on the bench which of the operator's files it goes on
// without.
func TestBenchNamesFilesLeftOut(t *testing.T) {
	for _, x := range []struct {
		name string
		fill bool
		size screentest.Size
	}{{"bench", true, screentest.Size{W: 80, H: 24}},
		{"bench", true, screentest.Size{W: 120, H: 40}}, {"empty", false,
			screentest.Size{W: 80, H: 24}}} {
		t.Run(x.name+"-"+strconv.Itoa(x.size.W)+"x"+strconv.Itoa(x.size.H), func(t *testing.T) {
			d := screentest.New(t, x.size.W, x.size.H, x.fill,
				theme.Options{Dark: true, NoColour: true})
			d.Hides("files")
			d.E.Notes = startNotes
			d.Look()
			d.Shows("files", "theme cannot be that", "spool-holder.toml is left out: line 21")
			golden.RequireEqual(t, d.View())
			d.Fits(screentest.EverySize...)
		})
	}
}

// TestOwnFilesSayYours: an own file in place of a built-in says so where it is listed and planned.
func TestOwnFilesSayYours(t *testing.T) {
	lib := screentest.Library()
	own := *lib[0]
	own.Yours = true
	d := screentest.New(t, 120, 40, true, theme.Options{Dark: true, NoColour: true})
	d.E.Library = append(screentest.Shelf{&own}, lib[1:]...)
	d.Look()
	d.Keys("enter")
	d.Shows("belts reset (yours)")
	if other := lib[1].Title; strings.Contains(d.View(), other+" (yours)") {
		t.Errorf("%s is not an own file", other)
	}
	if g := d.Data().Gauges["m1"]; !hasTitle(g, own.Title+" (yours)") {
		t.Errorf("%+v", g)
	}
}

func hasTitle(gs []model.Gauge, title string) bool {
	for _, g := range gs {
		if g.Title == title {
			return true
		}
	}
	return false
}

// The bench says of each machine how many gauges are due and how long the next session takes: never
// less than the plan, by five minutes at most more.
func TestBenchSaysHowLong(t *testing.T) {
	d := screentest.New(t, 120, 40, true, theme.Options{})
	data := *d.Data()
	data.Next = map[string]float64{"m1": 16.2}
	d.Send(screen.DataChanged{Data: &data})
	line := ""
	for _, l := range strings.Split(d.View(), "\n") {
		if strings.Contains(l[:min(20, len(l))], "Heron") {
			line = l
		}
	}
	due, _ := screen.Due(data.Gauges["m1"])
	if due == 0 || !strings.Contains(line, strconv.Itoa(due)+" 20 min ") {
		t.Errorf("%d due in %q", due, line)
	}
}

// TestBenchAsksAboutTheClock: what is dated ahead of the clock, and a clock that went back, are
// said on the bench.
func TestBenchAsksAboutTheClock(t *testing.T) {
	d := screentest.New(t, 120, 40, true, theme.Options{Dark: true, NoColour: true})
	d.Hides("clock")
	d.E.WrongClock = "the clock of this computer says 2026-11-25 09:14, but the latest entry was written on 2200-01-01: set the clock right"
	wrong, err := store.Open(d.S.Path(), func() time.Time {
		return time.Date(2200, 1, 1, 12, 0, 0, 0, time.UTC)
	})
	if err != nil {
		t.Fatal(err)
	}
	es, err := wrong.Append(model.Action{Machine: "m1",
		Facts: []model.Fact{{Kind: model.KindSwap,
			Swap: &model.Swapped{Part: "blade", End: model.EndWorn}}}})
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	id := strings.ToLower(es[0].ID)
	d.Shows("clock", "was written on 2200-01-01: set the",
		"is dated 2200-01-01, ahead of the clock", "oilcan strike "+id[len(id)-6:])
	d.Fits(screentest.EverySize...)
}

// Many findings leave room for the first gauges at 80x24 and for what is to be bought; those that do
// not fit are counted, and what stops a machine or guards a person stands before the rest.
func TestManyFindingsLeaveRoomForGauges(t *testing.T) {
	d := screentest.Plain(t)
	var facts []model.Fact
	add := func(f model.Found) {
		facts = append(facts, model.Fact{Kind: model.KindFinding, Finding: &f})
	}
	for i := range 12 {
		add(model.Found{Kind: model.FoundNote, Text: "scratch " + strconv.Itoa(i+1),
			Again: screentest.Now.AddDate(0, 0, 1)})
	}
	add(model.Found{Kind: model.FoundNote, Text: "hang a smoke alarm", Step: "alarm",
		Again: screentest.Now.AddDate(0, 0, 20)})
	add(model.Found{Kind: model.FoundPro, Text: "a licensed person looks at the lead"})
	add(model.Found{Kind: model.FoundStop, Text: "the stop does not stop it"})
	_, err := d.S.Append(model.Action{Machine: "m1", Facts: facts})
	if err != nil {
		t.Fatal(err)
	}
	d.Look()
	d.Shows("the first 4 of", "more: enter, by machine", "drawer")
	d.On("her")
	var order []int
	for _, text := range []string{"the stop does not", "a licensed person", "hang a smoke alarm"} {
		order = append(order, strings.Index(d.View(), text))
	}
	if !slices.IsSorted(order) || order[0] < 0 {
		t.Errorf("they stand at %v:\n%s", order, d.View())
	}
}
