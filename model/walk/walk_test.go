package walk_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

var start = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// monthly is the worked monthly session of an enclosed machine, belts included.
var monthly = []string{"nozzle-swap-look", "desiccant-look", "plate-wash", "electrical-glance",
	"belt-tone", "fans-blow",
	"gears-blow-look", "sock-check-look", "blade-check-look", "chute-clear-look",
	"wiper-check-look", "feed-path-look",
	"rods-wipe", "layer-lens-clean", "camera-clean", "belts-reset", "self-check", "bed-tram-look", "first-layer"}

// builtIn is the library, read once for all tests: they change none of it.
var builtIn = sync.OnceValues(func() (*procedures.Library, []procedures.Problem) {
	return procedures.Load("")
})

func library(t testing.TB) *procedures.Library {
	t.Helper()
	lib, problems := builtIn()
	for _, p := range problems {
		t.Fatal(p)
	}
	return lib
}

func machine(lib *procedures.Library, features ...string) *model.Machine {
	fs, err := model.ParseFeatures(features)
	if err != nil {
		panic(err)
	}
	m := &model.Machine{MachineFact: model.MachineFact{ID: "M1", Name: "Heron", Features: fs,
		Duty: model.Home, Settings: map[string]string{}}}
	for _, p := range append(lib.All(), lib.SetUps()...) {
		for _, s := range p.Settings {
			switch {
			case s.Default != "":
				m.Settings[s.Name] = s.Default
			case len(s.Options) > 0:
				m.Settings[s.Name] = s.Options[0]
			case s.Number:
				m.Settings[s.Name] = "5"
			default:
				m.Settings[s.Name] = "H1"
			}
		}
	}
	return m
}

// begun are the sessions begun so far, by library, machine and procedures.
var begun sync.Map

// begin plans the ids on a machine and begins the session; one that was begun before is loaded from
// its journal.
func begin(t testing.TB, lib *procedures.Library, m *model.Machine, ids ...string) *walktest.Run {
	t.Helper()
	of, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	key := fmt.Sprintf("%p %s %s", lib, of, ids)
	first, ok := begun.Load(key)
	if !ok {
		first, _ = begun.LoadOrStore(key, beginAs(t, lib, m, walk.Start{}, ids...))
	}
	r := fork(t, first.(*walktest.Run))
	r.M = m
	return r
}

// fork is a session a second time.
func fork(t testing.TB, r *walktest.Run) *walktest.Run {
	t.Helper()
	f, err := r.Fork()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// beginAs begins such a session: how it leaves power, what is owed from before.
func beginAs(t testing.TB, lib *procedures.Library, m *model.Machine, s walk.Start,
	ids ...string) *walktest.Run {
	t.Helper()
	fs := model.NewFeatureSet(m.Features...)
	p, all, err := plan.Assemble(lib.Get, fs, m.Settings, ids,
		plan.Request{SetUps: lib.SetUps(), Unplugged: s.Leave == model.Unplugged})
	if err != nil {
		t.Fatal(err)
	}
	s.Title, s.Ask = "care session", p.SetUpActions > 0 || s.Leave != ""
	for _, id := range all {
		r := lib.Get(id).For(fs, m.Settings)
		s.Items = append(s.Items, r)
		s.Ask = s.Ask || len(r.Require) > 0
	}
	for _, q := range lib.SetUps() {
		s.SetUps = append(s.SetUps, q.For(fs, m.Settings))
	}
	r := &walktest.Run{M: m, Get: lib.Get, Now: start}
	if err := r.Begin(s); err != nil {
		t.Fatal(err)
	}
	return r
}

func finish(t testing.TB, r *walktest.Run) {
	t.Helper()
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	l := r.W.Ledger()
	if r.W.Features()["bedslinger"] && r.W.Believed[model.Power] != "on" {
		delete(l.Inside, "blocks") // without power it stands on them
	}
	if !l.Empty() {
		t.Errorf("the session closed with %s", walk.LedgerLine(l))
	}
}

func careOf(j *walktest.Journal, outcome model.CareOutcome) []string {
	var out []string
	for _, e := range j.Entries {
		if e.Care != nil && e.Care.Outcome == outcome {
			out = append(out, e.Care.Procedure)
		}
	}
	slices.Sort(out)
	return out
}

func TestMonthlySessionFromBeginningToEnd(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), monthly...)
	finish(t, r)
	done := careOf(&r.J, "done")
	for _, id := range monthly {
		if !slices.Contains(done, id) {
			t.Errorf("%s is not recorded as done: %v", id, done)
		}
	}
	if r.W.Believed[model.Power] != "on" || r.W.State() != "ready" {
		t.Errorf("ends with power %s, %s", r.W.Believed[model.Power], r.W.State())
	}
	again, err := walk.Load(r.J.Entries, r.J.Text)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := fmt.Sprint(walk.Summarise(again)), fmt.Sprint(walk.Summarise(r.W)); a != b {
		t.Errorf("loaded anew it reads\n%s\nand not\n%s", a, b)
	}
}

