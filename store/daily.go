package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// What is kept of the daily backups: the newest of so many days, and of what is older the newest of
// each of so many weeks (Monday to Sunday).
const (
	keptDays  = 7
	keptWeeks = 4
)

// KeepDaily makes the first write of each day back the file up into a folder before it, unless
// nothing was written since the latest backup there. A write goes on where that fails, and failed
// is told why; it may be called from any goroutine.
func (s *Store) KeepDaily(dir string, failed func(error)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.dailyDir, s.dailyFailed = dir, failed
}

// beforeWrite makes the backup that is due, and an index anew that was found bad.
func (s *Store) beforeWrite() {
	if s.badIndex {
		_ = s.keepIndexes() // what is harmed beside it is told by the write
	}
	if s.dailyDir == "" {
		return
	}
	today := s.now().Format(dailyDate)
	if today == s.dailyDone {
		return
	}
	s.dailyDone = today
	if _, err := s.daily(s.dailyDir); err != nil {
		s.dailyFailed(fmt.Errorf("today's backup could not be made: %w", err))
	}
}

// daily makes today's backup in a folder unless it is there already, nothing was written since the
// latest, or nothing at all; and removes of its own backups there what is not kept. It returns the
// path of the backup made, "" where none was needed. Today is the clock's, in its own zone.
func (s *Store) daily(dir string) (string, error) {
	now, err := lastEntry(s.path)
	if err != nil || now == 0 {
		return "", s.tell(err)
	}
	if err := os.MkdirAll(dir, folderMode); err != nil {
		return "", plain(dir, err)
	}
	have := dailies(dir, s.path)
	path := filepath.Join(dir, dailyPrefix(s.path)+s.now().Format(dailyDate)+dailySuffix)
	if slices.Contains(have, path) {
		return "", nil
	}
	if len(have) > 0 {
		if last, err := lastEntry(have[0]); err == nil && now == last {
			return "", nil
		}
	}
	if err := s.backup(path, false); err != nil {
		return "", err
	}
	var failed error
	have = append(have, path) // names sort by their days, also where the clock went back
	slices.Sort(have)
	slices.Reverse(have)
	for _, old := range surplus(have, s.path) {
		failed = errors.Join(failed, os.Remove(old))
	}
	if failed != nil {
		return path, fmt.Errorf("it was made, but an old one could not be removed: %w", failed)
	}
	return path, nil
}

// surplus gives the daily backups that are not kept, of all of a data file, newest first.
func surplus(all []string, path string) []string {
	if len(all) <= keptDays {
		return nil
	}
	type week struct{ year, week int }
	var out []string
	kept := map[week]bool{}
	for _, b := range all[keptDays:] {
		day, ok := dayOf(b, path)
		if !ok {
			continue
		}
		var w week
		w.year, w.week = day.ISOWeek()
		if kept[w] || len(kept) == keptWeeks {
			out = append(out, b)
			continue
		}
		kept[w] = true
	}
	return out
}

// dayOf is the day a daily backup of a data file was made, by its name.
func dayOf(backup, path string) (time.Time, bool) {
	name, prefix := filepath.Base(backup), dailyPrefix(path)
	if len(name) != len(prefix)+len(dailyDate)+len(dailySuffix) || name[:len(prefix)] != prefix {
		return time.Time{}, false
	}
	day, err := time.Parse(dailyDate+dailySuffix, name[len(prefix):])
	return day, err == nil
}
