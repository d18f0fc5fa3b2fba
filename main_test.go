package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/ui/command"
	"bench/oilcan/ui/screen"
)

const module = "bench/oilcan"

// mayKnow says which of our packages each may import, by the first part of its path.
var mayKnow = map[string][]string{
	"model":      {"model"},
	"procedures": {"procedures", "model"},
	"store":      {"store", "model"},
	"ui":         {"ui", "store", "procedures", "model"},
	"":           {"ui", "store", "procedures", "model"},
}

// TestImportsPointOneWay holds the arrows between packages, and keeps files, terminals and the data
// file out of the model.
func TestImportsPointOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`,
		"./...").Output()
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
			if imp == "net" || strings.HasPrefix(imp, "net/") {
				t.Errorf("%s imports %s: no part of the program speaks over a network", words[0],
					imp)
			}
			if part == "model" && !ours && impure(imp) {
				t.Errorf("%s imports %s: the model knows no file, no terminal and no other library",
					words[0], imp)
			}
		}
	}
}

// TestNoScreenKnowsAnother holds the rooms of ui/screen: each screen knows the base and the parts
// that screens share; only the table of them knows them all, and the base knows none.
func TestNoScreenKnowsAnother(t *testing.T) {
	const base = module + "/ui/screen"
	parts := []string{base + "/swap", base + "/fail"}
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`,
		"./ui/screen/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	screens := 0
	for _, l := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		words := strings.Fields(l)
		if words[0] == base+"/rooms" || words[0] == base+"/screentest" {
			continue
		}
		screens++
		for _, imp := range words[1:] {
			low := contains(parts, words[0]) || words[0] == base
			if strings.HasPrefix(imp, base+"/") && (low || !contains(parts, imp)) {
				t.Errorf("%s may not import %s: a screen opens another by the message Open",
					words[0], imp)
			}
		}
	}
	if screens < 12 {
		t.Errorf("only %d screens were looked at", screens)
	}
}

// impure packages reach outside a program, or come from elsewhere. Three from elsewhere only
// compute: statistics, reading a packed stream that is handed in, and what the processor can do.
func impure(imp string) bool {
	for _, pure := range []string{"gonum.org/v1/gonum/", "github.com/klauspost/compress/",
		"golang.org/x/sys/cpu"} {
		if strings.HasPrefix(imp, pure) {
			return false
		}
	}
	return contains([]string{"os", "io/fs", "net", "os/exec", "syscall", "math/rand",
		"math/rand/v2"}, imp) || strings.Contains(imp, ".")
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

// TestOnlyMainReadsTheClock looks for calls that read the real time below main.go: it is handed
// down.
func TestOnlyMainReadsTheClock(t *testing.T) {
	eachSource(t, func(path string, set *token.FileSet, f *ast.File) {
		eachUse(f, func(pkg, name string, n ast.Node) {
			if pkg == "time" && contains([]string{"Now", "Since", "Until"}, name) &&
				path != "main.go" {
				t.Errorf("%s reads the clock with time.%s: take the time from the caller",
					set.Position(n.Pos()), name)
			}
		})
	})
}

// TestTheModelSpeaksNoShell: what to type or press is added by the front ends (action.Advised).
func TestTheModelSpeaksNoShell(t *testing.T) {
	eachSource(t, func(path string, set *token.FileSet, f *ast.File) {
		if !strings.HasPrefix(path, "model/") {
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if imp, ok := n.(*ast.ImportSpec); ok && imp != nil {
				return false
			}
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING &&
				(strings.Contains(lit.Value, "oilcan") || strings.Contains(lit.Value, " --")) {
				t.Errorf("%s speaks of a command: %s", set.Position(n.Pos()), lit.Value)
			}
			return true
		})
	})
}

// TestOneReaderOfNumbers: numbers that people type are read in one place, so that one text is one
// number everywhere. Print files and procedure files have grammars of their own.
func TestOneReaderOfNumbers(t *testing.T) {
	eachSource(t, func(path string, set *token.FileSet, f *ast.File) {
		if path == "model/number.go" || strings.HasPrefix(path, "model/job/") ||
			strings.HasPrefix(path, "procedures/") {
			return
		}
		eachUse(f, func(pkg, name string, n ast.Node) {
			if pkg == "strconv" && contains([]string{"ParseFloat", "ParseInt", "ParseUint", "Atoi"},
				name) {
				t.Errorf("%s reads a number with strconv.%s: model.ReadNumber and what stands beside it do", set.Position(n.Pos()), name)
			}
		})
	})
}

