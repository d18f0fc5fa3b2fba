package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/config"
)

// path is the data file.
func (a *app) path() (string, error) {
	for _, p := range []string{a.flags.file, a.Env("OILCAN_FILE"), config.DataFile(a.Env)} {
		if p != "" {
			return p, nil
		}
	}
	return "",
		misuse("no home folder is known to keep the bench in: say where with --file PATH or OILCAN_FILE")
}

// store opens the data file, once.
func (a *app) store() (*store.Store, error) {
	if a.st != nil {
		return a.st, nil
	}
	path, err := a.path()
	if err != nil {
		return nil, err
	}
	if err := usablePath(path); err != nil {
		return nil, err
	}
	first := !a.exists()
	a.st, err = store.Open(path, a.Clock.Now)
	if err != nil {
		a.st = nil
		return nil, unusable(err)
	}
	a.st.KeepDaily(store.BackupDir(path), func(err error) {
		if a.drawing {
			a.untold = append(a.untold, err)
			return
		}
		a.warn(err)
	})
	if w := a.st.Mended(); w != "" {
		a.warn(errors.New(w))
		a.notes = append(a.notes, w)
	}
	if w := store.PlaceWarning(path); w != "" && first {
		a.warn(errors.New(w))
	}
	return a.st, nil
}

// usablePath tells in a sentence where no data file can be, and makes the folder for one.
func usablePath(path string) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return misuse("%s is a folder: give the path of a file with --file or OILCAN_FILE", path)
	case !absent(err):
		return nil // there is something: the store judges it
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return &coded{Unusable,
			fmt.Errorf("the folder %s cannot be made (%w): say where the data file goes with --file PATH", filepath.Dir(path), reason(err))}
	}
	return nil
}

// bench gives what is on record. Looking at a bench that was never written makes no file.
func (a *app) bench() (*model.Bench, error) {
	if a.st == nil && !a.exists() {
		if _, err := a.path(); err != nil {
			return nil, err
		}
		return model.NewBench(), nil
	}
	st, err := a.store()
	if err != nil {
		return nil, err
	}
	b, err := st.Bench()
	if err == nil {
		askClock(a, st, b)
	}
	return b, unusable(err)
}

// fromJournal reads entries of the journal.
func fromJournal(a *app, f store.Filter) ([]model.Entry, error) {
	st, err := a.store()
	if err != nil {
		return nil, err
	}
	es, err := st.Entries(f)
	return es, unusable(err)
}

// askClock says once what speaks against the clock, and asks about what is dated ahead of it.
func askClock(a *app, st *store.Store, b *model.Bench) {
	if a.asked {
		return
	}
	a.asked = true
	if w := st.ClockWarning(); w != "" {
		a.warn(errors.New(w))
	}
	if len(b.Ahead) == 0 {
		return
	}
	for _, text := range book.Ahead(b, names(a), a.now()) {
		a.warn(errors.New(text))
	}
}

// exists tells whether the data file is there already: looking at nothing makes no file.
func (a *app) exists() bool {
	path, err := a.path()
	if err != nil {
		return false
	}
	// a link that leads nowhere is there: what it led to is missing, not a bench that was never
	// begun
	_, err = os.Lstat(path)
	return !absent(err)
}

// absent tells from the error of looking at a path that nothing lies there.
func absent(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)
}

// mustExist refuses to look into a data file that was never made.
func (a *app) mustExist() error {
	path, err := a.path()
	if err != nil {
		return err
	}
	if !a.exists() {
		return &coded{Unusable,
			fmt.Errorf("there is no data file %s yet: check --file and OILCAN_FILE, or add a machine first", path)}
	}
	return nil
}

func (a *app) append(m *model.Machine, at time.Time, facts []model.Fact) ([]model.Entry, error) {
	act := model.Action{At: at, Facts: facts}
	if m != nil {
		act.Machine = m.ID
	}
	return appendAll(a, []model.Action{act})
}

// appendAll writes actions of the person in one transaction; many are watched.
func appendAll(a *app, actions []model.Action) ([]model.Entry, error) {
	st, err := a.store()
	if err != nil {
		return nil, err
	}
	for i := range actions {
		actions[i].By = a.who()
	}
	seen, done := watch(a, "taking in")
	defer done()
	st.Watch(seen)
	entries, err := st.AppendAll(actions)
	return entries, unusable(err)
}
