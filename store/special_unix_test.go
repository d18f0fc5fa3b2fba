//go:build unix && !solaris && !aix

package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// within fails the test where a call waits.
func within(t *testing.T, call func() error) error {
	t.Helper()
	done := make(chan error, 1)
	go func() { done <- call() }()
	select {
	case err := <-done:
		return err
	case <-time.After(5 * time.Second):
		t.Fatal("it waits for ever")
		return nil
	}
}

// TestSpecialFiles: a pipe, a socket, a device in the place of a data file or a backup is called
// what it is, at once, and nothing is written.
func TestSpecialFiles(t *testing.T) {
	s, c := newStore(t)
	addMachine(t, s, "Heron")
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	for path, what := range map[string]string{pipe: "a pipe", "/dev/null": "a device",
		"/dev/zero": "a device"} {
		for name, call := range map[string]func() error{
			"opened":       func() error { _, err := Open(path, c.now); return err },
			"backed up to": func() error { return s.Backup(path, true) },
			"restored":     func() error { _, err := Restore(s.Path(), path, nil); return err },
			"restored over": func() error {
				_, err := Restore(path, backupOf(t, s), nil)
				return err
			},
		} {
			if err := within(t, call); !errors.Is(err, ErrRefused) ||
				!strings.Contains(err.Error(), path+" is "+what) {
				t.Errorf("%s %s: %v", path, name, err)
			}
		}
	}
	if files, _ := os.ReadDir(dir); len(files) != 1 {
		t.Errorf("left behind: %v", files)
	}
}

// TestLinks: a symbolic link in the place of the data file stays one; what it leads to is worked
// with, kept aside and replaced. One that leads nowhere is no bench to be begun.
func TestLinks(t *testing.T) {
	s, c := newStore(t)
	addMachine(t, s, "Heron")
	old := backupOf(t, s)
	dir := t.TempDir()
	link, round, nowhere := filepath.Join(dir, "bench.oilcan"), filepath.Join(dir,
		"round"), filepath.Join(dir, "nowhere")
	for from, to := range map[string]string{link: s.Path(), round: round,
		nowhere: filepath.Join(dir, "gone.oilcan")} {
		if err := os.Symlink(to, from); err != nil {
			t.Fatal(err)
		}
	}
	l, err := Open(link, c.now)
	if err != nil {
		t.Fatal(err)
	}
	addMachine(t, l, "Stork")
	was := read(t, s.Path())
	aside, err := Restore(link, old, nil)
	if err != nil {
		t.Fatal(err)
	}
	if to, err := os.Readlink(link); err != nil || to != s.Path() {
		t.Errorf("the link leads to %s: %v", to, err)
	}
	if info, err := os.Lstat(aside); err != nil || !info.Mode().IsRegular() ||
		string(read(t, aside)) != string(was) {
		t.Errorf("kept aside is %v, not what lay there", aside)
	}
	if b := mustBench(t, reopened(t, l, c)); len(b.Machines) != 1 {
		t.Errorf("%d machines after the restore", len(b.Machines))
	}
	if _, err := Open(nowhere, c.now); !errors.Is(err, ErrDamaged) ||
		!strings.Contains(err.Error(), "symbolic link to "+dir+"/gone.oilcan, where nothing is") {
		t.Errorf("opened by a link that leads nowhere: %v", err)
	}
	if _, err := Open(round, c.now); err == nil {
		t.Error("opened by a link that leads round")
	}
	if _, err := Restore(round, old, nil); !errors.Is(err, ErrRefused) {
		t.Errorf("restored to a link that leads round: %v", err)
	}
	if _, err := Restore(nowhere, old, nil); err != nil {
		t.Errorf("restored to where a link leads: %v", err)
	}
	if _, err := os.Lstat(filepath.Join(dir, "gone.oilcan")); err != nil {
		t.Error(err)
	}
	backup := filepath.Join(dir, "backup")
	if err := os.Symlink(filepath.Join(dir, "backup.oilcan"), backup); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(backup, false); err != nil {
		t.Error(err)
	}
	if info, _ := os.Lstat(backup); info.Mode()&os.ModeSymlink == 0 {
		t.Error("a backup took the place of a link")
	}
}