func TestDesiccantLookWalksAlone(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "desiccant-look")
	if n := len(r.W.Blocks); n != 1 {
		t.Fatalf("%d blocks, want the look alone", n)
	}
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskStep {
		t.Fatalf("it asks %s first: %s", p.Kind, p.Question)
	}
	finish(t, r)
}

// TestInterruptedAnywhere ends the program before every single answer in turn: each time the state
// is asked, the ledger counted, and the session still comes to its end with nothing left out.
// Without OILCAN_LONG it does so before each third.
func TestInterruptedAnywhere(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	for _, ids := range [][]string{{"belts-reset"}, {"blade-check"}, {"screws-oil"},
		{"rods-wipe", "layer-lens-clean"}} {
		t.Run(strings.Join(ids, "+"), func(t *testing.T) {
			r := begin(t, lib, m, ids...)
			for n := 0; ; n++ {
				if n%each(3) == 0 {
					interruptAndFinish(t, r, n)
				}
				if over, err := r.Step(); err != nil {
					t.Fatal(err)
				} else if over {
					return
				}
			}
		})
	}
}

// interruptAndFinish loads a session from its journal after a break and walks it to its end.
func interruptAndFinish(t *testing.T, from *walktest.Run, n int) {
	t.Helper()
	was, r := from.W.Believed.Clone(), fork(t, from)
	r.Now = r.Now.Add(2 * time.Hour)
	if r.W.Prompt(r.Now).Kind == walk.AskOver {
		return
	}
	rep, err := r.W.Resume(r.Context())
	if err := r.Take(rep, err); err != nil {
		t.Fatal(err)
	}
	for r.W.Prompt(r.Now).Kind == walk.AskState {
		v := r.W.Prompt(r.Now).Variable
		if _, err := r.Say(asItWas(r, v, was[v])); err != nil {
			t.Fatalf("after %d answers: %v", n, err)
		}
	}
	if err := r.Finish(); err != nil {
		t.Fatalf("interrupted after %d answers: %v", n, err)
	}
	if l := r.W.Ledger(); !l.Empty() {
		t.Fatalf("interrupted after %d answers it closed with %s", n, walk.LedgerLine(l))
	}
}

func asItWas(r *walktest.Run, v model.Variable, was string) string {
	switch {
	case v == model.Heat && was == "cold":
		return "25 °C"
	case v == model.Power && was == "unplugged":
		return r.W.Begun.Settings["plug-tag"]
	case was == "":
		return model.Values[v][0]
	}
	return was
}

// TestBackAnywhere takes every answer back once and gives it again: nothing differs at the end.
func TestBackAnywhere(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := begin(t, lib, m, "belts-reset", "blade-check", "rods-wipe")
	for range 2000 {
		before := r.W.Position() + fmt.Sprint(r.W.Ledger())
		p := r.W.Prompt(r.Now)
		over, err := r.Step()
		if err != nil {
			t.Fatal(err)
		}
		if over {
			break
		}
		if p.Kind == walk.AskWait || r.W.Ended {
			continue
		}
		if _, err := r.Say("back"); err != nil {
			t.Fatal(err)
		}
		if q := r.W.Prompt(r.Now); q.Kind == p.Kind &&
			(q.Step == nil || q.Step.Name == p.Step.Name) {
			if after := r.W.Position() + fmt.Sprint(r.W.Ledger()); after != before {
				t.Fatalf("back led from %s to %s", before, after)
			}
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	finish(t, r)
}
