package main

import (
	"bytes"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/creack/pty"
	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(tidied{m}, map[string]func(){"oilcan": main})
}

// tidied runs the tests and removes the program built for them.
type tidied struct{ m *testing.M }

func (t tidied) Run() int {
	defer func() { os.RemoveAll(builtIn) }()
	return t.m.Run()
}

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
	out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("go build: %w\n%s", err, out)
	}
	return bin, nil
})

// onTerminal runs the real program on a pseudo terminal, types the input and gives all it wrote.
func onTerminal(t *testing.T, input string, env []string, args ...string) (string, error) {
	t.Helper()
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, args...)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "HOME="+t.TempDir(), "XDG_CONFIG_HOME=", "XDG_DATA_HOME=", "LANG=C.UTF-8")
	cmd.Env = append(cmd.Env, env...)
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Skipf("no pseudo terminal here: %v", err)
	}
	defer tty.Close()
	if _, err := io.WriteString(tty, input); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if _, err := io.Copy(&out, tty); err != nil && !strings.Contains(err.Error(), "input/output error") {
		t.Fatal(err) // a closed pty reads as an input/output error on Linux
	}
	return out.String(), cmd.Wait()
}

// TestVersionWritesNoQuery starts the real program on a terminal: it must not ask the terminal anything
// before it is known that a screen is wanted, since an answer that does not come costs seconds.
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
			dir := t.TempDir()
			cmd := exec.Command(bin, "demo")
			cmd.Env = append(os.Environ(), "TMPDIR="+dir)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			ended := make(chan error, 1)
			go func() { ended <- cmd.Wait() }()
			made := func() bool {
				found, _ := filepath.Glob(filepath.Join(dir, "oilcan-demo-*", "demo.oilcan"))
				return len(found) > 0
			}
			for !made() {
				select {
				case err := <-ended:
					t.Skip("it was over before the signal: ", err)
				default:
				}
			}
			_ = cmd.Process.Signal(s) // it may be over by now
			<-ended
			if left, _ := os.ReadDir(dir); len(left) > 0 {
				t.Errorf("%s is left", left[0].Name())
			}
		})
	}
}

// TestMachineForm answers the guided form, with every kind of answer that cannot be in between.
func TestMachineForm(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	env := []string{"OILCAN_FILE=" + file, "OILCAN_NOW=2026-11-25T09:14:00Z", "TZ=UTC", "NO_COLOR=1"}
	answers := []string{
		"", "Heron", // no name, then one
		"9", "1 2", "1", // enclosed or not: none of them, both, enclosed
		"corexy", "", // core-XY; nothing else built in
		"rods-steel", "Bush-Ball", "3", "don't know", // rods, bushings; lead screws, nuts
		"", "2", "", "", // belts, extruder, nozzle, sensor
		"cutter sock", "2", "1", // toolhead; a changer on the lid without a changer, then a changer
		"p",                          // production
		"1,200", "lots", "3400", "-", // hours, changes, starts
	}
	out, err := onTerminal(t, strings.Join(answers, "\n")+"\n\nsomeday\nyesterday\n\ns\n", env, "machine", "add")
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, want := range []string{
		"the machine needs a name: give one of 1 to 40 characters",
		`"9" is none of them: type a number from 1 to 2`,
		"only one of them can be: type one number",
		"lid-changer needs changer too: add it, or leave lid-changer out",
		`"lots" is no number: write one like 1234 or 12.5`,
		`"someday" is no date: `,
		"Heron added, production duty",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("the form never says %q:\n%s", want, out)
		}
	}
	list, err := onTerminal(t, "", env, "machine", "list")
	if err != nil || !strings.Contains(list, "Heron  production  1,200 h, 3,400 changes") {
		t.Errorf("machine list says %q, %v", list, err)
	}
	json, _ := onTerminal(t, "", env, "machine", "list", "--json")
	for _, want := range []string{"enclosed", "corexy", "z-screw", "rods-steel", "bush-ball", "remote-drive", "cutter", "sock", "changer"} {
		if !strings.Contains(json, `"`+want+`"`) {
			t.Errorf("the machine lacks %s: %s", want, json)
		}
	}
}

// TestFormLeftHalfway ends the input in the middle: nothing is saved.
func TestFormLeftHalfway(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	const endOfInput = "\x04"
	out, err := onTerminal(t, "Teal\n1\n"+endOfInput, []string{"OILCAN_FILE=" + file}, "machine", "add")
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 2 || !strings.Contains(out, "the input ended before the last answer: nothing was saved") {
		t.Errorf("the form left halfway ends with %v:\n%s", err, out)
	}
	if _, err := os.Stat(file); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a data file was made: %v", err)
	}
}

const module = "bench/oilcan"

// mayKnow says which of our packages each may import, by the first part of its path.
var mayKnow = map[string][]string{
	"model":      {"model"},
	"procedures": {"procedures", "model"},
	"store":      {"store", "model"},
	"ui":         {"ui", "store", "procedures", "model"},
	"":           {"ui", "store", "procedures", "model"},
}

// TestImportsPointOneWay holds the arrows between packages, and keeps files, terminals and the data file
// out of the model.
func TestImportsPointOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "./...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) < 5 {
		t.Fatalf("go list names only %d packages", len(lines))
	}
	for _, l := range lines {
		words := strings.Fields(l)
		part := top(words[0])
		allowed, known := mayKnow[part]
		if !known {
			t.Errorf("%s is none of the parts of the program", words[0])
		}
		for _, imp := range words[1:] {
			ours := imp == module || strings.HasPrefix(imp, module+"/")
			if ours && !contains(allowed, top(imp)) {
				t.Errorf("%s may not import %s", words[0], imp)
			}
			if part == "model" && !ours && impure(imp) {
				t.Errorf("%s imports %s: the model knows no file, no terminal and no other library", words[0], imp)
			}
		}
	}
}

// impure packages reach outside a program, or come from elsewhere. Three from elsewhere only compute:
// statistics, reading a packed stream that is handed in, and what the processor can do.
func impure(imp string) bool {
	for _, pure := range []string{"gonum.org/v1/gonum/", "github.com/klauspost/compress/", "golang.org/x/sys/cpu"} {
		if strings.HasPrefix(imp, pure) {
			return false
		}
	}
	return contains([]string{"os", "io/fs", "net", "os/exec", "syscall", "math/rand", "math/rand/v2"}, imp) || strings.Contains(imp, ".")
}

// top is the first part of a package's path below the module.
func top(path string) string {
	part, _, _ := strings.Cut(strings.TrimPrefix(strings.TrimPrefix(path, module), "/"), "/")
	return part
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// TestOnlyMainReadsTheClock looks for calls that read the real time below main.go: it is handed down.
func TestOnlyMainReadsTheClock(t *testing.T) {
	files := 0
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && path != "." && (strings.HasPrefix(name, ".") || name == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || path == "main.go" || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		files++
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if pkg, ok := sel.X.(*ast.Ident); ok && pkg.Name == "time" && contains([]string{"Now", "Since", "Until"}, sel.Sel.Name) {
				t.Errorf("%s reads the clock with time.%s: take the time from the caller", set.Position(n.Pos()), sel.Sel.Name)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 20 {
		t.Fatalf("only %d files were looked at", files)
	}
}
