package store

import (
	"testing"
	"time"
)

// TestManySmallBuckets: buckets that are small stand in the page that names them, which then becomes
// several. Such a file is as good as any.
func TestManySmallBuckets(t *testing.T) {
	s, c := newStore(t)
	many := false
	id := addMachine(t, s, "Anvil")
	for range 40 {
		c.move(time.Hour)
		mustAppend(t, s, act(id, care("oil")))
		s = reopened(t, s, c)
		mustCheck(t, s)
		many = many || rootIsBranch(t, s.Path())
	}
	if !many {
		t.Error("the page that names the buckets never was more than one")
	}
}

func rootIsBranch(t *testing.T, path string) bool {
	t.Helper()
	f, err := openFile(path, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	h, _, err := preflight(f, false)
	if err != nil {
		t.Fatal(err)
	}
	var buf []byte
	sheet, err := readSheet(f, h, h.root, &buf)
	if err != nil {
		t.Fatal(err)
	}
	return sheet.branch
}
