package command

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestPlaceIsSaid: what speaks against the place of the data file is said at the first save and by
// check.
func TestPlaceIsSaid(t *testing.T) {
	file := filepath.Join(t.TempDir(), "MyCloud", "bench.oilcan")
	for _, c := range []struct {
		args string
		says bool
	}{
		{"machine add Heron --features full --hours 1 --changes 1", true},
		{"gauges Heron", false},
		{"check", true},
	} {
		var errs strings.Builder
		clock, err := NewClock(time.Now, "")
		if err != nil {
			t.Fatal(err)
		}
		code := Run(Deps{Clock: clock, Stdin: strings.NewReader(""), Stdout: &strings.Builder{},
			Stderr: &errs,
			Env: func(k string) string {
				return map[string]string{"OILCAN_FILE": file, "HOME": os.TempDir()}[k]
			}}, strings.Fields(c.args))
		if code != Done || strings.Contains(errs.String(), "synchronised") != c.says {
			t.Errorf("%s: exit %d, %q", c.args, code, errs.String())
		}
	}
}