// TestOneWayToTheTerminal: what is written passes theme.Writer, which makes it safe; frames pass
// its Visible (ui/screen/hostile_test.go). Only main hands the real streams on.
func TestOneWayToTheTerminal(t *testing.T) {
	eachSource(t, func(path string, set *token.FileSet, f *ast.File) {
		for _, n := range waysRound(path, f) {
			t.Errorf("%s writes round theme.Writer: say it with Say, Ask, Over or JSON",
				set.Position(n.Pos()))
		}
	})
}

// waysRound lists what could write to a terminal and is not theme.Writer.
func waysRound(path string, f *ast.File) []ast.Node {
	var found []ast.Node
	if path == "ui/theme/writer.go" {
		return nil
	}
	eachUse(f, func(pkg, name string, n ast.Node) {
		switch {
		case pkg == "fmt" &&
			(strings.HasPrefix(name, "Print") || strings.HasPrefix(name, "Fprint")),
			pkg == "io" && name == "WriteString", pkg == "log", pkg == "slog",
			pkg == "os" && name == "NewFile":
			found = append(found, n)
		}
	})
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok && contains([]string{"Stdout", "Stderr"},
			sel.Sel.Name) && !contains([]string{"main.go", "ui/command/run.go"}, path) {
			found = append(found, n)
		}
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		switch fun := call.Fun.(type) {
		case *ast.Ident:
			if fun.Name == "print" || fun.Name == "println" {
				found = append(found, n)
			}
		case *ast.SelectorExpr:
			// bytes made of text on the spot go to a stream, not to a file of the program
			if len(call.Args) == 1 && strings.HasPrefix(path, "ui/") &&
				path != "ui/screen/run.go" && (fun.Sel.Name == "WriteString" && streamy(fun.X) ||
				fun.Sel.Name == "Write" && madeBytes(call.Args[0])) {
				found = append(found, n)
			}
		}
		return true
	})
	return found
}

// streamy tells a stream from a builder by what it is called.
func streamy(x ast.Expr) bool {
	for {
		switch e := x.(type) {
		case *ast.SelectorExpr:
			x = e.Sel
		case *ast.Ident:
			return contains([]string{"out", "err", "errs", "stdout", "stderr", "to", "tty", "term"},
				strings.ToLower(e.Name))
		default:
			return false
		}
	}
}

// madeBytes tells []byte(text).
func madeBytes(x ast.Expr) bool {
	call, ok := x.(*ast.CallExpr)
	if !ok {
		return false
	}
	_, ok = call.Fun.(*ast.ArrayType)
	return ok
}

// TestWaysRoundAreFound tries the test above on each of them.
func TestWaysRoundAreFound(t *testing.T) {
	for _, line := range []string{
		`fmt.Println(x)`, `fmt.Printf("%s", x)`, `fmt.Fprintln(w, x)`, `fmt.Fprint(a.w, x)`,
		`io.WriteString(w, x)`, `log.Print(x)`, `slog.Info(x)`,
		`println(x)`, `print(x)`, `use(os.Stdout)`, `os.Stderr.WriteString(x)`, `use(d.Stdout)`,
		`use(a.Deps.Stdout)`, `a.Stderr.Write(b)`, `out.Write([]byte(x))`, `e.out.WriteString(x)`,
	} {
		f, err := parser.ParseFile(token.NewFileSet(), "x.go", "package x\nfunc f() { "+line+" }",
			0)
		if err != nil {
			t.Fatal(err)
		}
		if len(waysRound("ui/command/x.go", f)) == 0 {
			t.Errorf("%s is not found", line)
		}
	}
	for _, line := range []string{`fmt.Sprintf("%s", x)`, `b.WriteString(x)`, `w.out.Say("%s", x)`,
		`f.Write(data)`} {
		f, err := parser.ParseFile(token.NewFileSet(), "x.go", "package x\nfunc f() { "+line+" }",
			0)
		if err != nil {
			t.Fatal(err)
		}
		if len(waysRound("ui/command/x.go", f)) != 0 {
			t.Errorf("%s is taken for a way round", line)
		}
	}
}

// eachUse calls for every use of a name of another package.
func eachUse(f *ast.File, use func(pkg, name string, n ast.Node)) {
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if pkg, ok := sel.X.(*ast.Ident); ok {
				use(pkg.Name, sel.Sel.Name, n)
			}
		}
		return true
	})
}

