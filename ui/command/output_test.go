package command

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/store/storetest"
)

// TestOutputThatCannotBeWritten: a command whose output is lost says on standard error what it did,
// and exits 3.
func TestOutputThatCannotBeWritten(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		storetest.Lacks(t, "/dev/full", err)
	}
	defer full.Close()
	dir := t.TempDir()
	file := filepath.Join(dir, "bench.oilcan")
	for _, c := range []struct{ args, says string }{
		{"machine add Heron --features full --hours 1 --changes 1", "Heron"},
		{"swap blade Heron --worn", "blade"},
		{"check", "nothing is wrong"},
		{"check --json", "problems"},
		{"backup " + filepath.Join(dir, "copy.oilcan"), "saved and checked"},
		{"due --within 14d", ""},
		{"gauges Heron", "Heron"},
		{"plan Heron", ""},
		{"book", "blade"},
		{"drawer", ""},
		{"procedures list", ""},
		{"completion bash", ""},
		{"restore " + filepath.Join(dir, "copy.oilcan"), "holds"},
		{"--version", "test"},
		{"--help", "Usage"},
	} {
		var errs strings.Builder
		clock, err := NewClock(time.Now, "")
		if err != nil {
			t.Fatal(err)
		}
		code := Run(Deps{Clock: clock, Stdin: strings.NewReader(""), Stdout: full, Stderr: &errs,
			Version: "test",
			Env: func(k string) string {
				return map[string]string{"OILCAN_FILE": file, "HOME": dir}[k]
			}}, strings.Fields(c.args))
		if code != Unusable || !strings.Contains(errs.String(), "cannot be written") ||
			!strings.Contains(errs.String(), c.says) {
			t.Errorf("%s: exit %d, %q", c.args, code, errs.String())
		}
	}
}

// TestATooLargeFileIsRefused: a file that is no procedure is not read in part and judged.
func TestATooLargeFileIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "large.toml")
	if err := os.WriteFile(path, bytes.Repeat([]byte("# nothing\n"), 1<<17), 0o600); err != nil {
		t.Fatal(err)
	}
	_, stderr, code := run(t, filepath.Join(t.TempDir(), "bench.oilcan"), "procedures", "check",
		path)
	if code != 2 || !strings.Contains(stderr, "large.toml is larger than 1024 KiB") {
		t.Errorf("it ends with %d: %s", code, stderr)
	}
}
