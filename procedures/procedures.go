// Package procedures holds the care library: the embedded TOML files, the loader that turns them
// into model.Procedure with file and line for every mistake, and the checker that runs each file
// from the state it requires to the state it leaves.
//
// FORMAT.md beside this file says how a file is written. Files of an operator's own load the same
// way and may replace a built-in by id; a broken one is a Problem, and the built-in stays.
//
// # What it holds to
//
//   - dry-filament ends when the dryer runs: thermometer, turn and scale are owed with their
//     times, so that no session stands still for six hours.
//   - What settles in 20 print hours (belts, frame, bearings, rollers) is nipped by renip alone;
//     the files that set it owe nothing of their own.
//   - once without a trigger counts a new machine's first hours. After a stop the goal no longer
//     asks for a sensor that was unproved already.
//   - short is what a gauge is called; [[interval]] production may carry its own basis.
//   - [[step]] has own, starts, optional, record, why; [[caution]] has before, basis; [[later]]
//     carries a gate; only takes features, unless, setting, step. See procedures/FORMAT.md.
//
// procedures.LeftOut says of the operator's files which are left out, a sentence each; commands say
// it on standard error, the bench under files together with a mistake in config.toml (Deps.Notes).
// Where Procedure.Yours, Heading adds "(yours)".
//
// A step may set sensor = "unproved" without leave: the rest is planned again, and switching on
// proves the sensor before any heat (a heater or sensor found loose in sock-check). start.toml ends
// with the closed lists of tools and parts; a test holds them to model/kit.go.
//
// plate-wash is done switched off: its hands walk away to the sink.
//
// fastener.turn in a step is for screws that are not tightened as their thread allows (a pivot, a
// pinch screw on a sensor), and undo for steps that only loosen. Cautions of a step are shown
// gravest first.
//
// Checks from outside: procedures/figures_test.go (hex keys by ISO 4762, 7380-1, 10642, 4026;
// platinum by IEC 60751; thermistor by the B formula, which itself is checked against a part's
// table; NIOSH figures for isopropyl alcohol; MIL-D-3464E), symptoms_test.go (weights and materials
// against the technician's tables).
//
// What a gauge needs of the built-in procedures is embedded by itself (heads.jsonl), because
// reading the files was a fifth of the first frame. A change to a file of the library is followed
// by go test ./procedures -run Heads -update-heads; a test says so where it was forgotten.
package procedures

import (
	"cmp"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"bench/oilcan/model"
)

//go:embed library
var library embed.FS

// Library is a set of procedures by id.
type Library struct {
	byID  map[string]*model.Procedure
	trees map[*model.Procedure]*node // for the lines of the checker's problems

	once     sync.Once
	load     func() // reads it, where Open put that off
	hasOwn   bool
	problems []Problem
}

// newLibrary is a library without a file, its tables ready to be filled.
func newLibrary() *Library {
	return &Library{byID: map[string]*model.Procedure{}, trees: map[*model.Procedure]*node{}}
}

// Load reads the built-in library and the operator's own files *.toml in ownDir ("" for none; a
// folder that is not there is none). Problems never stop it: a file that has any is left out.
func Load(ownDir string) (*Library, []Problem) {
	l, problems := libraryOf(embedded())
	if ownDir == "" {
		return l, problems
	}
	return l, sorted(append(problems, l.own(os.DirFS(ownDir))...))
}

// parsedFile is what one file came to.
type parsedFile struct {
	p        *model.Procedure
	tree     *node
	problems []Problem
}

// libraryOf gives the library of files.
func libraryOf(files []parsedFile) (*Library, []Problem) {
	l := newLibrary()
	var problems []Problem
	for _, f := range files {
		problems = append(problems, f.problems...)
		if f.p != nil && f.p.ID != "" {
			l.put(f.p, f.tree)
		}
	}
	return l, problems
}

// embedded are the embedded files, read once: nobody may change a procedure of a library.
var embedded = sync.OnceValue(func() []parsedFile { return readEmbedded(false) })

