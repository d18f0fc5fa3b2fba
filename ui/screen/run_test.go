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

func runChild(path string) {
	s, err := store.Open(path, time.Now)
	if err != nil {
		os.Exit(9)
	}
	err = screen.Run(screen.Deps{Store: s, Library: screentest.Library(),
		Theme: theme.New(theme.Options{Dark: true}), Now: time.Now, Real: time.Now,
		Rooms: rooms.Open},
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
		name string
		end  func(*exec.Cmd, *os.File)
		says string
		code int
	}{
		{"hang-up", signalled(syscall.SIGHUP), "ended: stopped: signal hangup", 1},
		{"quit signal", signalled(syscall.SIGQUIT), "ended: stopped: signal quit", 1},
		{"termination", signalled(syscall.SIGTERM), "", 0},
		{"q", typed("q"), "", 0},
		{"ctrl+c", typed("\x03"), "", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			cmd, ptmx, tty, out := startChild(t)
			before := modes(t, tty)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			go ptyCopy(out, ptmx)
			out.wait(t, "There is no machine on this bench yet.")
			c.end(cmd, ptmx)
			_ = cmd.Wait()
			if code := cmd.ProcessState.ExitCode(); code != c.code {
				t.Errorf("exit code %d, want %d", code, c.code)
			}
			out.wait(t, "\x1b[?1049l")
			if c.says != "" {
				out.wait(t, c.says)
			}
			if after := modes(t, tty); after != before {
				t.Errorf("terminal modes changed: %+v, were %+v", after, before)
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
