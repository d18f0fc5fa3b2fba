package job

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestCountsThatGrepFinds: in multi-colour prints the changes are those that grep and uniq find, less the first
// tool, which loads.
func TestCountsThatGrepFinds(t *testing.T) {
	if _, err := exec.LookPath("grep"); err != nil {
		t.Skip("no grep here")
	}
	for seed := uint64(1); seed <= 5; seed++ {
		var b bytes.Buffer
		if err := generate(&b, 3<<20, seed); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(t.TempDir(), "print.gcode")
		if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("sh", "-c", "grep '^T[0-9]*$' \"$0\" | uniq | wc -l", name).Output()
		if err != nil {
			t.Fatal(err)
		}
		n, err := strconv.ParseInt(strings.TrimSpace(string(out)), 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		if r := mustScan(t, b.String(), Options{}); r.ToolChanges != n-1 || n < 10 {
			t.Errorf("seed %d: %d changes, grep finds %d tools", seed, r.ToolChanges, n)
		}
		ts, err := ToolChanges(context.Background(), bytes.NewReader(b.Bytes()), int64(b.Len()), Options{})
		if err != nil || ts[0].Changes != n-1 || !ts[0].Short {
			t.Errorf("seed %d: %+v %v", seed, ts, err)
		}
	}
}
