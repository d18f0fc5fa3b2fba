//go:build linux

package screen_test

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
	"golang.org/x/sys/unix"

	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/rooms"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/theme"
)

// childFile is the environment variable that makes the test binary run the screens on a data file.
const childFile = "OILCAN_SCREEN_CHILD"

func TestMain(m *testing.M) {
	if path := os.Getenv(childFile); path != "" {
		runChild(path)
	}
	os.Exit(m.Run())
}

// childPanics makes the child's machine page one with a mistake: in a key, in a command, in a frame.
const childPanics = "OILCAN_SCREEN_PANICS"

// mistaken is a screen with a mistake.
type mistaken struct {
	screentest.Probe
	in string
}

func (m *mistaken) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	_, pressed := msg.(screen.Press)
	switch {
	case pressed && m.in == "key":
		panic("a mistake in a key")
	case pressed && m.in == "command":
		return m, tea.Batch(nil, func() tea.Msg { panic("a mistake in a command") })
	}
	m.Take(msg)
	return m, nil
}

func (m *mistaken) View() string {
	if m.in == "frame" {
		panic("a mistake in a frame")
	}
	return "a screen with a mistake"
}

// childRooms are the rooms, with the drawer mistaken where that is asked for.
func childRooms(e *screen.Env, to any) screen.Screen {
	if _, drawer := to.(screen.ToDrawer); drawer && os.Getenv(childPanics) != "" {
		return &mistaken{Probe: screentest.Probe{Base: e.Base()}, in: os.Getenv(childPanics)}
	}
	return rooms.Open(e, to)
}

func runChild(path string) {
	s, err := store.Open(path, time.Now)
	if err != nil {
		os.Exit(9)
	}
	err = screen.Run(screen.Deps{Store: s, Library: screentest.Library(),
		Theme: theme.New(theme.Options{Dark: true}), Now: time.Now, Real: time.Now,
		Rooms: childRooms},
		screen.Terminal{In: os.Stdin, Out: os.Stdout, Name: os.Getenv("TERM")})
	if err != nil {
		os.Stderr.WriteString("ended: " + err.Error() + "\n")
		os.Exit(1)
	}
	os.Exit(0)
}

// recorder keeps what a terminal was sent, and tells when a text has come.
type recorder struct {
	mu   sync.Mutex
	buf  bytes.Buffer
	more chan struct{}
}

func (r *recorder) Write(p []byte) (int, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.buf.Write(p)
	select {
	case r.more <- struct{}{}:
	default:
	}
	return len(p), nil
}

func (r *recorder) String() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.buf.String()
}

// wait waits until the text has come.
func (r *recorder) wait(t *testing.T, text string) {
	t.Helper()
	limit := time.After(20 * time.Second)
	for !strings.Contains(r.String(), text) {
		select {
		case <-r.more:
		case <-limit:
			t.Fatalf("%q never came: %q", text, r.String())
		}
	}
}

