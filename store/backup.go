package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

// BackupDir is the folder beside the data file where its daily backups belong, and where a damaged
// file's newest good backup is looked for.
func BackupDir(path string) string { return filepath.Join(filepath.Dir(path), "backups") }

// Daily backups are named by the data file they are of and the day they were made.
const (
	dailySuffix = ".db"
	dailyDate   = "2006-01-02"
)

// Backup writes a whole, checked copy of the data file to dst, where nothing may lie, or, with
// over, an older backup. It is on the disk when Backup returns nil; else dst is as it was.
func (s *Store) Backup(dst string, over bool) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.backup(dst, over)
}

func (s *Store) backup(dst string, over bool) error {
	dst, err := target(dst)
	if err != nil {
		return err
	}
	if err := backupTarget(dst, s.path, over); err != nil {
		return err
	}
	return s.tell(copyFile(dst, s.path, s.now(), access{}))
}

// backupTarget refuses to write a backup over anything but a backup.
func backupTarget(dst, live string, over bool) error {
	info, err := os.Stat(dst)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return plain(dst, err)
	}
	if mine, err := os.Stat(live); err == nil && os.SameFile(info, mine) {
		return refuse("%s is the data file itself: give the backup another name", dst)
	}
	if info.IsDir() {
		return refuse("%s is a folder: give a file name in it", dst)
	}
	if err := only(dst); err != nil {
		return err
	}
	var m meta
	err = transact(dst, access{}, func(tx *bolt.Tx, _ state) (err error) {
		m, err = readMeta(tx)
		return err
	})
	switch {
	case errors.Is(err, ErrLocked):
		return err
	case err != nil:
		return refuse("%s exists and is no backup of oilcan: give the backup another name", dst)
	case m.Backup.IsZero():
		return refuse("%s is a data file that is worked with, not a backup: give the backup another name", dst)
	case !over:
		return refuse(
			"%s is an older backup: give this one another name, or write over it with --force", dst)
	}
	return nil
}

// copyFile copies a data file whole, marks the copy as a backup made at a time (zero: as a file to
// work with), checks it, and only then puts it in place.
func copyFile(dst, src string, made time.Time, how access) error {
	dir := filepath.Dir(dst)
	sweep(dst)
	f, err := os.CreateTemp(dir, tempName())
	if errors.Is(err, fs.ErrNotExist) {
		return refuse("there is no folder %s: make it first", dir)
	}
	if err != nil {
		return plain(dst, err)
	}
	tmp := f.Name()
	defer os.Remove(tmp)
	err = transact(src, how, func(tx *bolt.Tx, _ state) error {
		out := &sink{w: f}
		_, err := tx.WriteTo(out)
		if out.err != nil {
			return out.err
		}
		return err
	})
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return plain(dst, err)
	}
	err = transact(tmp, access{write: true}, func(tx *bolt.Tx, _ state) error {
		m, err := readMeta(tx)
		if err != nil {
			return err
		}
		m.Backup = made.UTC()
		return writeMeta(writing{Tx: tx}, m)
	})
	if err != nil {
		return err
	}
	if err := pagesWhole(tmp); err != nil {
		return err
	}
	if err := os.Rename(tmp, dst); err != nil {
		return plain(dst, err)
	}
	return syncFolder(dir)
}

// sink remembers why writing failed; bbolt passes on only the words.
type sink struct {
	w   io.Writer
	err error
}

func (s *sink) Write(p []byte) (int, error) {
	n, err := s.w.Write(p)
	s.err = err
	return n, err
}

// dailyPrefix begins the names of a data file's daily backups: two files in one folder keep theirs
// apart.
func dailyPrefix(path string) string {
	base := filepath.Base(path)
	return strings.TrimSuffix(base, filepath.Ext(base)) + "-"
}

// dailies lists the daily backups of a data file in a folder, newest first.
func dailies(dir, path string) []string {
	files, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var out []string
	for _, f := range files {
		if _, ok := dayOf(f.Name(), path); ok {
			out = append(out, filepath.Join(dir, f.Name()))
		}
	}
	slices.Sort(out)
	slices.Reverse(out)
	return out
}

// lastEntry is the number of the last entry in a file.
func lastEntry(path string) (seq uint64, err error) {
	err = transact(path, access{}, func(tx *bolt.Tx, _ state) error {
		if _, err := readMeta(tx); err != nil {
			return err
		}
		b := tx.Bucket(journalBucket)
		if b == nil {
			return damaged("%s", errAlien)
		}
		seq = b.Sequence()
		return nil
	})
	return seq, err
}

// newestGood is the newest backup in the file's backup folder that is whole; "" where there is
// none.
func newestGood(path string) string {
	for _, b := range dailies(BackupDir(path), path) {
		if r, err := checkFile(b, schemaNow); err == nil && r.OK() {
			return b
		}
	}
	return ""
}
