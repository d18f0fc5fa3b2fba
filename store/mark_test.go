package store

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// withMarks makes a machine with care and counts over a year, and with marks on the way; it gives the
// actions in their order.
func withMarks(t testing.TB) (s *Store, c *clock, id string, actions []string) {
	t.Helper()
	s, c = newStore(t)
	s.every = 50 // entries, which are ten actions: the newest is behind the last
	id = addMachine(t, s, "Anvil")
	for i := range 100 {
		c.move(90 * time.Hour)
		es := mustAppend(t, s, act(id, care("oil"), reading(model.Hours, float64(i)),
			swap("blade", model.EndWorn), used("blade", 1), counted("blade", float64(i))))
		actions = append(actions, es[0].Action)
	}
	return s, c, id, actions
}

// craftMarks puts a name in the place of Anvil in all marks but the newest, their sums made right.
func craftMarks(t testing.TB, s *Store, id string) (names int) {
	t.Helper()
	inFile(t, s, func(w writing) error {
		for key, record := markBefore(w.Tx, id, 1<<60); key != nil; {
			was, err := unseal(markBucket, key, record)
			if err != nil {
				return err
			}
			names++
			is := strings.Replace(string(was), "Anvil", "Mark "+string(rune('A'+names-1)), 1)
			place := markedAt(key)
			if err := w.put(markBucket, indexKey(id, place),
				seal(markBucket, indexKey(id, place), []byte(is))); err != nil {
				return err
			}
			key, record = markBefore(w.Tx, id, place)
		}
		return nil
	})
	return names
}

// lateBy is an action so many actions before the latest.
func lateBy(c *clock, id string, actions int, f model.Fact) model.Action {
	return model.Action{Machine: id, At: c.t.Add(-time.Duration(actions*90) * time.Hour),
		Facts: []model.Fact{f}}
}

// TestFoldedOnFromMarks: what was struck or came late is folded on from the newest mark it does not
// reach back over. The marks are given names, to tell which it was.
func TestFoldedOnFromMarks(t *testing.T) {
	corrected := reading(model.Hours, 40)
	corrected.Reading.Correct = true
	first, c, id, actions := withMarks(t)
	whole := read(t, first.Path())
	for _, x := range []struct {
		name  string
		write func(c *clock, id string, as []string) model.Action
		from  string
	}{
		{"the latest struck", func(_ *clock, _ string, as []string) model.Action {
			return model.Action{Facts: []model.Fact{strike(as[99])}}
		}, "Mark B"},
		{"an older one struck", func(_ *clock, _ string, as []string) model.Action {
			return model.Action{Facts: []model.Fact{strike(as[70])}}
		}, "Mark D"},
		{"the first struck", func(_ *clock, _ string, as []string) model.Action {
			return model.Action{Facts: []model.Fact{strike(as[0])}}
		}, "Anvil"},
		{"one that came late", func(c *clock, id string, _ []string) model.Action {
			return lateBy(c, id, 25, care("late"))
		}, "Mark D"},
		{"one that came very late", func(c *clock, id string, _ []string) model.Action {
			return lateBy(c, id, 95, care("late"))
		}, "Anvil"},
		{"a counter corrected", func(_ *clock, id string, _ []string) model.Action {
			return act(id, corrected)
		}, "Anvil"},
	} {
		t.Run(x.name, func(t *testing.T) {
			copied := func() *Store {
				path := filepath.Join(t.TempDir(), "bench.db")
				write(t, path, whole)
				s, err := Open(path, c.now)
				if err != nil {
					t.Fatal(err)
				}
				s.every = first.every
				return s
			}
			a, s, other := x.write(c, id, actions), copied(), copied()
			mustAppend(t, s, a)
			mustCheck(t, s) // and the snapshots are what folding all anew gives
			if n := craftMarks(t, other, id); n < 9 {
				t.Fatalf("%d marks", n)
			}
			mustAppend(t, other, a)
			if name := mustBench(t, other).Machines[id].Name; name != x.from {
				t.Errorf("folded on from %s, want %s", name, x.from)
			}
			if r, err := other.Check(); err != nil || !strings.Contains(strings.Join(r.Problems,
				" "), "the mark") {
				t.Errorf("%v %v", err, r.Problems)
			}
		})
	}
}

// TestHarmedMarksArePassedOver: a mark that is not what was written is no reason to refuse, nor
// believed.
func TestHarmedMarksArePassedOver(t *testing.T) {
	s, _, id, actions := withMarks(t)
	key, record := []byte(nil), []byte(nil)
	inFile(t, s, func(w writing) error {
		key, record = markBefore(w.Tx, id, 1<<60)
		key, record = bytes.Clone(key), bytes.Clone(record)
		harmed := bytes.Clone(record)
		harmed[len(harmed)/2] ^= 4
		return w.put(markBucket, key, harmed)
	})
	if r, err := s.Check(); err != nil || len(r.Problems) != 1 {
		t.Errorf("%v %v", err, r.Problems)
	}
	mustAppend(t, s, model.Action{Facts: []model.Fact{strike(actions[99])}})
	inFile(t, s, func(w writing) error { return w.put(markBucket, key, record) })
	mustCheck(t, s)
}
