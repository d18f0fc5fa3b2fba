package store

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Restore puts a checked copy of the backup src in the place of the data file dst. What lay there,
// whole or damaged, is kept beside it: aside is dst with .before-restore- and the time it was last
// written, "" where nothing lay there. The backup is read and checked whole before anything
// changes. src may be a file with one of its two heads destroyed, dst itself included: then what
// can still be read is put in order. A symbolic link at dst stays, and what it leads to is
// replaced.
func Restore(dst, src string, seen Seen) (aside string, err error) {
	if _, err := os.Stat(src); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return "", refuse("there is no backup %s: give the path of one", src)
		}
		return "", plain(src, err)
	}
	if err := cmp.Or(only(src), only(dst)); err != nil {
		return "", err
	}
	dst, err = target(dst)
	if err != nil {
		return "", err
	}
	fresh, err := emptyTemp(filepath.Dir(dst))
	if errors.Is(err, fs.ErrNotExist) {
		return "", refuse("there is no folder %s: make it first", filepath.Dir(dst))
	}
	if err != nil {
		return "", plain(dst, err)
	}
	defer os.Remove(fresh)
	if err := copyFile(fresh, src, time.Time{}, access{lenient: true}); err != nil {
		return "", restoreRefused(src, err)
	}
	if err := dropIndexes(fresh); err != nil {
		return "", restoreRefused(src, err)
	}
	r, err := checkAt(fresh, schemaNow, time.Time{}, newJudges(), seen)
	if errors.Is(err, ErrRefused) {
		return "", say(ErrRefused, err,
			"%s cannot be restored, and nothing was changed: %s; take another backup", src, err)
	}
	if err != nil {
		return "", restoreRefused(src, err)
	}
	if !r.OK() {
		return "", say(ErrDamaged, nil, "%s cannot be restored, and nothing was changed: %s", src,
			r.Problems[0])
	}
	return swapIn(fresh, dst)
}

func restoreRefused(src string, err error) error {
	var d *damage
	if errors.As(err, &d) {
		return say(ErrDamaged, d, "%s cannot be restored, and nothing was changed: %s", src, d.what)
	}
	return err
}

// swapIn moves the file at dst aside and the new one into its place, while no other program writes.
func swapIn(fresh, dst string) (aside string, err error) {
	old, err := openFile(dst, os.O_RDONLY)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", plain(dst, os.Rename(fresh, dst))
	case err != nil:
		return "", plain(dst, err)
	}
	defer old.Close()
	if !tryLock(old) {
		return "", say(ErrLocked, nil,
			"%s is being written by another oilcan: try again in a moment", dst)
	}
	info, err := old.Stat()
	if err != nil {
		return "", err
	}
	aside, err = unused(dst + ".before-restore-" + info.ModTime().UTC().Format(asideTime))
	if err != nil {
		return "", err
	}
	// A second name first, then one rename: at no moment is there no file at dst, which another
	// program would take for a bench to be made new.
	if os.Link(dst, aside) == nil {
		if err := os.Rename(fresh, dst); err != nil {
			os.Remove(aside)
			return "", plain(dst, err)
		}
		return aside, syncFolder(filepath.Dir(dst))
	}
	if err := os.Rename(dst, aside); err != nil {
		return "", plain(dst, err)
	}
	if err := os.Rename(fresh, dst); err != nil {
		if back := os.Rename(aside, dst); back != nil {
			return aside, say(ErrDamaged, err,
				"the backup could not be put in place; the old data file is %s, rename it back to %s", aside, dst)
		}
		return "", plain(dst, err)
	}
	return aside, syncFolder(filepath.Dir(dst))
}
