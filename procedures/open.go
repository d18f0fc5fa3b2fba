package procedures

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"bench/oilcan/model"
)

// Open gives the library of Load without reading it yet: the first method that needs it does. Heads
// needs less and is there at once; a first screen lives on it.
func Open(ownDir string) *Library {
	l := newLibrary()
	l.hasOwn = ownDir != "" && anyOwn(ownDir)
	if !l.hasOwn {
		go builtInHeads() // beside the opening of the data file
	}
	l.load = func() {
		loaded, problems := Load(ownDir)
		l.byID, l.trees, l.problems = loaded.byID, loaded.trees, problems
	}
	return l
}

func anyOwn(dir string) bool {
	files, err := os.ReadDir(dir)
	if err != nil {
		return !errors.Is(err, fs.ErrNotExist) // Load says what is the matter
	}
	for _, f := range files {
		if filepath.Ext(f.Name()) == ".toml" {
			return true
		}
	}
	return false
}

// ensure waits until the library is read.
func (l *Library) ensure() {
	if l.load != nil {
		l.once.Do(l.load)
	}
}

// Problems gives what was wrong with the operator's own files; those files are left out.
func (l *Library) Problems() []Problem {
	if l.load == nil || !l.hasOwn {
		return nil
	}
	l.ensure()
	return l.problems
}

// Heads gives every procedure but the set-up actions, by id, with all a gauge needs: names,
// features, intervals, triggers. All else may be missing; Get has the whole. It is shared: nobody
// may change it.
func (l *Library) Heads() []*model.Procedure {
	if l.load == nil || l.hasOwn {
		return l.All()
	}
	return builtInHeads()
}