// readEmbedded reads the embedded files, side by side: a start of the program waits for them. With
// full, every rule of the file format is looked at again.
func readEmbedded(full bool) []parsedFile {
	var files []string
	err := fs.WalkDir(library, "library", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && path.Ext(name) == ".toml" {
			files = append(files, name)
		}
		return err
	})
	if err != nil {
		return []parsedFile{{problems: []Problem{{File: "library",
			Text: "the built-in procedures cannot be read: " + err.Error()}}}}
	}
	out := make([]parsedFile, len(files))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), 4) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(files); i = int(next.Add(1)) - 1 {
				out[i] = readBuiltIn(files[i], full)
			}
		})
	}
	wg.Wait()
	return out
}

func readBuiltIn(name string, full bool) (f parsedFile) {
	short := strings.TrimPrefix(name, "library/")
	data, err := library.ReadFile(name)
	if err != nil {
		f.problems = []Problem{{File: short, Text: "the file cannot be read: " + err.Error()}}
		return f
	}
	f.p, f.tree, f.problems = parse(short, data, full)
	return f
}

// put takes a procedure in, in place of one of the same id.
func (l *Library) put(p *model.Procedure, tree *node) {
	delete(l.trees, l.byID[p.ID])
	l.byID[p.ID] = p
	l.trees[p] = tree
}

// own takes in the operator's own files. Each is checked within the library as it would then be;
// one with a problem is left out and what it would replace stays.
func (l *Library) own(dir fs.FS) []Problem {
	files, err := fs.ReadDir(dir, ".")
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		return []Problem{{File: "the folder of own procedures",
			Text: fmt.Sprintf("it cannot be read (%v)", cause(err))}}
	}
	var problems []Problem
	var good []*model.Procedure
	for _, f := range files {
		if f.IsDir() || filepath.Ext(f.Name()) != ".toml" {
			continue
		}
		data, err := readLimited(dir, f.Name())
		if err != nil {
			problems = append(problems,
				Problem{File: f.Name(), Text: fmt.Sprintf("the file cannot be read: %v",
					cause(err))})
			continue
		}
		p, tree, bad := parse(f.Name(), data, true)
		if len(bad) > 0 {
			problems = append(problems, bad...)
			continue
		}
		p.Yours = true
		good = append(good, p)
		l.trees[p] = tree
	}
	return append(problems, l.takeIn(good)...)
}

// takeIn replaces built-ins by the operator's files, and puts back what a file with a problem had
// replaced. Files may refer to each other, so all are in before any is checked; leaving one out may
// break another, so it goes on until what is left is clean.
func (l *Library) takeIn(good []*model.Procedure) []Problem {
	before := map[string]*model.Procedure{}
	for _, p := range good {
		before[p.ID] = l.byID[p.ID]
		l.byID[p.ID] = p
	}
	var problems []Problem
	for again := true; again; {
		again = false
		var left []*model.Procedure
		for _, p := range good {
			bad := l.Check(p)
			if len(bad) == 0 {
				left = append(left, p)
				continue
			}
			problems = append(problems, bad...)
			again = true
			delete(l.trees, p)
			delete(l.byID, p.ID)
			if old := before[p.ID]; old != nil {
				l.byID[p.ID] = old
			}
		}
		good = left
	}
	return problems
}

// readLimited reads a file, but not more than a procedure can be.
func readLimited(dir fs.FS, name string) ([]byte, error) {
	info, err := fs.Stat(dir, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is not a plain file")
	}
	if info.Size() > maxFileSize {
		return nil, fmt.Errorf("it is larger than %d KiB, and no procedure is", maxFileSize>>10)
	}
	return fs.ReadFile(dir, name)
}

// cause drops the path from a file error: the problem names the file itself.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// Get gives a procedure or set-up action by id, nil if there is none.
func (l *Library) Get(id string) *model.Procedure {
	l.ensure()
	return l.byID[id]
}

// All gives every procedure but the set-up actions, by id.
func (l *Library) All() []*model.Procedure {
	l.ensure()
	out := make([]*model.Procedure, 0, len(l.byID))
	for _, p := range l.byID {
		if p.Kind != model.SetUp {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b *model.Procedure) int { return cmp.Compare(a.ID, b.ID) })
	return out
}

// SetUps gives the set-up actions in the order of the table of set-ups.
func (l *Library) SetUps() []*model.Procedure {
	l.ensure()
	var out []*model.Procedure
	for _, s := range setUpTable {
		if p := l.byID[s.id]; p != nil && p.Kind == model.SetUp {
			out = append(out, p)
		}
	}
	return out
}
