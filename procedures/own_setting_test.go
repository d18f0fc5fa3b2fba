package procedures

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// An operator's own file may ask what the library asks too in words of its own, since those of the
// library change; the answers must be the same.
func TestOwnFilesAskInTheirOwnWords(t *testing.T) {
	data, err := os.ReadFile("library/hotend-swap.toml")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ old, new, want string }{
		"other words": {`ask = "What is the nozzle made of? Its hours are counted from when this is known."`, `ask = "Which nozzle is in?"`, ""},
		"other answers": {`options = ["brass", "hardened steel", "unknown"]`,
			`options = ["brass", "hardened steel", "ruby", "unknown"]`, "with other answers"},
	} {
		dir := t.TempDir()
		text := strings.Replace(string(data), c.old, c.new, 1)
		if text == string(data) {
			t.Fatalf("%s: the file does not have %s", name, c.old)
		}
		if err := os.WriteFile(filepath.Join(dir, "hotend-swap.toml"), []byte(text),
			0o600); err != nil {
			t.Fatal(err)
		}
		_, problems := Load(dir)
		switch {
		case c.want == "" && len(problems) > 0:
			t.Errorf("%s: %v", name, problems)
		case c.want != "" &&
			(len(problems) == 0 || !strings.Contains(problems[0].String(), c.want)):
			t.Errorf("%s: %v, want %q", name, problems, c.want)
		}
	}
}
