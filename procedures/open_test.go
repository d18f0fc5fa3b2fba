package procedures

import (
	"os"
	"path/filepath"
	"testing"

	"bench/oilcan/model"
)

// TestHeadsHaveAllAGaugeNeeds compares the heads with the whole files: no interval, trigger or name may
// stand after the first tool of a file.
func TestHeadsHaveAllAGaugeNeeds(t *testing.T) {
	l := Open("")
	heads, whole := l.Heads(), l.All()
	if len(heads) != len(whole) || len(heads) == 0 {
		t.Fatalf("%d heads of %d procedures", len(heads), len(whole))
	}
	for i, h := range heads {
		w := whole[i]
		bare := *w
		bare.Tools, bare.Supplies, bare.Cautions, bare.Steps, bare.Later = nil, nil, nil, nil, nil
		cut := *h
		cut.Tools, cut.Supplies, cut.Cautions, cut.Steps, cut.Later = nil, nil, nil, nil, nil
		bare.Symptoms, cut.Symptoms = nil, nil
		if _, have := model.Text(&cut); true {
			if _, want := model.Text(&bare); string(have) != string(want) {
				t.Errorf("%s: its head differs; move what stands after its first tool up:\n%s\n%s", w.ID, have, want)
			}
		}
	}
}

func TestOpenWithOwnFilesWaitsForThem(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "broken.toml"), []byte("id = "), 0o600); err != nil {
		t.Fatal(err)
	}
	l := Open(dir)
	if len(l.Problems()) == 0 {
		t.Error("a broken own file is not told of")
	}
	if len(l.Heads()) != len(l.All()) || len(l.Heads()[0].Steps) == 0 {
		t.Error("with own files the heads are not the whole files")
	}
}

func BenchmarkHeads(b *testing.B) {
	var out []*model.Procedure
	for b.Loop() {
		out = builtInHeads()
	}
	_ = out
}
