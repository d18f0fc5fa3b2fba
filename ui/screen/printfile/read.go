package printfile

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/ui/printfile"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// listed is what lies in a folder.
type listed struct {
	dir   string
	names []string // folders end in a slash
	why   string
}

// read is what a print file said.
type readFile struct {
	jobs    []printfile.Job
	why     string
	stopped bool
}

// maxListed is how many names of a folder are kept.
const maxListed = 2000

// folder is the folder part of what is typed, "." where there is none.
func (s *page) folder() (dir, rest string) {
	dir, rest = filepath.Split(home(s.path.Text))
	if dir == "" {
		dir = "."
	}
	return dir, rest
}

// home puts the home folder in the place of a leading ~.
func home(path string) string {
	rest, is := strings.CutPrefix(path, "~")
	if !is || rest != "" && rest[0] != filepath.Separator {
		return path
	}
	if h, err := os.UserHomeDir(); err == nil {
		return h + rest
	}
	return path
}

// list reads the names of the folder typed, where they are not known yet.
func (s *page) list() tea.Cmd {
	dir, _ := s.folder()
	if dir == s.dir {
		return nil
	}
	return s.Read(func(screen.Store) (any, error) {
		entries, err := os.ReadDir(dir)
		if err != nil {
			return listed{dir: dir, why: "There is no such folder, or it may not be read."}, nil
		}
		out := listed{dir: dir}
		for _, e := range entries {
			name := e.Name()
			switch {
			case strings.HasPrefix(name, "."):
			case isFolder(dir, e):
				out.names = append(out.names, name+string(filepath.Separator))
			case prints(name):
				out.names = append(out.names, name)
			}
			if len(out.names) == maxListed {
				break
			}
		}
		return out, nil
	})
}

func isFolder(dir string, e os.DirEntry) bool {
	if e.IsDir() {
		return true
	}
	if e.Type()&os.ModeSymlink == 0 {
		return false
	}
	info, err := os.Stat(filepath.Join(dir, e.Name()))
	return err == nil && info.IsDir()
}

// prints tells whether a name is that of a print file, as they are commonly called.
func prints(name string) bool {
	name = strings.TrimSuffix(strings.ToLower(name), ".gz")
	return slices.Contains([]string{".gcode", ".gco", ".g", ".nc", ".zip", ".3mf"},
		filepath.Ext(name))
}

// matching are the names that begin as what is typed.
func (s *page) matching() []string {
	dir, rest := s.folder()
	if dir != s.dir {
		return nil
	}
	var out []string
	for _, n := range s.names {
		if strings.HasPrefix(strings.ToLower(n), strings.ToLower(rest)) {
			out = append(out, n)
		}
	}
	return out
}

// completed is what is typed, gone on with as far as all names that match are the same.
func (s *page) completed() string {
	found := s.matching()
	if len(found) == 0 {
		return s.path.Text
	}
	common := []rune(found[0])
	for _, n := range found[1:] {
		r := []rune(n)
		k := 0
		for k < len(common) && k < len(r) && common[k] == r[k] {
			k++
		}
		common = common[:k]
	}
	_, rest := s.folder()
	if len(common) < len([]rune(rest)) {
		return s.path.Text
	}
	return strings.TrimSuffix(s.path.Text, rest) + string(common)
}

// complete types on.
func (s *page) complete() { s.path = screen.Field{Text: s.completed()} }

// pathKeys are those while a path is typed.
func (s *page) pathKeys() []screen.Key {
	return []screen.Key{
		screen.On("enter", "read it", "reads the file, or goes into the folder",
			func(screen.Press) tea.Cmd { return s.takePath() }),
		screen.On("tab", "complete", "completes a name in the folder", func(screen.Press) tea.Cmd {
			s.complete()
			return s.list()
		}),
		screen.On("?", "", "this page, where nothing is typed yet",
			screen.Sends(screen.AskHelp{})).When(s.path.Text == ""),
		screen.On("esc", "back", "", func(screen.Press) tea.Cmd {
			s.path.Text, s.why = "", ""
			return s.list()
		}),
	}
}

// takePath reads the file typed, or goes into the folder.
func (s *page) takePath() tea.Cmd {
	if found := s.matching(); len(found) == 1 {
		s.complete()
	}
	if s.path.Text != "" && !strings.HasSuffix(s.path.Text, string(filepath.Separator)) {
		return s.start()
	}
	return s.list()
}

// typePath takes a letter of the path.
func (s *page) typePath(p screen.Press) tea.Cmd {
	if s.path.Press(p.Msg) {
		s.why = ""
	}
	return s.list()
}

// start reads the file typed. Only its bytes so far are shared with the command.
func (s *page) start() tea.Cmd {
	ctx, stop := context.WithCancel(context.Background())
	r := &reading{stop: stop}
	s.reading, s.why = r, ""
	path := home(s.path.Text)
	if path == "-" { // a file called so: there is no other input here
		path = "./-"
	}
	m := s.m()
	return s.Read(func(screen.Store) (any, error) {
		defer stop()
		jobs, err := printfile.Read(ctx, path, nil,
			printfile.Options{Machine: m, Progress: func(p job.Progress) {
				r.bytes.Store(p.Bytes)
				r.size.Store(p.Size)
			}})
		out := readFile{jobs: jobs, stopped: errors.Is(err, context.Canceled)}
		if err != nil {
			out.why = theme.Safe(err.Error()) + "." // it begins with the file's name
		}
		return out, nil
	})
}

func (s *page) result(r screen.Result) tea.Cmd {
	if r.Wrote {
		return s.wrote(r)
	}
	switch v := r.Value.(type) {
	case listed:
		if dir, _ := s.folder(); dir == v.dir {
			s.dir, s.names, s.lost = v.dir, v.names, v.why
		}
	case readFile:
		if s.reading == nil || s.Stale(r) {
			return nil
		}
		s.reading = nil
		switch {
		case v.stopped:
			s.why = "Stopped: nothing was taken from it."
		case v.why != "":
			s.why = v.why
		default:
			s.jobs, s.all, s.Pager.Top = v.jobs, v.jobs, 0
			s.judge()
		}
	}
	return nil
}

// wrote takes the answer to a record, a booking, or the strike of one.
func (s *page) wrote(r screen.Result) tea.Cmd {
	s.saving = false
	es, _ := r.Value.([]model.Entry)
	if r.Err != nil || len(es) == 0 {
		return nil
	}
	switch {
	case es[0].Kind == model.KindStrike && s.recorded != "":
		s.recorded = ""
	case es[0].Kind == model.KindStrike:
		s.booked = ""
	case es[0].Kind == model.KindBooked:
		s.booked = es[0].Action
	default:
		s.recorded = es[0].Action
	}
	if es[0].Kind == model.KindStrike {
		return screen.Tell("Taken back: the book keeps both.")
	}
	return screen.Tell(s.written)
}
