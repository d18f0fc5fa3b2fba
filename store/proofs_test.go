package store

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestProofsAreThere: the table of the package comment names tests that there are.
func TestProofsAreThere(t *testing.T) {
	doc, err := os.ReadFile("open.go")
	if err != nil {
		t.Fatal(err)
	}
	table, _, _ := strings.Cut(string(doc), "\npackage store")
	var sources strings.Builder
	for _, dir := range []string{".", "../ui/outside", "../ui/command", "../ui/screen"} {
		files, err := filepath.Glob(filepath.Join(dir, "*_test.go"))
		if err != nil || len(files) == 0 {
			t.Fatal(dir, err)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			sources.Write(text)
		}
	}
	names := regexp.MustCompile(`…?\b[A-Z]\w+…?`).FindAllString(table, -1)
	seen := 0
	for _, name := range names {
		head, cut := strings.CutPrefix(name, "…")
		tail := strings.TrimSuffix(head, "…")
		if !cut && !strings.HasPrefix(tail, "Test") {
			continue // no test
		}
		look := "func " + tail
		if cut {
			look = tail
		}
		if tail == head {
			look += "(t *testing.T)"
		}
		if seen++; !strings.Contains(sources.String(), look) {
			t.Errorf("there is no test %s", name)
		}
	}
	if seen < 30 {
		t.Errorf("only %d tests are named", seen)
	}
}
