package screen

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/theme"
)

var fixedNow = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

// shelf is a small library, so that frames do not move when procedures do.
type shelf []*model.Procedure

func (s shelf) Heads() []*model.Procedure  { return s.All() }
func (s shelf) All() []*model.Procedure    { return s }
func (s shelf) SetUps() []*model.Procedure { return nil }

func band(meter model.Meter, low, high float64) []model.Interval {
	return []model.Interval{{Meter: meter, Low: low, High: high, Basis: "common practice"}}
}

func library() shelf {
	out := shelf{
		{ID: "belts-reset", Title: "Let the belts find their tension again", Kind: model.Care, NeedsAny: []model.Feature{"belt-springclamp", "belt-manual"},
			Intervals: band(model.Days, 90, 113), Settings: []model.Setting{{Name: "clamp-screws", Ask: "How many screws clamp the tensioners?", Number: true}}},
		{ID: "blade-check", Title: "Check and change the cutter blade", Kind: model.Swap, Part: "blade", Needs: []model.Feature{"cutter"}, Intervals: band(model.Cuts, 3000, 5000)},
		{ID: "blade-check-look", Title: "Judge the cut and the cutter arm", Kind: model.Look, Part: "blade", Needs: []model.Feature{"cutter"}, Intervals: band(model.Days, 30, 38)},
		{ID: "desiccant", Title: "Change the drying packs", Kind: model.Swap, Part: "desiccant", Needs: []model.Feature{"changer"}, Intervals: band(model.Days, 7, 10)},
		{ID: "fans-blow", Title: "Blow out the fans", Kind: model.Care, Intervals: band(model.Hours, 200, 250)},
		{ID: "filter-swap", Title: "Change the carbon air filter", Kind: model.Swap, Part: "filter", Needs: []model.Feature{"chamber-filter"}, Intervals: band(model.Days, 72, 90)},
		{ID: "screws-oil", Title: "Clean and oil the bed lead screws", Kind: model.Care, Needs: []model.Feature{"z-screw"}, Intervals: band(model.Days, 90, 113)},
		{ID: "wiper-check", Title: "Check and change the nozzle wiper", Kind: model.Swap, Part: "wiper", Needs: []model.Feature{"wiper"}, Intervals: band(model.Hours, 300, 375)},
	}
	for _, p := range out {
		p.Starter = p.ID != "blade-check"
	}
	return out
}

// seed fills a data file with machines in every condition the bench can show.
func seed(t testing.TB, s *store.Store) {
	t.Helper()
	day := func(n int) time.Time { return fixedNow.AddDate(0, 0, -n) }
	add := func(at time.Time, machine string, facts ...model.Fact) {
		t.Helper()
		if _, err := s.Append(model.Action{At: at, By: "kit", Machine: machine, Facts: facts}); err != nil {
			t.Fatal(err)
		}
	}
	described := func(id, name string, out bool, fs ...model.Feature) model.Fact {
		return model.Fact{Kind: model.KindMachine, Machine: &model.MachineFact{ID: id, Name: name, Duty: model.Home, Features: fs, OutOfUse: out}}
	}
	read := func(k model.Meter, v float64) model.Fact {
		return model.Fact{Kind: model.KindReading, Reading: &model.Reading{Meter: k, Value: v, How: "typed"}}
	}
	care := func(id string) model.Fact {
		return model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: id, Outcome: "done"}}
	}
	swap := func(part string, end model.End, resets ...string) model.Fact {
		return model.Fact{Kind: model.KindSwap, Swap: &model.Swapped{Part: part, End: end, Resets: resets}}
	}
	add(day(200), "m1", described("m1", "Heron", false, model.FullFeatures...), read(model.Hours, 600), read(model.Changes, 500))
	add(day(90), "m1", care("belts-reset"), care("screws-oil"), care("fans-blow"))
	add(day(60), "m1", swap("blade", "worn", "blade-check", "blade-check-look"), swap("wiper", "early", "wiper-check"))
	add(day(40), "m1", swap("filter", "worn", "filter-swap"), read(model.Hours, 800), read(model.Changes, 1500))
	add(day(8), "m1", swap("desiccant", "worn", "desiccant"), read(model.Hours, 900), read(model.Changes, 3412))
	add(day(200), "m2", described("m2", "Teal", false, "enclosed", "chamber-filter", "belt-manual"), read(model.Hours, 100))
	add(day(102), "m2", care("filter-swap"), care("belts-reset"), care("fans-blow"))
	add(day(3), "m2", model.Fact{Kind: model.KindTag, Tag: &model.TagMove{Kind: "waiting", Why: "nozzle on order"}},
		model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: "part", Text: "nozzle tip worn oval", Part: "nozzle", Again: fixedNow.AddDate(0, 0, 3)}})
	add(day(30), "m3", described("m3", "日本鷺 in a long row of letters", false, "bedslinger", "belt-manual"), care("belts-reset"))
	add(day(20), "m4", described("m4", "Knot", false))
	add(day(20), "m5", described("m5", "Plover", false, "bedslinger"), read(model.Hours, 10))
	add(day(10), "m5", described("m5", "Plover", true, "bedslinger"))
	add(day(1), "", model.Fact{Kind: model.KindStock, Stock: &model.StockMove{Part: "blade", Counted: ptr(2.0), Minimum: ptr(2.0), Lead: ptr(6), Why: "counted"}},
		model.Fact{Kind: model.KindStock, Stock: &model.StockMove{Part: "wiper", Counted: ptr(4.0), Why: "counted"}})
}

