package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench/oilcan/ui/command"
	"bench/oilcan/ui/screen"
)

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
