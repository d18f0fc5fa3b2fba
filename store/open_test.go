package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// TestOpenRefuses: what cannot be used is refused with a sentence and left as it is.
func TestOpenRefuses(t *testing.T) {
	otherBolt := func(t *testing.T, path string) {
		db, err := bolt.Open(path, 0o600, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := db.Close(); err != nil {
			t.Fatal(err)
		}
	}
	cases := []struct {
		name string
		make func(t *testing.T, path string)
		is   error
		want string
	}{
		{"a file of no bytes", func(t *testing.T, p string) { write(t, p, nil) }, ErrDamaged,
			"empty (0 bytes)"},
		{"a text", func(t *testing.T, p string) { write(t, p, []byte("hours,changes\n12,400\n")) },
			ErrDamaged, "no oilcan data file"},
		{"a long text", func(t *testing.T, p string) {
			write(t, p, []byte(strings.Repeat("{\"a\":1}\n", 4000)))
		}, ErrDamaged, "no oilcan data file"},
		{"another program's bbolt file", otherBolt, ErrDamaged, "no oilcan data file"},
		{"a folder", func(t *testing.T, p string) {
			if err := os.Mkdir(p, 0o700); err != nil {
				t.Fatal(err)
			}
		}, ErrRefused, "is a folder"}, // it is not damaged: the path is wrong
		{"one of a newer schema", func(t *testing.T, p string) {
			if _, err := openWith(p, func() time.Time { return t0 },
				schema{version: schemaNow + 1}); err != nil {
				t.Fatal(err)
			}
		}, ErrNewer, "newer oilcan"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "bench.db")
			c.make(t, path)
			before, _ := os.ReadFile(path)
			_, err := Open(path, func() time.Time { return t0 })
			if !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.want) ||
				strings.Contains(err.Error(), "\n") {
				t.Errorf("%v, want %v: %q", err, c.is, c.want)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("the file was changed")
			}
		})
	}
}

func write(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestOpenMakesFolderAndNothingElse(t *testing.T) {
	s, _ := newStore(t)
	files, err := os.ReadDir(filepath.Dir(s.Path()))
	if err != nil || len(files) != 1 {
		t.Errorf("%v, %v", files, err)
	}
	info, err := os.Stat(s.Path())
	if err != nil || info.Mode().Perm() != fileMode {
		t.Errorf("%v, %v", info.Mode(), err)
	}
}

// TestCreateLeavesNoStub: where a file cannot be made, nothing lies there afterwards.
func TestCreateLeavesNoStub(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "file"), []byte("x"))
	if _, err := Open(filepath.Join(dir, "file", "bench.db"), func() time.Time {
		return t0
	}); err == nil {
		t.Error("made a data file inside a file")
	}
	if err := create(filepath.Join(dir, "none", "bench.db"), schemaNow, t0); err != nil {
		t.Error(err)
	}
	if files, _ := os.ReadDir(filepath.Join(dir, "none")); len(files) != 1 {
		t.Errorf("%v", files)
	}
}

// TestCreateTwice: of two programs that start together, both work with one file.
func TestCreateTwice(t *testing.T) {
	s, c := newStore(t)
	addMachine(t, s, "Anvil")
	if err := create(s.Path(), schemaNow, c.now()); err != nil {
		t.Fatal(err)
	}
	if b := mustBench(t, s); len(b.Machines) != 1 {
		t.Error("the second one replaced the first one's file")
	}
}