func ptr[T any](v T) *T { return &v }

// desk is a root on a real data file, driven by keys; commands run at once.
type desk struct {
	t testing.TB
	r *Root
	s *store.Store
}

// newDesk opens the bench. Without fill the data file is empty.
func newDesk(t testing.TB, w, h int, fill bool, o theme.Options) *desk {
	t.Helper()
	return newDeskOf(t, library(), w, h, fill, o)
}

// newDeskOf opens the bench with procedures of the test's own.
func newDeskOf(t testing.TB, lib shelf, w, h int, fill bool, o theme.Options) *desk {
	t.Helper()
	s, err := store.Open(filepath.Join(t.TempDir(), "bench.db"), func() time.Time { return fixedNow })
	if err != nil {
		t.Fatal(err)
	}
	if fill {
		seed(t, s)
	}
	e := NewEnv(Deps{Store: s, Library: lib, Theme: theme.New(o), Now: func() time.Time { return fixedNow }, Operator: "kit", Title: "north bench"})
	n := 0
	e.newID = func(time.Time) string { n++; return "new" + itoa(n) }
	e.Rooms = func(e *Env, to any) Screen {
		switch to := to.(type) {
		case ToPlan:
			return &probe{Base: e.Base(), got: append([]string{"plan", to.Machine}, to.Only...)}
		case ToWalk:
			return &probe{Base: e.Base(), got: []string{"walk", to.Session}}
		case ToSummary:
			return &probe{Base: e.Base(), got: []string{"summary", to.Session}}
		}
		return rooms(e, to)
	}
	data, err := e.load(fixedNow)
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{t: t, r: NewRoot(e, newBench(e), data, fixedNow), s: s}
	d.r.Init()
	d.send(tea.WindowSizeMsg{Width: w, Height: h})
	t.Cleanup(func() {
		rep, err := s.Check()
		if err != nil || len(rep.Problems) > 0 {
			t.Errorf("data file: %v %v", err, rep.Problems)
		}
	})
	return d
}

// send delivers a message and all that follows from it.
func (d *desk) send(msg tea.Msg) {
	_, cmd := d.r.Update(msg)
	d.run(cmd)
}

func (d *desk) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			d.run(c)
		}
	case tea.QuitMsg:
	default:
		d.send(msg)
	}
}

// pass lets time go on to now, with a look at the data file. The program's own second is not sent: it asks for
// the next one, and a desk follows what is asked for.
func (d *desk) pass(now time.Time) {
	d.r.now = now
	d.run(d.r.all(Tick{now}))
	d.run(d.r.poll(true))
}

var keyNames = map[string]tea.KeyMsg{
	"enter": {Type: tea.KeyEnter}, "esc": {Type: tea.KeyEsc}, "up": {Type: tea.KeyUp}, "down": {Type: tea.KeyDown},
	"tab": {Type: tea.KeyTab}, "end": {Type: tea.KeyEnd}, "home": {Type: tea.KeyHome}, "ctrl+s": {Type: tea.KeyCtrlS}, "space": {Type: tea.KeySpace, Runes: []rune(" ")},
	"ctrl+u": {Type: tea.KeyCtrlU}, "left": {Type: tea.KeyLeft}, "right": {Type: tea.KeyRight}, "backspace": {Type: tea.KeyBackspace},
}

// keys presses keys given by name; a word that is no name is typed letter by letter.
func (d *desk) keys(names ...string) *desk {
	for _, n := range names {
		if k, ok := keyNames[n]; ok {
			d.send(k)
			continue
		}
		for _, r := range n {
			d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
	}
	return d
}

func (d *desk) view() string { return d.r.View() }

// shows fails unless every text is on the screen.
func (d *desk) shows(texts ...string) {
	d.t.Helper()
	for _, x := range texts {
		if !strings.Contains(d.view(), x) {
			d.t.Errorf("%q is not on the screen:\n%s", x, d.view())
		}
	}
}

// hides fails if a text is on the screen.
func (d *desk) hides(texts ...string) {
	d.t.Helper()
	for _, x := range texts {
		if strings.Contains(d.view(), x) {
			d.t.Errorf("%q is on the screen:\n%s", x, d.view())
		}
	}
}

func (d *desk) bench() *model.Bench {
	d.t.Helper()
	b, err := d.s.Bench()
	if err != nil {
		d.t.Fatal(err)
	}
	return b
}

// everything is the whole journal.
var everything = store.Filter{}
