package session

import (
	"path/filepath"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// ten is when a session begins in tests.
var ten = time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)

// bench is a desk over a data file of its own with one machine, whose clock is now.
func bench(t *testing.T, lib *procedures.Library, f model.MachineFact, now *time.Time) (Desk,
	*model.Machine) {
	t.Helper()
	st, err := store.Open(filepath.Join(t.TempDir(), "b.oilcan"), func() time.Time { return *now })
	if err != nil {
		t.Fatal(err)
	}
	f.Name, f.Duty, f.Features = "Heron", model.Home, model.FullFeatures
	added, err := st.Append(
		model.Action{At: *now, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
	if err != nil {
		t.Fatal(err)
	}
	d := Desk{Store: st, Lib: lib, Piped: true}
	return d, machine(t, d, added[0].Machine)
}

// machine is one as its data file has it now.
func machine(t *testing.T, d Desk, id string) *model.Machine {
	t.Helper()
	b, err := d.Store.Bench()
	if err != nil {
		t.Fatal(err)
	}
	return b.Machines[id]
}

// defaults are the settings of the whole library, as nobody answered them.
func defaults(lib *procedures.Library, settings map[string]string) map[string]string {
	for _, p := range append(lib.All(), lib.SetUps()...) {
		settings = p.WithDefaults(settings)
	}
	return settings
}

// begin begins a session of a choice; it is not settled yet.
func begin(t *testing.T, d Desk, m *model.Machine, c Choice, now time.Time) *Session {
	t.Helper()
	chosen, err := d.Choose(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Begin(m, chosen, now)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// settle writes what needs no person.
func settle(t *testing.T, s *Session, now time.Time) {
	t.Helper()
	if _, err := s.Settle(now); err != nil {
		t.Fatal(err)
	}
}

// begun is a begun session of a full machine, settled, and the clock it is walked by.
func begun(t *testing.T, lib *procedures.Library, pace string, ids ...string) (*Session,
	*time.Time) {
	t.Helper()
	now := ten
	settings := defaults(lib, map[string]string{"plug-tag": "H1"})
	for _, p := range append(lib.All(), lib.SetUps()...) {
		for _, s := range p.Settings {
			if s.Number && settings[s.Name] == "" {
				settings[s.Name] = "5"
			}
		}
	}
	d, m := bench(t, lib, model.MachineFact{Settings: settings}, &now)
	d.By, d.Pace = "LN", pace
	s := begin(t, d, m, Choice{Only: ids}, now)
	settle(t, s, now)
	return s, &now
}

// walked answers well until a prompt comes by.
func walked(t *testing.T, s *Session, now *time.Time, until func(walk.Prompt) bool) walk.Prompt {
	t.Helper()
	for range 300 {
		p := s.W.Prompt(*now)
		if until(p) {
			return p
		}
		*now = now.Add(20 * time.Second)
		if p.Kind == walk.AskWait {
			*now = p.Wait.Until
			settle(t, s, *now)
			continue
		}
		if r, err := s.Answer(walktest.Good(s.W, s.Context(*now), p), *now); err != nil ||
			r.Refusal != "" {
			t.Fatalf("%s: %v %s", p.Question, err, r.Refusal)
		}
	}
	t.Fatal("it does not come by")
	return walk.Prompt{}
}

func sample(t *testing.T) (*Session, *time.Time) {
	t.Helper()
	lib, problems := procedures.Load(filepath.Join("..", "screen", "walk", "testdata", "own"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return begun(t, lib, walk.Steps, "frame-sample")
}

func atGate(g model.Gate) func(walk.Prompt) bool {
	return func(p walk.Prompt) bool { return p.Step != nil && p.Step.Gate == g }
}
