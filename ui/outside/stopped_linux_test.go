package outside

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// shellFor is the environment variable that makes the test binary a little shell: it runs a program in
// the foreground of its terminal, says on file 3 when that was stopped or has ended and how the terminal
// stands then, and continues it when a line comes on file 4.
const shellFor = "OILCAN_TEST_SHELL"

func littleShell(args []string) int {
	say, heard := os.NewFile(3, "say"), bufio.NewScanner(os.NewFile(4, "hear"))
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Foreground: true}
	if err := cmd.Start(); err != nil {
		fmt.Fprintln(say, err)
		return 1
	}
	pid := cmd.Process.Pid
	signal.Ignore(syscall.SIGTTOU) // from here on, so that the program does not inherit it
	fmt.Fprintln(say, "pid", pid)
	for {
		var ws syscall.WaitStatus
		if _, err := syscall.Wait4(pid, &ws, syscall.WUNTRACED, nil); err != nil {
			fmt.Fprintln(say, err)
			return 1
		}
		_ = unix.IoctlSetPointerInt(0, unix.TIOCSPGRP, syscall.Getpgrp())
		modes, err := unix.IoctlGetTermios(0, unix.TCGETS)
		cooked := err == nil && modes.Lflag&unix.ICANON != 0 && modes.Lflag&unix.ECHO != 0
		if !ws.Stopped() {
			fmt.Fprintln(say, "ended", ws.ExitStatus(), cooked)
			return 0
		}
		fmt.Fprintln(say, "stopped", cooked)
		heard.Scan()
		_ = unix.IoctlSetPointerInt(0, unix.TIOCSPGRP, pid)
		_ = syscall.Kill(-pid, syscall.SIGCONT)
	}
}

// TestStopped: stopped by ctrl+z or by the signal, the terminal is as a shell needs it; continued, the
// program draws and takes keys again, as often as one likes.
func TestStopped(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	benchOf(t, file, heron)
	said, say, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	hear, tell, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	s := sitWith(t, []string{shellFor + "=1", "OILCAN_NOW=" + pinned}, []*os.File{say, hear},
		os.Args[0], bin, "--file", file)
	say.Close()
	hear.Close()
	lines := bufio.NewScanner(said)
	next := func(want string) string {
		t.Helper()
		if !lines.Scan() || !strings.HasPrefix(lines.Text(), want) {
			t.Fatalf("the shell says %q, want %q:\n%q", lines.Text(), want, s.drawn())
		}
		return strings.TrimPrefix(lines.Text(), want)
	}
	pid, err := strconv.Atoi(strings.TrimSpace(next("pid")))
	if err != nil {
		t.Fatal(err)
	}
	s.waits("Heron")
	for round := range 4 {
		if round%2 == 0 {
			s.keys("\x1a")
		} else if err := syscall.Kill(pid, syscall.SIGTSTP); err != nil {
			t.Fatal(err)
		}
		if cooked := next("stopped "); cooked != "true" {
			t.Errorf("round %d: stopped, the terminal is still the program's", round)
		}
		s.left()
		s.keys("") // what is drawn from here on
		if _, err := fmt.Fprintln(tell, "go"); err != nil {
			t.Fatal(err)
		}
		s.waits("Heron")
		s.keys("?")
		s.waits("esc")
		s.keys("?")
		s.waits("Heron")
	}
	s.keys("q")
	if end := next("ended "); end != "0 true" {
		t.Errorf("it ends with %s", end)
	}
	s.left()
}