func TestReadOnly(t *testing.T) {
	if os.Geteuid() == 0 { // who may write anywhere
		asUser(t, 1000)
		return
	}
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	dir := filepath.Dir(s.Path())
	for path, mode := range map[string]os.FileMode{s.Path(): 0o400, dir: 0o500} {
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
	}
	t.Cleanup(func() { os.Chmod(dir, 0o700); os.Chmod(s.Path(), 0o600) })
	r, err := Open(s.Path(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	if b := mustBench(t, r); b.Machines[id] == nil {
		t.Error("cannot be read")
	}
	if _, err := r.Append(model.Action{Machine: id, Facts: []model.Fact{care("oil")}}); !errors.Is(
		err, ErrReadOnly) {
		t.Error(err)
	}
	if _, err := Open(filepath.Join(dir, "new.db"), c.now); !errors.Is(err, ErrReadOnly) {
		t.Error(err)
	}
}

func TestLocked(t *testing.T) {
	s, _ := newStore(t)
	id := addMachine(t, s, "Anvil")
	db, err := bolt.Open(s.Path(), fileMode, &bolt.Options{Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	s.wait = time.Millisecond
	_, err = s.Append(model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
	if !errors.Is(err, ErrLocked) || !strings.Contains(err.Error(), "try again") {
		t.Error(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
}

// TestMigrate takes a file through an artificial step: each machine's index is emptied, which the
// rebuild after the steps has to mend, and a mark is left.
func TestMigrate(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{reading(model.Hours, 5)}})
	mark := []byte("mark")
	next := schema{version: schemaNow + 1, steps: map[int]func(*bolt.Tx) error{
		schemaNow: func(tx *bolt.Tx) error {
			if err := tx.DeleteBucket(machineIndex); err != nil {
				return err
			}
			if _, err := tx.CreateBucket(machineIndex); err != nil {
				return err
			}
			return tx.Bucket(metaBucket).Put(mark, mark)
		}}}
	up, err := openWith(s.Path(), c.now, next)
	if err != nil {
		t.Fatal(err)
	}
	mustCheck(t, up)
	if b := mustBench(t, up); b.Machines[id].Readings[model.Hours].Last.Value != 5 {
		t.Errorf("%+v", b.Machines[id])
	}
	if _, err := openWith(s.Path(), c.now, next); err != nil {
		t.Errorf("opened a second time: %v", err)
	}
	kept := s.Path() + fmt.Sprintf(".v%d.bak", schemaNow)
	if r, err := checkFile(kept, schemaNow); err != nil || !r.OK() {
		t.Errorf("the copy kept: %v %v", r.Problems, err)
	}
	if _, err := s.Bench(); !errors.Is(err, ErrNewer) {
		t.Errorf("the older program: %v", err)
	}
	if _, err := Restore(s.Path(), kept, nil); err != nil {
		// back to what the test's own check understands
		t.Fatal(err)
	}
}

func TestMigrationThatFails(t *testing.T) {
	s, c := newStore(t)
	addMachine(t, s, "Anvil")
	boom := errors.New("boom")
	next := schema{version: schemaNow + 1, steps: map[int]func(*bolt.Tx) error{
		schemaNow: func(tx *bolt.Tx) error {
			if err := tx.DeleteBucket(journalBucket); err != nil {
				return err
			}
			return boom
		}}}
	if _, err := openWith(s.Path(), c.now, next); !errors.Is(err, boom) ||
		!strings.Contains(err.Error(), fmt.Sprintf(".v%d.bak", schemaNow)) {
		t.Error(err)
	}
	if b := mustBench(t, s); len(b.Machines) != 1 {
		t.Error("the failed step left something behind")
	}
	if _, err := openWith(s.Path(), c.now, schema{version: schemaNow + 2}); !errors.Is(err,
		ErrNewer) {
		t.Errorf("no step from this version: %v", err)
	}
}

// TestOtherFold: snapshots of another fold are folded again, on opening and while reading.
func TestOtherFold(t *testing.T) {
	s, c := newStore(t)
	id, session := begin(t, s, "Anvil")
	mustAppend(t, s, model.Action{Machine: id,
		Facts: []model.Fact{reading(model.Hours, 5), counted("blade", 3)}})
	spoil := func(version int) {
		t.Helper()
		err := s.update(func(w writing) error {
			m, err := readMeta(w.Tx)
			if err != nil {
				return err
			}
			m.Fold = version
			if err := writeMeta(w, m); err != nil {
				return err
			}
			return errors.Join(
				putSnapshot(w, machineBucket, id,
					machineSnapshot{version,
						&model.Machine{MachineFact: model.MachineFact{ID: id, Name: "stale"}}},
					false),
				putSnapshot(w, sessionBucket, session,
					sessionRecord{version, 2, &model.Session{ID: session, Title: "stale"}}, false),
				putSnapshot(w, machineBucket, drawerKey, drawerSnapshot{version, model.Drawer{}},
					false))
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	right := func(s *Store) {
		t.Helper()
		b := mustBench(t, s)
		if b.Machines[id].Name != "Anvil" || b.Sessions[session].Title != "monthly" ||
			*b.Drawer["blade"].Count != 3 {
			t.Errorf("%+v", b.Machines[id])
		}
	}
	spoil(foldNow - 1)
	right(s)
	again, err := Open(s.Path(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	mustCheck(t, again)
	right(again)
	spoil(foldNow + 1)
	mustAppend(t, s, model.Action{Machine: id, Session: session, Ordinal: 2,
		Facts: []model.Fact{step("passed", ""), care("oil"), used("blade", 0)}})
}
