package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// openings are files that are written to as they are opened: how each is made of a good one.
var openings = []struct {
	name string
	make func(t *testing.T, s *Store)
	full bool   // a full disk keeps it from being opened
	kept string // how the copy of the file as it was is called; "" where it may be read as it is
	said string // why it has to be written before it is read
}{
	{"torn", func(t *testing.T, s *Store) {
		torn := read(t, s.Path())
		clear(torn[newestHead(t, torn)+pageHeader:][:metaSize])
		write(t, s.Path(), torn)
	}, true, ".torn-*", "one of the two heads of"},
	{"of an older schema", func(t *testing.T, s *Store) {
		inFile(t, s, func(w writing) error {
			m, err := readMeta(w.Tx)
			m.Schema = 1
			return errors.Join(err, writeMeta(w, m))
		})
	}, true, ".v1.bak*", "bringing the data file up to date"},
	{"of another fold", func(t *testing.T, s *Store) {
		inFile(t, s, func(w writing) error {
			m, err := readMeta(w.Tx)
			m.Fold = foldNow - 1
			return errors.Join(err, writeMeta(w, m))
		})
	}, true, "", ""},
	{"without indexes", func(t *testing.T, s *Store) {
		olderWrote(t, s, 1<<40)
		compact(t, s.Path())
	}, false, "", ""},
}

// compact leaves no free pages in a file, into which could be written on a full disk.
func compact(t *testing.T, path string) {
	t.Helper()
	small := filepath.Join(t.TempDir(), "small.db")
	from, err := bolt.Open(path, fileMode, nil)
	if err != nil {
		t.Fatal(err)
	}
	to, err := bolt.Open(small, fileMode, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(bolt.Compact(to, from, 0), to.Close(), from.Close()); err != nil {
		t.Fatal(err)
	}
	write(t, path, read(t, small))
}

// openingDisk makes a file of a kind on a small disk, and gives its bytes and how many entries it
// must hold whatever happens.
func openingDisk(t *testing.T, n int) (dir string, c *clock, bad []byte, must int) {
	t.Helper()
	dir, s, c, id := smallDisk(t, 4<<20)
	if s == nil {
		return "", nil, nil, 0
	}
	var as []model.Action // in one go, which leaves no free pages to write into
	for i := range 400 {
		as = append(as, act(id, care("oil"), counted("blade", float64(i))))
	}
	if _, err := s.AppendAll(as); err != nil {
		t.Fatal(err)
	}
	must = len(mustEntries(t, s, Filter{}))
	if openings[n].name == "torn" { // the transaction whose head is torn was not answered for
		mustAppend(t, s, act(id, care("late")))
	}
	openings[n].make(t, s)
	bad = read(t, s.Path())
	h, err := readHead(bytes.NewReader(bad), int64(len(bad)))
	if err != nil {
		t.Fatal(err)
	}
	return dir, c, bad[:h.pages*uint64(h.pageSize)], must // bbolt leaves holes behind them
}

// TestFullDiskAtOpening leaves room for some pages more each time: a file that is written to as it
// is opened is put right or not, says so in one sentence, holds all that was answered for, and is
// put right at the next start with room. Without OILCAN_LONG it takes larger leaps.
func TestFullDiskAtOpening(t *testing.T) {
	for n, o := range openings {
		t.Run(strings.ReplaceAll(o.name, " ", "-"), func(t *testing.T) {
			dir, c, bad, must := openingDisk(t, n)
			if bad == nil {
				return
			}
			path, full, good := filepath.Join(dir, "bench.db"), 0, 0
			for pages := 0; good < 3 && pages < 600; pages += 1 + pages/storetest.Times(1, 3, 3) {
				write(t, path, bad)
				fillUp(t, dir, pages*page)
				s, err := Open(path, c.now)
				switch {
				case err != nil:
					full++
					requireFull(t, o.full, err)
				case len(mustEntries(t, s, Filter{})) != must:
					t.Errorf("opened with room for %d pages, it lacks entries", pages)
				case kept(t, s):
					good++
				default: // the journal is read instead of the indexes
					full++
				}
				requireNothingLeft(t, dir, o.kept)
				if err := os.Remove(filepath.Join(dir, "filler")); err != nil {
					t.Fatal(err)
				}
				again, err := Open(path, c.now)
				if err != nil {
					t.Fatalf("with room again after %d pages: %v", pages, err)
				}
				if len(mustEntries(t, again, Filter{})) != must {
					t.Errorf("with room again after %d pages it lacks entries", pages)
				}
				requireKept(t, again)
				mustCheck(t, again)
				requireNothingLeft(t, dir, o.kept)
				removeAll(t, dir)
			}
			if full < 3 || good == 0 {
				t.Errorf("full %d times, good %d times", full, good)
			}
			t.Logf("full at %d", full)
		})
	}
}

func requireFull(t *testing.T, may bool, err error) {
	t.Helper()
	said := err.Error()
	if !may || !errors.Is(err, ErrFull) || strings.Contains(said, "\n") ||
		!strings.Contains(said, "free some space and try again") {
		t.Errorf("on a full disk: %v", err)
	}
}

// kept tells whether the indexes for people are whole.
func kept(t *testing.T, s *Store) (is bool) {
	t.Helper()
	if err := s.view(func(tx *bolt.Tx, _ state) error {
		is = s.trusts(tx)
		return nil
	}); err != nil {
		t.Error(err)
	}
	return is
}

// requireNothingLeft requires a folder to hold the file, what fills the disk, and what is kept of
// the file as it was.
func requireNothingLeft(t *testing.T, dir, kept string) {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Name() == "bench.db" || f.Name() == "filler" {
			continue
		}
		if ok, _ := filepath.Match("bench.db"+kept, f.Name()); !ok || kept == "" {
			t.Errorf("%s is left", f.Name())
		}
	}
}

func removeAll(t *testing.T, dir string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if err := os.Remove(f); err != nil {
			t.Fatal(err)
		}
	}
}

// TestReadOnlyDiskAtOpening: what must be put right before anything can be read is named as that;
// all else is read as it is. Nothing is written or left.
func TestReadOnlyDiskAtOpening(t *testing.T) {
	for n, o := range openings {
		t.Run(strings.ReplaceAll(o.name, " ", "-"), func(t *testing.T) {
			dir, c, bad, must := openingDisk(t, n)
			if bad == nil {
				return
			}
			path := filepath.Join(dir, "bench.db")
			write(t, path, bad)
			if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY,
				""); err != nil {
				t.Skipf("a file system cannot be made read-only here: %v", err)
			}
			s, err := Open(path, c.now)
			switch {
			case o.kept != "" && (!errors.Is(err, ErrReadOnly) ||
				!strings.Contains(err.Error(), o.said)):
				t.Errorf("%v", err)
			case o.kept == "" && err != nil:
				t.Errorf("%v", err)
			case err == nil:
				if b := mustBench(t, s); len(b.Machines) != 1 ||
					len(mustEntries(t, s, Filter{})) != must {
					t.Error("it lacks something")
				}
			}
			if !bytes.Equal(read(t, path), bad) {
				t.Error("the file was changed")
			}
			requireNothingLeft(t, dir, "")
		})
	}
}
