package procedures

import (
	"os"
	"path/filepath"
	"testing"

	"bench/oilcan/model"
)

// FuzzParse: whatever a file holds, reading and checking it never panics, every problem names file
// and text, and what has none comes through the stored text and onto a page.
func FuzzParse(f *testing.F) {
	seeds := 0
	for _, pattern := range []string{"library/*.toml", "library/setup/*.toml",
		"testdata/good/*.toml", "testdata/bad/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
			seeds++
		}
	}
	if seeds == 0 {
		f.Fatal("no seeds")
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, tree, problems := parse("fuzz.toml", data, true)
		if p == nil {
			if len(problems) == 0 {
				t.Fatal("no procedure and no problem")
			}
			return
		}
		if len(problems) == 0 {
			l := newLibrary()
			l.put(p, tree)
			problems = l.Check(p)
		}
		for _, pr := range problems {
			if pr.File != "fuzz.toml" || pr.Text == "" || pr.Line < 0 {
				t.Fatalf("bad problem %+v", pr)
			}
		}
		_, text := model.Text(p)
		if q, err := model.ReadText(text); p.ID != "" && (err != nil || q.ID != p.ID) {
			t.Fatalf("stored text does not read back: %v", err)
		}
		if Page(p) == "" {
			t.Fatal("empty page")
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, problems := Load(""); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkCheckLibrary(b *testing.B) {
	for b.Loop() {
		checkLibrary()
	}
}
