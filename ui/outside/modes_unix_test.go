//go:build unix

package outside

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestNobodyIsLetIn: whatever the program makes is for its owner alone, also where the person lets new
// files be read by all.
func TestNobodyIsLetIn(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()
	tmp := filepath.Join(home, "tmp")
	if err := os.Mkdir(tmp, 0o700); err != nil {
		t.Fatal(err)
	}
	was := syscall.Umask(0)
	defer syscall.Umask(was)
	for _, line := range []string{
		heron, "--day=2 finding add Heron seen", "backup " + home + "/copy.db",
		"restore " + home + "/copy.db", "procedures new hinge-oil", "demo --print",
		"--day=9 swap blade Heron --worn",
	} {
		now, words := pinned, strings.Split(line, " ")
		if day, found := strings.CutPrefix(words[0], "--day="); found {
			now, words = "2026-12-0"+day+"T09:00:00Z", words[1:]
		}
		cmd := exec.Command(bin, words...)
		cmd.Env = append(os.Environ(), "HOME="+home, "TMPDIR="+tmp, "OILCAN_NOW="+now, "TZ=UTC",
			"XDG_CONFIG_HOME=", "XDG_DATA_HOME=", "OILCAN_FILE=")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", line, err, out)
		}
	}
	files := 0
	err = filepath.WalkDir(home, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == home {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		if info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s is %v", strings.TrimPrefix(path, home), info.Mode())
		}
		files++
		return nil
	})
	if err != nil || files < 10 {
		t.Errorf("%d files: %v", files, err)
	}
}
