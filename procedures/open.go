package procedures

import (
	"bytes"
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sync"

	"bench/oilcan/model"
)

// Open gives the library of Load without reading it yet: the first method that needs it does. Heads needs
// less and is there at once; a first screen lives on it.
func Open(ownDir string) *Library {
	l := newLibrary()
	l.heads = sync.OnceValue(builtInHeads)
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

// Heads gives every procedure but the set-up actions, by id, with all a gauge needs: names, features,
// intervals, triggers. All else may be missing; Get has the whole.
func (l *Library) Heads() []*model.Procedure {
	if l.load == nil || l.hasOwn {
		return l.All()
	}
	return l.heads()
}

// headTables are the tables a gauge needs.
var headTables = [][]byte{[]byte("[[interval]]"), []byte("[[trigger]]"), []byte("[[minutes_for]]")}

// headEnds are tables no such table stands behind; FORMAT.md has the order of a file.
var headEnds = [][]byte{[]byte("\n[[tool]]"), []byte("\n[[supply]]"), []byte("\n[[caution]]"), []byte("\n[[step]]")}

// head is what stands before a file's first table, and the tables a gauge needs.
func head(data []byte) []byte {
	for _, mark := range headEnds {
		if i := bytes.Index(data, mark); i >= 0 {
			data = data[:i+1]
		}
	}
	out := make([]byte, 0, len(data))
	for len(data) > 0 {
		end := len(data)
		if i := bytes.Index(data, []byte("\n[")); i >= 0 {
			end = i + 1
		}
		table := data[:end]
		if table[0] != '[' || slices.ContainsFunc(headTables, func(t []byte) bool { return bytes.HasPrefix(table, t) }) {
			out = append(out, table...)
		}
		data = data[end:]
	}
	return out
}

// builtInHeads reads the heads of the embedded files, by two at a time: a first frame waits for it. A file
// with a mistake is none, which the tests see.
func builtInHeads() []*model.Procedure {
	files, err := fs.ReadDir(library, "library")
	if err != nil {
		return nil
	}
	out := make([]*model.Procedure, len(files))
	var both sync.WaitGroup
	for first := range 2 {
		both.Go(func() {
			for i := first; i < len(files); i += 2 {
				out[i] = builtInHead(files[i].Name())
			}
		})
	}
	both.Wait()
	out = slices.DeleteFunc(out, func(p *model.Procedure) bool { return p == nil })
	slices.SortFunc(out, func(a, b *model.Procedure) int { return cmp.Compare(a.ID, b.ID) })
	return out
}

// builtInHead reads one of them; nil where it is no procedure.
func builtInHead(name string) *model.Procedure {
	if path.Ext(name) != ".toml" {
		return nil
	}
	data, err := library.ReadFile("library/" + name)
	if err != nil {
		return nil
	}
	p, _, problems := parse(name, head(data), false)
	if p == nil || p.ID == "" || len(problems) > 0 {
		return nil
	}
	return p
}
