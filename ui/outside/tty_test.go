package outside

import (
	"io"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"

	"bench/oilcan/store/storetest"
)

// seat is a program at work on a terminal, driven by keys; what it waits for is what is drawn, never a
// time.
type seat struct {
	t   testing.TB
	cmd *exec.Cmd
	tty *os.File

	mu   sync.Mutex
	out  []byte
	mark int           // what was drawn before the last keys
	more chan struct{} // something was drawn
	done chan struct{} // the program has ended
	told chan struct{} // and all it wrote has come
}

// sit starts a program on a terminal of 80x24.
func sit(t testing.TB, env []string, name string, args ...string) *seat {
	t.Helper()
	return sitWith(t, env, nil, name, args...)
}

// sitWith starts a program that is handed more files.
func sitWith(t testing.TB, env []string, files []*os.File, name string, args ...string) *seat {
	t.Helper()
	s := &seat{t: t, cmd: exec.Command(name, args...), more: make(chan struct{}, 1),
		done: make(chan struct{}), told: make(chan struct{})}
	s.cmd.Env = append(os.Environ(), "TERM=xterm-256color", "LANG=C.UTF-8", "TZ=UTC",
		"HOME="+t.TempDir(), "XDG_CONFIG_HOME=", "XDG_DATA_HOME=", "XDG_STATE_HOME=")
	s.cmd.Env = append(s.cmd.Env, env...)
	s.cmd.ExtraFiles = files
	var err error
	if s.tty, err = pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		storetest.Lacks(t, "a pseudo terminal", err)
	}
	go s.read()
	go func() { _ = s.cmd.Wait(); close(s.done) }()
	t.Cleanup(func() {
		_ = s.cmd.Process.Kill()
		<-s.done
		s.tty.Close()
	})
	return s
}

func (s *seat) read() {
	defer close(s.told)
	buf := make([]byte, 64<<10)
	for {
		n, err := s.tty.Read(buf)
		s.mu.Lock()
		s.out = append(s.out, buf[:n]...)
		s.mu.Unlock()
		select {
		case s.more <- struct{}{}:
		default:
		}
		if err != nil {
			return
		}
	}
}

// drawn is what was drawn since the last keys.
func (s *seat) drawn() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return string(s.out[s.mark:])
}

// all is what was drawn from the start.
func (s *seat) all() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return string(s.out)
}

// steering is what colours a text or moves the cursor.
var steering = regexp.MustCompile(`\x1b\[[0-9;?]*[A-Za-z]`)

// keys types.
func (s *seat) keys(keys string) {
	s.t.Helper()
	s.mu.Lock()
	s.mark = len(s.out)
	s.mu.Unlock()
	if _, err := io.WriteString(s.tty, keys); err != nil {
		s.t.Fatal(err)
	}
}

// waits waits until one of some texts was drawn since the last keys.
func (s *seat) waits(texts ...string) {
	s.t.Helper()
	limit := time.After(terminalLimit)
	for {
		for _, x := range texts {
			if strings.Contains(steering.ReplaceAllString(s.drawn(), ""), x) {
				return
			}
		}
		select {
		case <-s.more:
		case <-limit:
			s.t.Fatalf("none of %q was drawn:\n%q", texts, s.drawn())
		}
	}
}

// quiet waits until nothing more is drawn.
func (s *seat) quiet() {
	for {
		select {
		case <-s.more:
		case <-s.told:
			return
		case <-time.After(time.Second):
			return
		}
	}
}

// ends waits for the program's end, and for all it wrote, and gives its exit code.
func (s *seat) ends() int {
	s.t.Helper()
	limit := time.After(terminalLimit)
	for _, end := range []chan struct{}{s.done, s.told} {
		select {
		case <-end:
		case <-limit:
			s.t.Fatalf("the program does not end:\n%q", s.drawn())
		}
	}
	return s.cmd.ProcessState.ExitCode()
}

// left requires the terminal to be left as it was found: no screen of its own, the cursor shown, no
// pasted text marked.
func (s *seat) left() {
	s.t.Helper()
	limit := time.After(terminalLimit)
	for {
		on := modesOn(s.all())
		if on == "" {
			return
		}
		select {
		case <-s.more: // its last words may be on their way
		case <-limit:
			s.t.Errorf("%s", on)
			return
		}
	}
}

// modesOn says what a program has switched on in a terminal and not off again; "" for nothing.
func modesOn(out string) string {
	for _, mode := range []string{"\x1b[?1049", "\x1b[?2004"} {
		at := strings.LastIndex(out, mode)
		if at >= 0 && !strings.HasPrefix(out[at+len(mode):], "l") {
			return strconv.Quote(mode) + " is still on"
		}
	}
	if strings.LastIndex(out, "\x1b[?25h") < strings.LastIndex(out, "\x1b[?25l") {
		return "the cursor is still hidden"
	}
	return ""
}

// benchOf makes a data file by commands of the program itself.
func benchOf(t testing.TB, file string, lines ...string) {
	t.Helper()
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines {
		cmd := exec.Command(bin, append([]string{"--file", file}, strings.Split(line, " ")...)...)
		cmd.Env = append(os.Environ(), "OILCAN_NOW="+pinned, "TZ=UTC", "HOME="+t.TempDir(),
			"XDG_CONFIG_HOME=")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", line, err, out)
		}
	}
}

// pinned is the time of the tests' benches, and heron the line that adds their machine.
const (
	pinned = "2026-11-25T09:14:00Z"
	heron  = "machine add Heron --features full --duty home --hours 1200 --changes 3400"
)

// exitedBy tells the signal a program was ended by, 0 for none.
func exitedBy(cmd *exec.Cmd) syscall.Signal {
	if ws, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); ok && ws.Signaled() {
		return ws.Signal()
	}
	return 0
}
