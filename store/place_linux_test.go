package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"bench/oilcan/model"
)

func TestPlaceWarning(t *testing.T) {
	cases := []struct{ name, dir, want string }{
		{"an ordinary folder", "printers", ""},
		{"a synchronised one", "MyCloud/printers", "synchronised"},
		{"a synchronised drive", "work drive", "synchronised"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			base, err := os.MkdirTemp("", "place")
			if err != nil {
				t.Fatal(err)
			}
			defer os.RemoveAll(base)
			dir := filepath.Join(base, c.dir)
			if err := os.MkdirAll(dir, 0o700); err != nil {
				t.Fatal(err)
			}
			got := PlaceWarning(filepath.Join(dir, "bench.db"))
			if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// smallDisk opens a data file with one machine on a file system of its own of so many bytes. Where
// the test may not mount one it is run again where it may, and the store is nil.
func smallDisk(t *testing.T, size int) (dir string, s *Store, c *clock, id string) {
	t.Helper()
	dir = t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", size)); err != nil {
		asUser(t, 0)
		return "", nil, nil, ""
	}
	t.Cleanup(func() { syscall.Unmount(dir, 0) })
	c = &clock{t0}
	s, err := Open(filepath.Join(dir, "bench.db"), c.now)
	if err != nil {
		t.Fatal(err)
	}
	return dir, s, c, addMachine(t, s, "Anvil")
}

// TestFullDisk: on a full disk an action is refused whole, all before it stays, and it goes on when
// there is room again.
func TestFullDisk(t *testing.T) {
	dir, s, c, id := smallDisk(t, 512<<10)
	if s == nil {
		return
	}
	filler := filepath.Join(dir, "filler")
	write(t, filler, make([]byte, 100<<10))
	text := strings.Repeat("a note that takes room ", 200)
	written := 1
	var err error
	for ; written < 10000; written++ {
		_, err = s.Append(model.Action{Machine: id,
			Facts: []model.Fact{{Kind: model.KindFinding,
				Finding: &model.Found{Kind: "note", Text: text}}}})
		if err != nil {
			break
		}
	}
	if !errors.Is(err, ErrFull) || !strings.Contains(err.Error(), "nothing was written") {
		t.Fatalf("after %d entries: %v", written, err)
	}
	if n := len(mustEntries(t, s, Filter{})); n != written {
		t.Errorf("%d entries, want %d", n, written)
	}
	mustCheck(t, s)
	if w := PlaceWarning(s.Path()); !strings.Contains(w, "nearly full") {
		t.Errorf("warning: %q", w)
	}
	if err := s.Backup(filepath.Join(dir, "copy.db"), false); !errors.Is(err, ErrFull) {
		t.Errorf("backup: %v", err)
	}
	if _, err := Open(filepath.Join(dir, "sub", "new.db"), c.now); !errors.Is(err, ErrFull) {
		t.Errorf("a new file: %v", err)
	}
	if files, _ := filepath.Glob(filepath.Join(dir, "*/*")); len(files) > 0 {
		t.Errorf("left behind: %v", files)
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{care("oil")}})
	mustCheck(t, s)
}