// eachSource calls for every file of the program that is no test, with its path from the top.
func eachSource(t *testing.T, look func(path string, set *token.FileSet, f *ast.File)) {
	t.Helper()
	files := 0
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && path != "." && (strings.HasPrefix(name, ".") || name == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		files++
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		look(filepath.ToSlash(path), set, f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 20 {
		t.Fatalf("only %d files were looked at", files)
	}
}

// TestStatesHaveNames: what a variable of the machine's state is compared with has a name, so that
// a slip of a letter does not compile: w.Believed[model.Power] == model.On.
func TestStatesHaveNames(t *testing.T) {
	variables := []string{"Power", "Heat", "Filament", "Cover", "Top", "Changer", "Bed", "Door",
		"Vapour", "Sensor"}
	state := func(e ast.Expr) bool {
		x, ok := e.(*ast.IndexExpr)
		if !ok {
			return false
		}
		v, ok := x.Index.(*ast.SelectorExpr)
		return ok && contains(variables, v.Sel.Name)
	}
	literal := func(e ast.Expr) bool {
		l, ok := e.(*ast.BasicLit)
		return ok && l.Kind == token.STRING && l.Value != `""`
	}
	eachSource(t, func(path string, set *token.FileSet, f *ast.File) {
		ast.Inspect(f, func(n ast.Node) bool {
			b, ok := n.(*ast.BinaryExpr)
			if ok && (state(b.X) && literal(b.Y) || state(b.Y) && literal(b.X)) {
				t.Errorf("%s compares a state with a literal: model has a name for each value",
					set.Position(b.Pos()))
			}
			return true
		})
	})
}

// TestWhatRulesHangOnHasAName: an id, a flag or an item of the ledger that a rule of the program
// hangs on is compared by its name, so that a slip of a letter does not compile.
func TestWhatRulesHangOnHasAName(t *testing.T) {
	named := []string{model.AsFound, model.CloseOut, model.SwitchOff, model.SwitchOn, model.PlugIn,
		model.Unplug, model.CoolOff, model.FilterSwap, model.FlagStrand, model.FlagLost,
		model.ItemBlocks}
	literal := func(e ast.Expr) bool {
		l, ok := e.(*ast.BasicLit)
		return ok && l.Kind == token.STRING && contains(named, strings.Trim(l.Value, `"`))
	}
	eachSource(t, func(path string, set *token.FileSet, f *ast.File) {
		ast.Inspect(f, func(n ast.Node) bool {
			b, ok := n.(*ast.BinaryExpr)
			if ok && (literal(b.X) || literal(b.Y)) {
				t.Errorf("%s compares with a literal: model/names.go has its name", set.Position(b.Pos()))
			}
			x, ok := n.(*ast.IndexExpr)
			if ok && literal(x.Index) {
				t.Errorf("%s looks up a literal: model/names.go has its name", set.Position(x.Pos()))
			}
			return true
		})
	})
}

// TestCrashIsReported: a mistake of the program leaves a report where the README says, for the eyes of
// its owner alone.
func TestCrashIsReported(t *testing.T) {
	state := filepath.Join(t.TempDir(), "state")
	t.Setenv("XDG_STATE_HOME", state)
	for _, r := range []any{&screen.Crash{What: "index out of range", Stack: []byte("where it was")},
		"index out of range"} {
		if code := crashed(r, []byte("where it was")); code != command.Unusable {
			t.Errorf("exit code %d", code)
		}
		path := filepath.Join(state, "oilcan", "report.txt")
		data, err := os.ReadFile(path)
		if err != nil || !strings.Contains(string(data), "index out of range") ||
			!strings.Contains(string(data), "where it was") {
			t.Errorf("%v: %s", err, data)
		}
		for name, want := range map[string]os.FileMode{path: 0o600, filepath.Dir(path): 0o700} {
			if info, err := os.Stat(name); err != nil || info.Mode().Perm() != want {
				t.Errorf("%s: %v %v", name, info, err)
			}
		}
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
}

// TestTopLevel: at the top stand the program, its tests in one file, and four folders; what is built
// there or written beside them is nobody's source.
func TestTopLevel(t *testing.T) {
	here := []string{"main.go", "main_test.go", "ui", "model", "procedures", "store"}
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		source := f.IsDir() || strings.HasSuffix(f.Name(), ".go")
		if source && !strings.HasPrefix(f.Name(), ".") && !contains(here, f.Name()) {
			t.Errorf("%s does not belong at the top", f.Name())
		}
	}
}
