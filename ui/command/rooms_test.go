package command

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

// commandOf is the command a file belongs to, by its name: machine_add_form.go to "machine add". ""
// for the core, which all stand on. The bench is what opens without a word.
func commandOf(file string) string {
	name := strings.TrimSuffix(file, ".go")
	found := ""
	for _, v := range append([]verb{{words: "bench"}}, verbs...) {
		is := strings.NewReplacer(" ", "_", "-", "_").Replace(v.words)
		if (name == is || strings.HasPrefix(name, is+"_")) && len(v.words) > len(found) {
			found = v.words
		}
	}
	return found
}

// TestNoArrowBetweenCommands: whoever changes a command needs to know its file and the core. Two
// commands that need the same thing find it in the core, and the core needs no command; the table
// of verbs alone names them all.
func TestNoArrowBetweenCommands(t *testing.T) {
	set := token.NewFileSet()
	files, home := map[string]*ast.File{}, map[string]string{} // name of the package -> its file
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), "_test.go") || !strings.HasSuffix(e.Name(), ".go") {
			continue
		}
		f, err := parser.ParseFile(set, e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = f
		for name := range f.Scope.Objects {
			home[name] = e.Name()
		}
	}
	commands := map[string]bool{}
	for name, f := range files {
		from := commandOf(name)
		commands[from] = true
		for _, id := range f.Unresolved {
			// by the file itself: it is the package's, or a word of the language
			to := commandOf(home[id.Name])
			if name != "verbs.go" && home[id.Name] != "" && to != "" && to != from {
				t.Errorf("%s uses %s of %s: move it into the core", set.Position(id.Pos()), id.Name,
					home[id.Name])
			}
		}
	}
	for _, v := range verbs {
		holder, _ := cutLast(v.words)
		if !commands[v.words] && !commands[holder] && v.words != "machine" &&
			v.words != "finding" && v.words != "procedures" {
			t.Errorf("oilcan %s has no file named after it", v.words)
		}
	}
}

// TestTheContextStaysSmall: what one command alone needs is no method of what all are given.
func TestTheContextStaysSmall(t *testing.T) {
	most, n := 20, 0
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Recv == nil {
				continue
			}
			if star, ok := fn.Recv.List[0].Type.(*ast.StarExpr); ok &&
				star.X.(*ast.Ident).Name == "app" {
				n++
				if commandOf(e.Name()) != "" {
					t.Errorf("%s: %s is a method of app in a command's file", e.Name(),
						fn.Name.Name)
				}
			}
		}
	}
	if n == 0 || n > most {
		t.Errorf("app has %d methods, at most %d", n, most)
	}
}
