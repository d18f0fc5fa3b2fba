package session

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// A session says its hours by the clock on the bench, also after it was read from the file, which keeps UTC: it is
// ten there when the plug is pulled and the heat read.
func TestASessionSaysItsHoursByTheBenchsClock(t *testing.T) {
	now := time.Date(2026, 11, 25, 10, 0, 0, 0, time.FixedZone("east", 5*60*60))
	st, err := store.Open(filepath.Join(t.TempDir(), "b.oilcan"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	lib := procedures.Open("")
	f := model.MachineFact{Name: "Heron", Duty: model.Home, Features: model.FullFeatures, Settings: map[string]string{}}
	for _, p := range append(lib.All(), lib.SetUps()...) {
		f.Settings = p.WithDefaults(f.Settings)
	}
	added, err := st.Append(model.Action{At: now, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	d, m := Desk{Store: st, Lib: lib, Piped: true}, b.Machines[added[0].Machine]
	c, err := d.Choose(m, Choice{Only: []string{"fans-blow"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	read := func() bool { return strings.Contains(walk.StateLine(s.W), "°C at") }
	for range 60 {
		if _, err := s.Settle(now); err != nil || read() {
			break
		}
		x := s.Context(now)
		if _, err := s.Answer(walktest.Good(s.W, x, s.W.Prompt(now)), now); err != nil {
			t.Fatal(err)
		}
	}
	for _, when := range []string{"as written", "as read"} {
		if got := walk.StateLine(s.W); !strings.Contains(got, "at 10:00") {
			t.Errorf("%s: %q, and it was 10:00", when, got)
		}
		if s, err = d.Open(s.W.ID); err != nil {
			t.Fatal(err)
		}
	}
}
