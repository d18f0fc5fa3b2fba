package store

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// headBytes is how much of a head page is torn in these tests: more than bbolt writes of it.
const headBytes = 512

// TestTornHead tears the head of the latest transaction at every place within a sector: what is
// behind the tear is what was there before, nothing, or garbage. The file opens by itself with all
// that was answered for, says so once, and what it was is kept.
func TestTornHead(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Heron")
	states := storetest.Times(60, 300, 3000)
	r := seeded(t)
	var before []byte
	var answered, all int
	for n := range states {
		if n%25 == 0 { // another transaction, so that both heads have their turn
			before = read(t, s.Path())
			answered = all
			if answered == 0 {
				answered = len(mustEntries(t, s, Filter{}))
			}
			mustAppend(t, s, model.Action{Machine: id,
				Facts: []model.Fact{reading(model.Hours, float64(n)), used("blade", 1)}})
			all = len(mustEntries(t, s, Filter{}))
		}
		whole := read(t, s.Path())
		at := newestHead(t, whole)
		torn := bytes.Clone(whole)
		cut := r.IntN(headBytes)
		behind := torn[at+cut : at+headBytes]
		switch n % 3 {
		case 0:
			copy(behind, before[at+cut:])
		case 1:
			clear(behind)
		case 2:
			for i := range behind {
				behind[i] = byte(r.Uint32())
			}
		}
		opensTorn(t, c, torn, all, answered)
		if t.Failed() {
			t.Fatalf("state %d: torn at byte %d of the head at %d, way %d", n, cut, at, n%3)
		}
	}
}

// opensTorn opens a torn file: it must hold what the torn transaction wrote, or all before it.
func opensTorn(t *testing.T, c *clock, torn []byte, all, answered int) {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, "bench.db")
	write(t, path, torn)
	s, err := Open(path, c.now)
	if err != nil {
		t.Error(err)
		return
	}
	got := len(mustEntries(t, s, Filter{}))
	aside, _ := filepath.Glob(path + ".torn-*")
	switch {
	case s.Mended() == "" && (got != all && got != answered || len(aside) != 0):
		// torn before or behind all that says something
		t.Errorf("nothing is said, with %d of %d entries, aside %v", got, all, aside)
	case s.Mended() != "" && (got != answered || len(aside) != 1 ||
		!strings.Contains(s.Mended(), aside[0])):
		t.Errorf("%d of %d entries, aside %v: %s", got, answered, aside, s.Mended())
	case s.Mended() != "" && !bytes.Equal(read(t, aside[0]), torn):
		t.Error("what is kept is not the file as it was")
	}
	mustCheck(t, s)
	mustAppend(t, s, model.Action{Facts: []model.Fact{machineFact("Stork")}})
	if again := reopened(t, s, c); again.Mended() != "" {
		t.Error("said twice")
	}
	if files, _ := os.ReadDir(dir); len(files) != 1+len(aside) {
		t.Errorf("left in the folder: %v", files)
	}
}

// newestHead is where the head page of the latest transaction begins.
func newestHead(t *testing.T, file []byte) int {
	t.Helper()
	r := bytes.NewReader(file)
	a, ok := readMetaPage(r, 0)
	b, ok2 := readMetaPage(r, a.pageSize)
	if !ok || !ok2 {
		t.Fatal("the file is not whole")
	}
	if a.txid > b.txid {
		return 0
	}
	return int(a.pageSize)
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestTwoProgramsMendOnce: of several that start at once one puts the file in order, and what the
// others write is not lost by it.
func TestTwoProgramsMendOnce(t *testing.T) {
	s, c := newStore(t)
	addMachine(t, s, "Heron")
	torn := read(t, s.Path())
	clear(torn[newestHead(t, torn)+16:][:64])
	path := filepath.Join(t.TempDir(), "bench.db")
	write(t, path, torn)
	said := make(chan string)
	for range 4 {
		go func() {
			s, err := Open(path, c.now)
			if err != nil {
				said <- err.Error()
				return
			}
			_, err = s.Append(model.Action{Facts: []model.Fact{machineFact("Stork " +
				string(rune('A'+len(s.Mended())%7)))}})
			if err != nil && !strings.Contains(err.Error(), "taken") &&
				!strings.Contains(err.Error(), "called") {
				said <- err.Error()
				return
			}
			said <- s.Mended()
		}()
	}
	times := 0
	for range 4 {
		switch text := <-said; {
		case strings.HasPrefix(text, "one of the two heads"):
			times++
		case text != "":
			t.Error(text)
		}
	}
	if aside, _ := filepath.Glob(path + ".torn-*"); times != 1 || len(aside) != 1 {
		t.Errorf("put in order %d times, aside %v", times, aside)
	}
}
