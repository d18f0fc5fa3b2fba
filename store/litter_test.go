package store

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"bench/oilcan/store/storetest"
)

// TestLitterIsSwept: what killed programs left in the making goes at the next start; what a program
// at work makes, and all that is not ours, stays.
func TestLitterIsSwept(t *testing.T) {
	s, c := newStore(t)
	dir := filepath.Dir(s.Path())
	gone := exec.Command(os.Args[0], "-test.run=^$")
	if err := gone.Run(); err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{ // name -> stays
		fmt.Sprintf(".oilcan-copy-%d-1", gone.Process.Pid): false,
		".oilcan-copy-123":                             false,
		".oilcan-new-123":                              false,
		"bench.db.restoring":                           false,
		"bench.db.restoring.17":                        false,
		fmt.Sprintf(".oilcan-copy-%d-1", os.Getpid()):  true,
		fmt.Sprintf(".oilcan-copy-%d-1", os.Getppid()): true,
		".oilcan-copy-x-1":                             true,
		"other.db.restoring":                           true,
		"bench.db.restoring-me":                        true,
		"bench.db.before-restore-20260301T0Z":          true,
		"bench.db.torn-20260301T090000Z":               true,
		".oilcan-kept":                                 true,
	}
	for name := range names {
		write(t, filepath.Join(dir, name), []byte("x"))
	}
	reopened(t, s, c)
	for name, stays := range names {
		if _, err := os.Lstat(filepath.Join(dir, name)); (err == nil) != stays {
			t.Errorf("%s: stays %t, want %t", name, err == nil, stays)
		}
	}
}

// TestRestoreLeavesNothing: a restore that is refused, a hundred times (ten without OILCAN_LONG),
// leaves the folder as it was.
func TestRestoreLeavesNothing(t *testing.T) {
	s, _ := newStore(t)
	addMachine(t, s, "Heron")
	bad := filepath.Join(t.TempDir(), "bad.db")
	write(t, bad, []byte("no bench"))
	for range storetest.Times(10, 100, 100) {
		if _, err := Restore(s.Path(), bad, nil); err == nil {
			t.Fatal("restored")
		}
	}
	if files, _ := os.ReadDir(filepath.Dir(s.Path())); len(files) != 1 {
		t.Errorf("left behind: %v", files)
	}
}
