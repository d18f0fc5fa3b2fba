package procedures

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// readBad gives the files of testdata/bad with the problems their first lines ask for.
func readBad(t *testing.T) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := filepath.WalkDir("testdata/bad", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		files[name], err = os.ReadFile(name)
		return err
	})
	if err != nil || len(files) < 50 {
		t.Fatalf("%d files in testdata/bad: %v", len(files), err)
	}
	return files
}

// TestBadFiles: every file has one mistake and must give exactly the problem its first lines ask
// for, "# want: LINE: TEXT", from the form or, where that is sound, from the meaning.
func TestBadFiles(t *testing.T) {
	for name, data := range readBad(t) {
		t.Run(filepath.Base(filepath.Dir(name))+"/"+filepath.Base(name), func(t *testing.T) {
			var want []string
			for _, line := range strings.Split(string(data), "\n") {
				if w, ok := strings.CutPrefix(line, "# want: "); ok {
					want = append(want, filepath.Base(name)+":"+w)
				}
			}
			p, tree, problems := parse(filepath.Base(name), data, true)
			if len(problems) == 0 {
				l := newLibrary()
				l.put(p, tree)
				problems = l.Check(p)
			}
			var got []string
			for _, pr := range problems {
				got = append(got, pr.String())
			}
			if strings.Join(got, "\n") != strings.Join(want, "\n") {
				t.Errorf("got\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"),
					strings.Join(want, "\n\t"))
			}
		})
	}
}
