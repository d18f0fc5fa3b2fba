package outside

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"

	"bench/oilcan/store/storetest"
)

// TestVersionWritesNoQuery starts the real program on a terminal: it must not ask the terminal
// anything before it is known that a screen is wanted, since an answer that does not come costs
// seconds.
func TestVersionWritesNoQuery(t *testing.T) {
	out, err := onTerminal(t, "", nil, "--version")
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(out, "\x1b") {
		t.Errorf("--version writes an escape sequence: %q", out)
	}
	if !strings.HasPrefix(out, "oilcan ") {
		t.Errorf("--version writes %q", out)
	}
}

// TestDemoSignalled ends the demo by a signal as soon as its folder is there: nothing is left.
func TestDemoSignalled(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		t.Run(s.String(), func(t *testing.T) {
			if signal.Ignored(s) { // the program is then to outlive it too
				t.Skipf("these tests run where %s is ignored", s)
			}
			dir := t.TempDir()
			cmd := exec.Command(bin, "demo")
			cmd.Env = append(os.Environ(), "TMPDIR="+dir, "TERM=xterm-256color")
			tty, err := pty.Start(cmd) // without a terminal it prints and is soon over
			if err != nil {
				storetest.Lacks(t, "a pseudo terminal", err)
			}
			defer tty.Close()
			go func() { _, _ = io.Copy(io.Discard, tty) }()
			for found := []string(nil); len(found) == 0; time.Sleep(time.Millisecond) {
				found, _ = filepath.Glob(filepath.Join(dir, "oilcan-demo-*", "demo.oilcan"))
			}
			if err := cmd.Process.Signal(s); err != nil {
				t.Fatal(err)
			}
			_ = cmd.Wait() // as the signal had it
			if left, _ := os.ReadDir(dir); len(left) > 0 {
				t.Errorf("%s is left", left[0].Name())
			}
		})
	}
}

// TestMachineForm answers the guided form, with every kind of answer that cannot be in between.
func TestMachineForm(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	env := []string{"OILCAN_FILE=" + file, "OILCAN_NOW=2026-11-25T09:14:00Z", "TZ=UTC",
		"NO_COLOR=1"}
	answers := []string{
		"", "Heron", // no name, then one
		"9", "enclosed", // no kind, then one
		"",                  // nothing else built in
		"1 2", "rods-steel", // both, then one
		"",            // the lead screws it starts with
		"cutter sock", // toolhead
		"2", "1",      // a changer on the lid without a changer, then a changer
		"p",                  // production
		"03/04/2026", "used", // how it came
		"1,200", "1 200", "lots", "3,400", // hours, changes
		"", // the starter list
	}
	out, err := onTerminal(t, strings.Join(answers, "\n")+"\n", env, "machine", "add")
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, want := range []string{
		"the machine needs a name: give one of 1 to 40 characters",
		`there is no starting set "9"`,
		"only one of them can be: type one number",
		"lid-changer needs changer too: add it, or leave lid-changer out",
		`"1,200" can be 1200 or 1.2: type 1200, or 1.2 for the smaller one`,
		`"lots" is no number: write one like 1234 or 12.5`,
		`"03/04/2026" can be 3 April 2026 or 4 March 2026`,
		"Heron added, production duty",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("the form never says %q:\n%s", want, out)
		}
	}
	list, err := onTerminal(t, "", env, "machine", "list")
	if err != nil || !strings.Contains(list, "Heron  production  1 200 h, 3 400 changes") {
		t.Errorf("machine list says %q, %v", list, err)
	}
	json, _ := onTerminal(t, "", env, "machine", "list", "--json")
	for _, want := range []string{"enclosed", "corexy", "z-screw", "rods-steel", "cutter", "sock",
		"changer"} {
		if !strings.Contains(json, `"`+want+`"`) {
			t.Errorf("the machine lacks %s: %s", want, json)
		}
	}
	if !strings.Contains(json, `"care": [`) {
		t.Errorf("the machine is not kept by the starter list: %s", json)
	}
}

// TestFormLeftHalfway ends the input in the middle: nothing is saved.
func TestFormLeftHalfway(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	const endOfInput = "\x04"
	out, err := onTerminal(t, "Teal\n1\n"+endOfInput, []string{"OILCAN_FILE=" + file}, "machine",
		"add")
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 2 ||
		!strings.Contains(out, "the input ended before the last answer: nothing was saved") {
		t.Errorf("the form left halfway ends with %v:\n%s", err, out)
	}
	if _, err := os.Stat(file); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a data file was made: %v", err)
	}
}
