package session

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// Whoever opens a session that was answered a moment ago and not paused hears it: another program may have it open.
func TestASecondProgramOnASessionIsTold(t *testing.T) {
	now := time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)
	st, err := store.Open(filepath.Join(t.TempDir(), "b.oilcan"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	lib := procedures.Open("")
	f := model.MachineFact{Name: "Heron", Duty: model.Home, Features: model.FullFeatures}
	added, err := st.Append(model.Action{At: now, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	d := Desk{Store: st, Lib: lib, Piped: true}
	c, err := d.Choose(b.Machines[added[0].Machine], Choice{Only: []string{"fans-blow"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	first, err := d.Begin(b.Machines[added[0].Machine], c, now)
	if err != nil {
		t.Fatal(err)
	}
	told := func(after time.Duration) string {
		t.Helper()
		now = now.Add(after)
		second, err := d.Resume(first.W.ID, now)
		if err != nil {
			t.Fatal(err)
		}
		return second.Lately
	}
	if got := told(20 * time.Second); !strings.Contains(got, "left 20 s ago") {
		t.Errorf("after 20 s: %q", got)
	}
	if got := told(183 * time.Second); !strings.Contains(got, "left 3 min ago") {
		t.Errorf("after 183 s: %q", got)
	}
	if got := told(6 * time.Minute); got != "" {
		t.Errorf("after six minutes: %q", got)
	}
	s, err := d.Open(first.W.ID)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Answer("pause", now); err != nil {
		t.Fatal(err)
	}
	if got := told(20 * time.Second); got != "" {
		t.Errorf("after a pause: %q", got)
	}
}
