package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"
)

// A power cut in the middle of a write may tear one of a file's two heads; the other is that of the
// transaction before, whose pages the torn one did not touch. What the torn one was to name was not
// answered for yet.

// mend puts a file one of whose two heads is torn in order from the other one, and tells whether it
// did. The file as it was is kept beside it. Of several programs that start at once one does it.
func (s *Store) mend() (done bool, err error) {
	path, err := target(s.path)
	if err != nil {
		return false, err
	}
	f, err := openFile(path, os.O_RDONLY)
	if err != nil {
		return false, plain(path, err)
	}
	defer f.Close()
	if err := lock(f, lockWait); err != nil {
		return false, plain(path, err)
	}
	defer unlock(f)
	info, err := f.Stat()
	if err != nil || replaced(path, info) {
		return err == nil, err // another program was faster
	}
	if h, err := readHead(f, info.Size()); err != nil || h.good == 2 {
		return err == nil && h.good == 2, nil
	}
	raw, err := rawCopy(f, path)
	if err != nil {
		return false, plain(path, err)
	}
	defer os.Remove(raw)
	aside, err := replaceTorn(raw, path, info.ModTime())
	if err != nil {
		return false, err
	}
	s.mended = fmt.Sprintf("one of the two heads of %s was torn, as a power cut does it, and it was put in order from the other: look in the book whether the latest entry is there; the file as it was is kept as %s", s.path, aside)
	return true, nil
}

// Mended says in a sentence that the file was found torn and put in order as it was opened; ""
// where it was not.
func (s *Store) Mended() string { return s.mended }

// rawCopy copies a locked file beside itself, byte by byte.
func rawCopy(f *os.File, path string) (name string, err error) {
	out, err := os.CreateTemp(filepath.Dir(path), tempName())
	if err != nil {
		return "", err
	}
	_, err = io.Copy(out, io.NewSectionReader(f, 0, 1<<62))
	if err = errors.Join(err, out.Sync(), out.Close()); err != nil {
		os.Remove(out.Name())
	}
	return out.Name(), err
}

// replaceTorn makes a whole file of a copy of a torn one, and moves it to the path, which stays
// locked.
func replaceTorn(raw, path string, written time.Time) (aside string, err error) {
	fresh, err := emptyTemp(filepath.Dir(path))
	if err != nil {
		return "", plain(path, err)
	}
	defer os.Remove(fresh)
	if err := copyFile(fresh, raw, time.Time{}, access{lenient: true}); err != nil {
		return "", err
	}
	r, err := checkFile(fresh, schemaNow)
	if err != nil {
		return "", err
	}
	if !r.OK() {
		return "", damaged("%s", r.Problems[0])
	}
	if aside, err = unused(path + ".torn-" + written.UTC().Format(asideTime)); err != nil {
		return "", err
	}
	if err := os.Link(path, aside); err != nil {
		if err := os.Rename(raw, aside); err != nil {
			return "", plain(path, err)
		}
	}
	if err := os.Rename(fresh, path); err != nil {
		os.Remove(aside)
		return "", plain(path, err)
	}
	return aside, syncFolder(filepath.Dir(path))
}
