package store

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// bookOf is a machine's book as the journal has it.
func bookOf(t testing.TB, s *Store, machine string) []model.Entry {
	t.Helper()
	es := mustEntries(t, s, Filter{Machine: machine, NoSteps: true})
	slices.SortFunc(es, func(a, b model.Entry) int {
		return cmp.Or(b.At.Compare(a.At), cmp.Compare(b.Seq, a.Seq))
	})
	return es
}

// requirePages requires pages of every length to be the parts of the book, and each entry to be
// found by the end of its id.
func requirePages(t testing.TB, s *Store, machine string) {
	t.Helper()
	whole := bookOf(t, s, machine)
	for _, most := range []int{1, 7, 1000} {
		var got []model.Entry
		for {
			page, all, err := s.Page(machine, len(got), most)
			if err != nil || all != len(whole) || len(page) > most {
				t.Fatalf("%d of %d entries: %v", len(page), all, err)
			}
			if len(page) == 0 {
				break
			}
			got = append(got, page...)
		}
		if string(marshal(t, got)) != string(marshal(t, whole)) {
			t.Fatalf("%d entries by %d, not the book of %d", len(got), most, len(whole))
		}
	}
	for _, e := range whole {
		found, err := s.Ending(strings.ToLower(e.ID[14:]))
		if err != nil || len(found) != 1 || found[0].ID != e.ID {
			t.Fatalf("%s: %v %v", e.ID, found, err)
		}
	}
}

// busy writes what a machine sees in some weeks, with late entries, strikes and a session.
func busy(t testing.TB, s *Store, c *clock, name string) string {
	t.Helper()
	machine, session := begin(t, s, name)
	for i := range 12 {
		c.move(24 * time.Hour)
		es := mustAppend(t, s, act(machine, reading(model.Hours, float64(i)), care("oil")))
		mustAppend(t, s, model.Action{Machine: machine, At: c.t.AddDate(0, 0, -i),
			Facts: []model.Fact{care("late")}})
		mustAppend(t, s, model.Action{Session: session, Ordinal: i + 2,
			Facts: []model.Fact{step("passed", fmt.Sprintf("step %d of 61", i))}})
		if i%5 == 0 {
			mustAppend(t, s, model.Action{Facts: []model.Fact{strike(es[0].Action)}})
			drawer := mustAppend(t, s, model.Action{Facts: []model.Fact{used("blade", -4)}})
			mustAppend(t, s, model.Action{Facts: []model.Fact{strike(drawer[0].Action)}})
		}
	}
	return machine
}

// TestPage: the pages of a machine are its book, the latest first.
func TestPage(t *testing.T) {
	s, c := newStore(t)
	one, two := busy(t, s, c, "Anvil"), busy(t, s, c, "Brass")
	requirePages(t, s, one)
	requirePages(t, s, two)
	requirePages(t, s, "")
	if page, all, err := s.Page("nobody", 0, 10); len(page)+all > 0 || err != nil {
		t.Errorf("%d of %d: %v", len(page), all, err)
	}
	steps := mustEntries(t, s, Filter{Machine: one, Kinds: []model.EntryKind{model.KindWalk}})
	if found, err := s.Ending(steps[0].ID); err != nil || len(found) != 1 {
		t.Errorf("a step by its id: %v %v", found, err)
	}
}

// inFile changes a data file behind the store's back.
func inFile(t testing.TB, s *Store, change func(w writing) error) {
	t.Helper()
	err := transact(s.Path(), access{write: true}, func(tx *bolt.Tx, _ state) error {
		return change(writing{Tx: tx})
	})
	if err != nil {
		t.Fatal(err)
	}
}

// olderWrote makes a file as a program leaves it that knows nothing of the indexes for people and
// wrote the last n entries; all of them where it made the file.
func olderWrote(t testing.TB, s *Store, n uint64) {
	t.Helper()
	inFile(t, s, func(w writing) error {
		end := w.Bucket(journalBucket).Sequence()
		if n >= end {
			for _, name := range [][]byte{timeIndex, idIndex} {
				if err := w.DeleteBucket(name); err != nil {
					return err
				}
			}
			return w.remove(metaBucket, indexedKey)
		}
		for _, name := range [][]byte{timeIndex, idIndex} {
			var gone [][]byte
			err := w.Bucket(name).ForEach(func(k, _ []byte) error {
				if (ixKey{name, k}).seq() > end-n {
					gone = append(gone, slices.Clone(k))
				}
				return nil
			})
			if err != nil {
				return err
			}
			for _, k := range gone {
				if err := w.remove(name, k); err != nil {
					return err
				}
			}
		}
		return putIndexedTo(w, end-n)
	})
}

// TestIndexesFollowTheJournal: an index that an older program passed over is not believed, while
// the file is open and where it may not be written; and it is whole again when the file is opened.
func TestIndexesFollowTheJournal(t *testing.T) {
	for _, n := range []uint64{1, 20, 1 << 40} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			s, c := newStore(t)
			machine := busy(t, s, c, "Anvil")
			olderWrote(t, s, n)
			requirePages(t, s, machine)
			requirePages(t, s, "")
			mustCheck(t, s)
			if err := os.Chmod(s.Path(), 0o400); err != nil {
				t.Fatal(err)
			}
			requirePages(t, reopened(t, s, c), machine)
			if err := os.Chmod(s.Path(), 0o600); err != nil {
				t.Fatal(err)
			}
			if n == 20 { // by the next entry of a program that stayed open
				mustAppend(t, s, act(machine, care("oil")))
				requireKept(t, s)
			}
			again := reopened(t, s, c)
			requireKept(t, again)
			requirePages(t, again, machine)
			requirePages(t, again, "")
			mustCheck(t, again)
		})
	}
}

