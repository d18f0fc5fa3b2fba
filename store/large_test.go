package store

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// largeJournal writes a journal of at least n entries on twelve machines: readings, swaps, care,
// now and then something late, and sessions of sixty steps.
func largeJournal(t testing.TB, path string, n int) (*Store, []string) {
	t.Helper()
	c := &clock{t0.AddDate(-10, 0, 0)}
	s, err := Open(path, c.now)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for i := range 12 {
		ids = append(ids, addMachine(t, s, "Machine "+strconv.Itoa(i)))
	}
	written, hours := len(ids), 0.0
	pace := 10 * 365 * 24 * time.Hour / time.Duration(n/75+1)
	for round := 0; written < n; round++ {
		c.move(pace)
		hours += 1.5
		id := ids[round%len(ids)]
		session := fmt.Sprintf("s%d", round)
		as := []model.Action{
			{Machine: id, Facts: []model.Fact{reading(model.Hours, hours),
				reading(model.Changes, hours*3)}},
			{Machine: id, Facts: []model.Fact{swap("blade", model.EndWorn, "blade-check"),
				used("blade", 1)}},
			{Machine: id, Facts: []model.Fact{reading(model.Starts, hours), care("oil"),
				care("belts")}},
			{Machine: id, Session: session, Ordinal: 1, By: "LN", Facts: []model.Fact{begunFact()}},
		}
		for o := 2; o < 62; o++ {
			as = append(as, model.Action{Session: session, Ordinal: o, By: "LN",
				Facts: []model.Fact{step("passed", fmt.Sprintf("step %d of 61", o))}})
		}
		as = append(as, model.Action{Machine: id, Session: session, Ordinal: 62, By: "LN",
			Facts: []model.Fact{
				{Kind: model.KindClosed, Closed: &model.Closed{State: "ready"}}, care(
					"rods-wipe"), care("fans")}})
		if round%97 == 0 {
			as = append(as, model.Action{Machine: id, At: c.t.Add(-pace / 2),
				Facts: []model.Fact{care("late")}})
		}
		es, err := s.AppendAll(as)
		if err != nil {
			t.Fatal(err)
		}
		written += len(es)
	}
	c.t = t0
	return s, ids
}

// peak runs a call and gives how long it took, and the most memory the process held meanwhile,
// bytes from the system.
func peak(t testing.TB, call func() error) (time.Duration, uint64) {
	t.Helper()
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	runtime.GC()
	stop, most := make(chan bool), make(chan uint64)
	go func() {
		var m runtime.MemStats
		top := uint64(0)
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			runtime.ReadMemStats(&m)
			top = max(top, m.HeapInuse+m.StackInuse)
			select {
			case <-stop:
				tick.Stop()
				most <- top
				return
			case <-tick.C:
			}
		}
	}()
	begun := time.Now()
	err := call()
	took := time.Since(begun)
	stop <- true
	if err != nil {
		t.Fatal(err)
	}
	return took, <-most
}

// TestLargeJournalIsBounded: what goes over a whole journal holds a bounded part of it.
func TestLargeJournalIsBounded(t *testing.T) {
	n := storetest.Times(4_000, 24_000, 545_000)
	dir := os.Getenv("OILCAN_PROOFS_DIR") // where to keep the file for another look
	if dir == "" {
		dir = t.TempDir()
	}
	s, ids := largeJournal(t, filepath.Join(dir, "large.db"), n)
	for name, call := range map[string]func() error{
		"check": func() error {
			r, err := s.Check()
			if err == nil && (!r.OK() || r.Entries < n) {
				err = fmt.Errorf("%d entries, %v", r.Entries, r.Problems)
			}
			return err
		},
		"restore": func() error {
			_, err := Restore(filepath.Join(t.TempDir(), "again.db"), s.Path(), nil)
			return err
		},
		"rebuild": s.Rebuild,
		"an entry by the end of its id": func() error {
			es, err := s.Entries(Filter{After: uint64(n / 2), Most: 1})
			if err != nil {
				return err
			}
			found, err := s.Ending(strings.ToLower(es[0].ID[16:]))
			if err == nil && (len(found) != 1 || found[0].ID != es[0].ID) {
				err = fmt.Errorf("found %v", found)
			}
			return err
		},
		"a page of a machine's book": func() error {
			es, all, err := s.Page(ids[3], 10, 600)
			if err == nil && (len(es) != min(600, all-10) || all < n/120) {
				err = fmt.Errorf("%d of %d entries", len(es), all)
			}
			return err
		},
		"a strike by the end of an id": func() error {
			es, _, err := s.Page(ids[4], 0, 40)
			if err != nil {
				return err
			}
			for _, e := range es {
				if e.Care != nil {
					found, err := s.Ending(e.ID[16:])
					if err == nil && len(found) == 1 {
						_, err = s.Append(model.Action{
							Facts: []model.Fact{strike(found[0].Action)}})
					}
					return err
				}
			}
			return fmt.Errorf("no care among %d entries", len(es))
		},
		"the book of a machine": func() error {
			es, err := s.Entries(Filter{Machine: ids[3], NoSteps: true})
			if err == nil && len(es) < n/120 {
				err = fmt.Errorf("%d entries", len(es))
			}
			return err
		},
		"the whole book in parts": func() error {
			have := 0
			for f := (Filter{Most: 2000}); ; f.After = uint64(have) {
				es, err := s.Entries(f)
				if have += len(es); err != nil || len(es) < f.Most {
					if err == nil && have < n {
						err = fmt.Errorf("%d entries", have)
					}
					return err
				}
			}
		},
	} {
		took, most := peak(t, call)
		t.Logf("%s of %d entries: %v, %d MiB at most", name, n, took.Round(time.Millisecond),
			most>>20)
		if most > 256<<20 {
			t.Errorf("%s held %d MiB", name, most>>20)
		}
	}
}
