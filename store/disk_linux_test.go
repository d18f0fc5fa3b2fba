package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"bench/oilcan/model"
)

// TestFullDiskAtEachWrite leaves room for one page more each time: whatever is written is there
// whole or not at all, and says so.
func TestFullDiskAtEachWrite(t *testing.T) {
	dir, s, c, id := smallDisk(t, 1<<20)
	if s == nil {
		return
	}
	good := filepath.Join(t.TempDir(), "good.db")
	if err := s.Backup(good, false); err != nil {
		t.Fatal(err)
	}
	note := model.Fact{Kind: model.KindFinding,
		Finding: &model.Found{Kind: "note", Text: string(bytes.Repeat([]byte("room "), 1500))}}
	full := 0
	for pages := 0; pages < 48; pages += 1 + pages/12 {
		fillUp(t, dir, pages*page)
		for name, call := range map[string]func() error{
			"append": func() error { _, err := s.Append(act(id, note)); return err },
			"backup": func() error { return s.Backup(filepath.Join(dir, "copy.db"), true) },
			"restore": func() error {
				_, err := Restore(filepath.Join(dir, "other.db"), good, nil)
				return err
			},
			"a new file": func() error {
				_, err := Open(filepath.Join(dir, "new.db"), c.now)
				return err
			},
			"daily": func() error {
				_, err := s.Daily(filepath.Join(dir, "backups"))
				return err
			},
		} {
			before := len(mustEntries(t, s, Filter{}))
			err := call()
			if errors.Is(err, ErrFull) {
				full++
			} else if err != nil {
				t.Errorf("%s with room for %d pages: %v", name, pages, err)
			}
			if n := len(mustEntries(t, s, Filter{})); name != "append" && n != before ||
				name == "append" && (err == nil) != (n == before+1) {
				t.Errorf("%s with room for %d pages: %d entries of %d: %v", name, pages, n, before,
					err)
			}
			if litter, _ := filepath.Glob(filepath.Join(dir, ".oilcan-*")); len(litter) > 0 {
				t.Errorf("%s with room for %d pages left %v", name, pages, litter)
			}
		}
		for _, made := range []string{"copy.db", "other.db", "new.db", "backups", "filler"} {
			if err := os.RemoveAll(filepath.Join(dir, made)); err != nil {
				t.Fatal(err)
			}
		}
		mustCheck(t, s)
	}
	if full < 20 {
		t.Errorf("the disk was full %d times", full)
	}
	t.Logf("full at %d writes", full)
}

// fillUp leaves so many bytes free.
func fillUp(t *testing.T, dir string, free int) {
	t.Helper()
	have, _, ok := room(filepath.Join(dir, "bench.db"))
	if !ok {
		t.Fatal("no room is told")
	}
	write(t, filepath.Join(dir, "filler"), make([]byte, max(0, int(have)-free)))
}

// TestReadOnlyDisk: on a disk that may not be written all can be read, nothing is written or left,
// and the sentence says so.
func TestReadOnlyDisk(t *testing.T) {
	dir, s, c, id := smallDisk(t, 1<<20)
	if s == nil {
		return
	}
	if err := s.Backup(dir+"/good.db", false); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("a file system cannot be made read-only here: %v", err)
	}
	s = reopened(t, s, c)
	if b := mustBench(t, s); b.Machines[id] == nil {
		t.Error("the bench cannot be read")
	}
	mustCheck(t, s)
	for name, call := range map[string]func() error{
		"append":  func() error { _, err := s.Append(act(id, care("oil"))); return err },
		"backup":  func() error { return s.Backup(dir+"/copy.db", false) },
		"restore": func() error { _, err := Restore(s.Path(), dir+"/good.db", nil); return err },
		"create":  func() error { _, err := Open(dir+"/new.db", c.now); return err },
		"daily":   func() error { _, err := s.Daily(dir + "/backups"); return err },
	} {
		if err := call(); !errors.Is(err, ErrReadOnly) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := s.Backup(t.TempDir()+"/elsewhere.db", false); err != nil {
		t.Errorf("a backup elsewhere: %v", err)
	}
	if files, _ := os.ReadDir(dir); len(files) != 2 {
		t.Errorf("left behind: %v", files)
	}
}