// requireKept requires the indexes for people to be there and to hold all.
func requireKept(t testing.TB, s *Store) {
	t.Helper()
	err := s.view(func(tx *bolt.Tx, _ state) error {
		if !s.trusts(tx) {
			t.Errorf("kept up to %d of %d", indexedTo(tx), tx.Bucket(journalBucket).Sequence())
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// TestIndexesAreNotBelieved: a key that was lost, changed, or leads elsewhere gives no wrong book:
// the journal is read, check names the key, and the next entry makes the index anew.
func TestIndexesAreNotBelieved(t *testing.T) {
	third := func(w writing, name []byte) []byte {
		c := w.Bucket(name).Cursor()
		c.First()
		c.Next()
		k, _ := c.Next()
		return slices.Clone(k)
	}
	for what, harm := range map[string]func(w writing, name []byte) error{
		"lost": func(w writing, name []byte) error { return w.remove(name, third(w, name)) },
		"a wrong sum": func(w writing, name []byte) error {
			return w.put(name, third(w, name), []byte{1, 2, 3, 4})
		},
		"of another entry": func(w writing, name []byte) error {
			k := third(w, name)
			if err := w.remove(name, k); err != nil {
				return err
			}
			k[len(k)-1] ^= 3
			return putIndex(w, name, k)
		},
		"of nothing": func(w writing, name []byte) error {
			k := third(w, name)
			k[len(k)-2] ^= 0x40
			return putIndex(w, name, k)
		},
	} {
		for _, name := range [][]byte{timeIndex, idIndex} {
			t.Run(what+" "+string(name), func(t *testing.T) {
				s, c := newStore(t)
				machine := busy(t, s, c, "Anvil")
				inFile(t, s, func(w writing) error { return harm(w, name) })
				if r, err := s.Check(); err != nil || r.OK() {
					t.Errorf("check finds nothing: %v", err)
				}
				requirePages(t, s, "")
				requirePages(t, s, machine)
				if !s.badIndex { // a lost end of an id is looked for in the journal
					if err := s.keepAnew(); err != nil {
						t.Fatal(err)
					}
				}
				mustAppend(t, s, act(machine, care("oil")))
				requireKept(t, s)
				requirePages(t, reopened(t, s, c), machine)
				requirePages(t, s, "")
			})
		}
	}
}

// keepAnew makes the indexes for people anew.
func (s *Store) keepAnew() error {
	s.badIndex = true
	return s.keepIndexes()
}

// TestRestoreMakesIndexesAnew: what an index of a backup says is no reason to refuse it, nor
// believed.
func TestRestoreMakesIndexesAnew(t *testing.T) {
	s, c := newStore(t)
	machine := busy(t, s, c, "Anvil")
	src := backupOf(t, s)
	from, err := Open(src, c.now)
	if err != nil {
		t.Fatal(err)
	}
	inFile(t, from, func(w writing) error {
		k, _ := w.Bucket(timeIndex).Cursor().Last()
		return w.put(timeIndex, k, []byte{1, 2, 3, 4})
	})
	dst := filepath.Join(t.TempDir(), "again.db")
	if _, err := Restore(dst, src, nil); err != nil {
		t.Fatal(err)
	}
	again, err := Open(dst, c.now)
	if err != nil {
		t.Fatal(err)
	}
	requireKept(t, again)
	requirePages(t, again, machine)
	mustCheck(t, again)
}

// TestTakingInKeepsIndexes: what is taken in from another bench is found as all else is.
func TestTakingInKeepsIndexes(t *testing.T) {
	from, c := newStore(t)
	machine := busy(t, from, c, "Anvil")
	into, d := newStore(t)
	d.t = c.t
	addMachine(t, into, "Brass")
	if _, err := into.TakeIn(mustEntries(t, from, Filter{}), nil); err != nil {
		t.Fatal(err)
	}
	requireKept(t, into)
	requirePages(t, into, machine)
}

// TestReferred: with what a page refers to, its words are those of the whole book.
func TestReferred(t *testing.T) {
	s, c := newStore(t)
	machine := busy(t, s, c, "Anvil")
	note := mustAppend(t, s, act(machine, model.Fact{Kind: model.KindFinding,
		Finding: &model.Found{Kind: "note", Text: "hums"}}))[0]
	c.move(time.Hour)
	mustAppend(t, s, act(machine, model.Fact{Kind: model.KindSettled,
		Settled: &model.Settled{Finding: note.ID, Why: "gone"}}))
	have := map[string]bool{}
	page, _, err := s.Page(machine, 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	more, err := s.Referred(page)
	if err != nil || len(more) != 1 || more[0].ID != note.ID {
		t.Errorf("of what was closed: %v %v", more, err)
	}
	for _, e := range bookOf(t, s, machine) {
		more, err := s.Referred([]model.Entry{e})
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range more {
			have[string(e.Kind)+" "+string(x.Kind)] = true
		}
	}
	for _, want := range []string{"strike reading", "strike care", "care strike", "settled finding"} {
		if !have[want] {
			t.Errorf("%s is not referred to: %v", want, have)
		}
	}
}
