package command

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/procedures"
)

// screened is what a run on a terminal saw.
type screened struct {
	// the bench's name and the data file's at each opening of the screens, "demo" before those of a
	// demo
	opened []string
	folder string // of the demo
	said   string
	code   int
}

// onScreen runs a command line on a terminal, with open in the place of the screens. signal sends
// one while the demo is being made.
func onScreen(t *testing.T, open func(n int) error, signal bool, args ...string) *screened {
	t.Helper()
	clock, err := NewClock(func() time.Time { return time.Unix(0, 0).UTC() }, "2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	home, seen := t.TempDir(), &screened{folder: filepath.Join(t.TempDir(), "made")}
	env := map[string]string{"OILCAN_FILE": filepath.Join(home, "bench.oilcan"), "HOME": home,
		"TERM": "xterm", "XDG_CONFIG_HOME": home}
	if err := os.Mkdir(filepath.Join(home, "oilcan"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(home, "oilcan", "config.toml"), []byte(`bench = "north"`),
		0o600); err != nil {
		t.Fatal(err)
	}
	var clean func() // what a signal would run; nil where none would
	var out bytes.Buffer
	seen.code = Run(Deps{
		Clock: clock, Stdin: strings.NewReader(""), Stdout: &out, Stderr: &out, InputTTY: true,
		OutputTTY: true,
		Env:       func(k string) string { return env[k] },
		TempDir:   func() (string, error) { return seen.folder, os.Mkdir(seen.folder, 0o700) },
		OnSignal: func(f func()) func() {
			clean = f
			return func() { clean = nil }
		},
		MakeDemo: func(string, *procedures.Library, time.Time) error {
			if signal {
				if clean(); seen.left() {
					t.Error("the signal leaves the demo's folder")
				}
			}
			return nil
		},
		OpenBench: func(o Opened) error {
			name := o.Title + " " + filepath.Base(o.Store.Path())
			if o.Demo {
				name = "demo " + name
				if clean == nil {
					t.Error("a signal before the screens catch it leaves the demo's folder")
				}
				if o.Caught(); clean != nil {
					t.Error("a signal would end the program past the screens")
				}
			}
			seen.opened = append(seen.opened, name)
			return open(len(seen.opened))
		},
	}, args)
	seen.said = out.String()
	return seen
}

func (s *screened) left() bool {
	_, err := os.Stat(s.folder)
	return !errors.Is(err, os.ErrNotExist)
}

// TestDemoFromAnEmptyBench goes to the demo and comes back to the bench.
func TestDemoFromAnEmptyBench(t *testing.T) {
	s := onScreen(t, func(n int) error {
		if n == 1 {
			return ErrShowDemo
		}
		return nil
	}, false)
	if got := strings.Join(s.opened,
		", "); got != "north bench.oilcan, demo north demo.oilcan, north bench.oilcan" ||
		s.code != Done || s.said != "" {
		t.Errorf("opened %s; exit %d, %q", got, s.code, s.said)
	}
	if s.left() {
		t.Error("the demo's folder is left")
	}
}

// TestDemoLeavesNothing ends the demo in every way there is.
func TestDemoLeavesNothing(t *testing.T) {
	quiet := func(int) error { return nil }
	for _, tt := range []struct {
		name   string
		open   func(int) error
		signal bool
	}{
		{"left", quiet, false},
		{"the screens fail", func(int) error { return errors.New("stopped: signal hangup") },
			false},
		{"a signal while it is made", quiet, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if onScreen(t, tt.open, tt.signal, "demo").left() {
				t.Error("the demo's folder is left")
			}
		})
	}
}
