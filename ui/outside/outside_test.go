// Package outside tests the whole program from outside: its commands by scripts, its screens on a
// pseudo terminal, how it starts and how it ends. The program is built once.
package outside

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"

	"bench/oilcan/store/storetest"
)

func TestMain(m *testing.M) {
	if os.Getenv(shellFor) != "" {
		os.Exit(littleShell(os.Args[1:]))
	}
	code := m.Run()
	os.RemoveAll(builtIn)
	os.Exit(code)
}

// root is the folder of the program's main package.
const root = "../.."

// builtIn is the folder of the program built for the tests, "" until it is.
var builtIn string

// built gives the real program, built once.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "oilcan-test-")
	if err != nil {
		return "", err
	}
	builtIn = dir
	bin := filepath.Join(dir, "oilcan")
	out, err := exec.Command("go", "build", "-ldflags=-w", "-o", bin, root).CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("go build: %w\n%s", err, out)
	}
	return bin, nil
})

// terminalLimit is how long a program may run on a terminal: one that waits for an answer nobody
// gives is ended, and the test fails with what was on the screen.
const terminalLimit = 10 * time.Second

// onTerminal runs the real program on a pseudo terminal, types the input and gives all it wrote.
func onTerminal(t *testing.T, input string, env []string, args ...string) (string, error) {
	t.Helper()
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, args...)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "HOME="+t.TempDir(), "XDG_CONFIG_HOME=",
		"XDG_DATA_HOME=", "LANG=C.UTF-8")
	cmd.Env = append(cmd.Env, env...)
	tty, err := pty.Start(cmd)
	if err != nil {
		storetest.Lacks(t, "a pseudo terminal", err)
	}
	defer tty.Close()
	late := time.AfterFunc(terminalLimit, func() { _ = cmd.Process.Kill() })
	defer late.Stop()
	if _, err := io.WriteString(tty, input); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if _, err := io.Copy(&out, tty); err != nil &&
		!strings.Contains(err.Error(), "input/output error") {
		t.Fatal(err) // a closed pty reads as an input/output error on Linux
	}
	return out.String(), cmd.Wait()
}
