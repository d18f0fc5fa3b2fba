package procedures

import (
	"bytes"
	"cmp"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// Open gives the library of Load without reading it yet: the first method that needs it does. Heads needs
// less and is there at once; a first screen lives on it.
func Open(ownDir string) *Library {
	l := newLibrary()
	l.hasOwn = ownDir != "" && anyOwn(ownDir)
	l.load = func() {
		loaded, problems := Load(ownDir)
		l.byID, l.trees, l.problems = loaded.byID, loaded.trees, problems
	}
	return l
}

func anyOwn(dir string) bool {
	files, err := os.ReadDir(dir)
	if err != nil {
		return false
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

// Heads gives every procedure but the set-up actions, by id, with all a gauge needs: names, features,
// intervals, triggers. What it takes and its steps may be missing; Get has the whole.
func (l *Library) Heads() []*model.Procedure {
	if l.load == nil || l.hasOwn {
		return l.All()
	}
	return builtInHeads()
}

// headEnds are the tables a file's head stops before; FORMAT.md has the order of a file.
var headEnds = [][]byte{[]byte("\n[[tool]]"), []byte("\n[[supply]]"), []byte("\n[[caution]]"), []byte("\n[[step]]")}

// head is the part of a file before its first tool, supply, caution or step.
func head(data []byte) []byte {
	end := len(data)
	for _, mark := range headEnds {
		if i := bytes.Index(data[:end], mark); i >= 0 {
			end = i + 1
		}
	}
	return data[:end]
}

// builtInHeads reads the heads of the embedded files; a file with a mistake is none, which the tests see.
func builtInHeads() []*model.Procedure {
	files, err := fs.ReadDir(library, "library")
	if err != nil {
		return nil
	}
	var out []*model.Procedure
	for _, f := range files {
		if f.IsDir() || path.Ext(f.Name()) != ".toml" {
			continue
		}
		data, err := library.ReadFile("library/" + f.Name())
		if err != nil {
			continue
		}
		name := strings.TrimPrefix(f.Name(), "library/")
		if p, _, problems := parse(name, head(data), false); p != nil && p.ID != "" && len(problems) == 0 {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b *model.Procedure) int { return cmp.Compare(a.ID, b.ID) })
	return out
}
