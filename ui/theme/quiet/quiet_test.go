package quiet

import (
	"os/exec"
	"strings"
	"testing"
)

// The initialisation order is by import path among the packages that are ready, so this package
// must sort before the screen library and import nothing that needs it.
func TestSortsBeforeTheScreenLibrary(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "-f", "{{.ImportPath}}", ".").CombinedOutput()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, out)
	}
	deps := strings.Fields(string(out))
	for _, d := range deps {
		if strings.Contains(d, "bubbletea") {
			t.Errorf("imports %s", d)
		}
	}
	if self := deps[len(deps)-1]; self >= "github.com/charmbracelet" {
		t.Errorf("%s sorts after github.com/charmbracelet", self)
	}
}
