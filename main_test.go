package main

import (
	"bytes"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/creack/pty"
	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"oilcan": main})
}

// TestScripts runs the program from outside, with a home, a clock and a data file of its own for each
// script.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("ui", "command", "testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			home := filepath.Join(e.WorkDir, "home")
			e.Setenv("HOME", home)
			e.Setenv("TMPDIR", e.WorkDir)
			for k, v := range map[string]string{"TZ": "UTC", "LANG": "C.UTF-8", "TERM": "xterm-256color", "USER": "ada",
				"OILCAN_NOW": "2026-11-25T09:14:00Z", "OILCAN_BY": "Ada", "OILCAN_FILE": filepath.Join(e.WorkDir, "bench.oilcan")} {
				e.Setenv(k, v)
			}
			return os.MkdirAll(home, 0o755)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "grab": grab, "cmpe": cmpe, "cmpids": cmpIDs,
		},
	})
}

// exits runs a command and wants its exit code: exits 2 oilcan foo.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	default:
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d\n%s%s", got, want, ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}

// grab puts the first group of a pattern in the last standard output into a variable: grab ID 'strike (\w+)'.
func grab(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: grab name pattern")
	}
	m := regexp.MustCompile("(?m)" + args[1]).FindStringSubmatch(ts.ReadFile("stdout"))
	if len(m) < 2 {
		ts.Fatalf("nothing matches %s", args[1])
	}
	ts.Setenv(args[0], m[1])
}

// cmpe compares the last standard error with exactly one line.
func cmpe(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: cmpe line")
	}
	if got := ts.ReadFile("stderr"); got != args[0]+"\n" {
		ts.Fatalf("standard error is\n%swant\n%s", got, args[0])
	}
}

// shortID is an entry's id as it is printed.
var shortID = regexp.MustCompile(`(\d\d:\d\d  |struck )[0-9a-hjkmnp-tv-z]{6}`)

// cmpIDs compares the last standard output with a file in which entry ids are written ID.
func cmpIDs(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: cmpids file")
	}
	got := shortID.ReplaceAllString(ts.ReadFile("stdout"), "${1}ID")
	if want := ts.ReadFile(args[0]); got != want {
		ts.Fatalf("standard output is\n%swant\n%s", got, want)
	}
}

// TestVersionWritesNoQuery starts the real program on a terminal: it must not ask the terminal anything
// before it is known that a screen is wanted, since an answer that does not come costs seconds.
func TestVersionWritesNoQuery(t *testing.T) {
	bin := filepath.Join(t.TempDir(), "oilcan")
	if out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	cmd := exec.Command(bin, "--version")
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "HOME="+t.TempDir())
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Skipf("no pseudo terminal here: %v", err)
	}
	defer tty.Close()
	var out bytes.Buffer
	if _, err := io.Copy(&out, tty); err != nil && !errors.Is(err, fs.ErrClosed) && !strings.Contains(err.Error(), "input/output error") {
		t.Fatal(err) // a closed pty reads as an input/output error on Linux
	}
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(out.Bytes(), []byte("\x1b")) {
		t.Errorf("--version writes an escape sequence: %q", out.String())
	}
	if !strings.HasPrefix(out.String(), "oilcan ") {
		t.Errorf("--version writes %q", out.String())
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

// impure packages reach outside a program, or come from elsewhere.
func impure(imp string) bool {
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
