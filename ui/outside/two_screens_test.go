package outside

import (
	"path/filepath"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/session"
)

// begunSession makes a data file with a session begun on Heron, and gives it.
func begunSession(t *testing.T) (file, id string, st *store.Store) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "bench.oilcan")
	benchOf(t, file, heron)
	now, err := time.Parse(time.RFC3339, pinned)
	if err != nil {
		t.Fatal(err)
	}
	if st, err = store.Open(file, func() time.Time { return now }); err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	m, err := model.FindMachine(b, "Heron")
	if err != nil {
		t.Fatal(err)
	}
	lib, _ := procedures.Load("")
	desk := session.Desk{Store: st, Lib: lib, By: "LN"}
	c, err := desk.Choose(m, session.Choice{Only: []string{"rods-wipe"}}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := desk.Begin(m, c, now)
	if err != nil {
		t.Fatal(err)
	}
	return file, s.W.ID, st
}

// TestTwoScreensOnOneSession: of two terminals that walk one session, that which another took it over
// from is told so at its next key and goes back to the bench; the other goes on.
func TestTwoScreensOnOneSession(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	file, id, st := begunSession(t)
	env := []string{"OILCAN_NOW=" + pinned}
	one, two := sit(t, env, bin, "--file", file), sit(t, env, bin, "--file", file)
	for _, s := range []*seat{one, two} {
		s.waits("most pressing")
		s.keys("c")
		s.waits("How does the machine stand?")
	}
	before, err := st.Entries(store.Filter{Session: id}) // the second has gone on with it
	if err != nil {
		t.Fatal(err)
	}
	const pause = "\x10"
	one.keys(pause)
	one.waits("carried on elsewhere")
	two.keys(pause)
	two.waits("most pressing")
	after, err := st.Entries(store.Filter{Session: id})
	if err != nil || len(after) <= len(before) {
		t.Errorf("%d entries, were %d: %v", len(after), len(before), err)
	}
	for i, e := range after {
		if e.Ordinal != i+1 {
			t.Errorf("entry %d has ordinal %d", i+1, e.Ordinal)
		}
	}
	for _, s := range []*seat{one, two} {
		s.keys("\x03")
		s.ends()
		s.left()
	}
	if r, err := st.Check(); err != nil || !r.OK() {
		t.Errorf("%v %v", err, r.Problems)
	}
}
