package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/creack/pty"

	"bench/oilcan/store/storetest"
)

// pair is the program, with an already made demo file, and the least program of the screen library,
// which draws a number and draws it anew for each key. What one takes beside the other is what
// counts: the machine is in both.
type pair struct{ oilcan, file, empty string }

func newPair(t testing.TB) pair {
	t.Helper()
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	p := pair{oilcan: bin, empty: filepath.Join(dir, "empty")}
	if out, err := exec.Command("go", "build", "-o", p.empty,
		"./testdata/empty").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	made := exec.Command(p.oilcan, "demo", "--print")
	made.Env = append(os.Environ(), "TMPDIR="+dir)
	out, err := made.Output()
	if err != nil {
		t.Fatal(err)
	}
	p.file = string(bytes.TrimSpace(out))
	return p
}

func (p pair) startOurs(t testing.TB, size pty.Winsize) *drawn {
	return startDrawn(t, size, "most pressing", p.oilcan, "--file", p.file)
}

func (p pair) startLeast(t testing.TB, size pty.Winsize) *drawn {
	return startDrawn(t, size, "first frame", p.empty)
}

// drawn is a program on a terminal.
type drawn struct {
	cmd  *exec.Cmd
	tty  *os.File
	took time.Duration  // from the start until the text was drawn
	came chan time.Time // when something was drawn, from then on
}

// startDrawn runs a program until a text is drawn.
func startDrawn(t testing.TB, size pty.Winsize, text, name string, args ...string) *drawn {
	t.Helper()
	d := &drawn{cmd: exec.Command(name, args...), came: make(chan time.Time, 1024)}
	d.cmd.Env = append(os.Environ(), "TERM=xterm-256color")
	start, begun := time.Now(), make(chan time.Time)
	var err error
	if d.tty, err = pty.StartWithSize(d.cmd, &size); err != nil {
		storetest.Lacks(t, "a pseudo terminal", err)
	}
	t.Cleanup(func() {
		_ = d.cmd.Process.Kill() // nobody waits for what it would still write
		_ = d.cmd.Wait()
		d.tty.Close()
	})
	go d.read(text, begun)
	select {
	case at := <-begun:
		d.took = at.Sub(start)
	case <-time.After(20 * time.Second):
		t.Fatalf("%s draws no %q", name, text)
	}
	return d
}

// read notes when something is drawn, once a text was.
func (d *drawn) read(text string, begun chan<- time.Time) {
	buf := make([]byte, 256<<10)
	var seen []byte
	for {
		n, err := d.tty.Read(buf)
		if err != nil {
			return
		}
		if begun != nil {
			if seen = append(seen, buf[:n]...); bytes.Contains(seen, []byte(text)) {
				begun <- time.Now()
				seen, begun = nil, nil
			}
			continue
		}
		select {
		case d.came <- time.Now():
		default: // nobody looks
		}
	}
}

// press presses a key and gives the time until something is drawn.
func (d *drawn) press(t testing.TB, key string) time.Duration {
	t.Helper()
	for len(d.came) > 0 {
		<-d.came
	}
	begun := time.Now()
	if _, err := d.tty.WriteString(key); err != nil {
		t.Fatal(err)
	}
	select {
	case at := <-d.came:
		return at.Sub(begun)
	case <-time.After(10 * time.Second):
		t.Fatalf("nothing is drawn for %s", key)
	}
	return 0
}

// quit ends a program by its key.
func (d *drawn) quit(t testing.TB) {
	t.Helper()
	if _, err := d.tty.WriteString("q"); err != nil {
		t.Fatal(err)
	}
	if err := d.cmd.Wait(); err != nil {
		t.Fatal(err)
	}
}