// The terminal is as it was before, whatever ends the program.
func TestTheTerminalIsRestored(t *testing.T) {
	signalled := func(s os.Signal) func(*exec.Cmd, *os.File) {
		return func(c *exec.Cmd, _ *os.File) { _ = c.Process.Signal(s) }
	}
	typed := func(s string) func(*exec.Cmd, *os.File) {
		return func(_ *exec.Cmd, f *os.File) { _, _ = f.WriteString(s) }
	}
	for _, c := range []struct {
		name  string
		end   func(*exec.Cmd, *os.File)
		says  string
		code  int
		panic string // where the drawer has a mistake
	}{
		{"hang-up", signalled(syscall.SIGHUP), "ended: stopped: signal hangup", 1, ""},
		{"quit signal", signalled(syscall.SIGQUIT), "ended: stopped: signal quit", 1, ""},
		{"termination", signalled(syscall.SIGTERM), "", 0, ""},
		{"q", typed("q"), "", 0, ""},
		{"ctrl+c", typed("\x03"), "", 0, ""},
		{"panic in a key", typed("x"), "ended: a mistake in a key", 1, "key"},
		{"panic in a command", typed("x"), "ended: a mistake in a command", 1, "command"},
		{"panic in a frame", typed("d"), "ended: a mistake in a frame", 1, "frame"},
	} {
		t.Run(c.name, func(t *testing.T) {
			cmd, ptmx, tty, out := startChild(t)
			cmd.Env = append(cmd.Env, childPanics+"="+c.panic)
			before := modes(t, tty)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			copied := make(chan struct{})
			go func() { ptyCopy(out, ptmx); close(copied) }()
			out.wait(t, "There is no machine on this bench yet.")
			if c.panic == "key" || c.panic == "command" {
				_, _ = ptmx.WriteString("d")
				out.wait(t, "a screen with a mistake")
			}
			c.end(cmd, ptmx)
			late := time.AfterFunc(time.Minute, func() { _ = cmd.Process.Kill() })
			_ = cmd.Wait()
			late.Stop()
			if code := cmd.ProcessState.ExitCode(); code != c.code {
				t.Errorf("exit code %d, want %d", code, c.code)
			}
			if after := modes(t, tty); after != before {
				t.Errorf("terminal modes changed: %+v, were %+v", after, before)
			}
			tty.Close() // the last who had it: all that was written comes, and then the end
			<-copied
			for _, says := range []string{"\x1b[?1049l", c.says} {
				if !strings.Contains(out.String(), says) {
					t.Errorf("%q never came: %q", says, out.String())
				}
			}
			if strings.Contains(out.String(), "goroutine ") {
				t.Error("a trace is written over the screen")
			}
			if strings.Contains(out.String(), "\x1b]11;?") {
				t.Error("the terminal was asked for its background colour")
			}
			for _, mode := range []string{"?1049", "?2004"} {
				if last := strings.LastIndex(out.String(), mode); !strings.HasPrefix(
					out.String()[last+len(mode):], "l") {
					t.Errorf("mode %s is still on", mode)
				}
			}
			if s := out.String(); strings.LastIndex(s, "\x1b[?25h") < strings.LastIndex(s,
				"\x1b[?25l") {
				t.Error("the cursor is still hidden")
			}
		})
	}
}

// startChild prepares the screens as a program of their own on a pseudo terminal of 80x24.
func startChild(t *testing.T) (cmd *exec.Cmd, ptmx, tty *os.File, out *recorder) {
	t.Helper()
	ptmx, tty, err := pty.Open()
	if err != nil {
		storetest.Lacks(t, "a pseudo terminal", err)
	}
	t.Cleanup(func() { ptmx.Close(); tty.Close() })
	if err := pty.Setsize(ptmx, &pty.Winsize{Cols: 80, Rows: 24}); err != nil {
		t.Fatal(err)
	}
	cmd = exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", childFile+"="+
		filepath.Join(t.TempDir(), "bench.db"))
	cmd.Stdin, cmd.Stdout, cmd.Stderr = tty, tty, tty
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	return cmd, ptmx, tty, &recorder{more: make(chan struct{}, 1)}
}

func modes(t *testing.T, tty *os.File) unix.Termios {
	t.Helper()
	m, err := unix.IoctlGetTermios(int(tty.Fd()), unix.TCGETS)
	if err != nil {
		t.Fatal(err)
	}
	return *m
}

// ptyCopy copies until the terminal is closed.
func ptyCopy(out *recorder, f *os.File) {
	buf := make([]byte, 4096)
	for {
		n, err := f.Read(buf)
		_, _ = out.Write(buf[:n])
		if err != nil {
			return
		}
	}
}

func TestRunRefusesWithoutATerminal(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	defer w.Close()
	if err := screen.Run(screen.Deps{}, screen.Terminal{In: r, Out: w, Name: "xterm"}); !errors.Is(
		err, screen.ErrNoTerminal) {
		t.Errorf("a pipe: %v", err)
	}
	ptmx, tty, err := pty.Open()
	if err != nil {
		storetest.Lacks(t, "a pseudo terminal", err)
	}
	defer ptmx.Close()
	defer tty.Close()
	for _, name := range []string{"dumb", ""} {
		if err := screen.Run(screen.Deps{},
			screen.Terminal{In: tty, Out: tty, Name: name}); !errors.Is(err, screen.ErrNoTerminal) {
			t.Errorf("TERM=%s: %v", name, err)
		}
	}
}
