package procedures

import (
	"os"
	"path/filepath"
	"testing"

	"bench/oilcan/model"
)

// TestHeadsHaveAllAGaugeNeeds compares the heads with the whole files.
func TestHeadsHaveAllAGaugeNeeds(t *testing.T) {
	l := Open("")
	heads, whole := l.Heads(), l.All()
	if len(heads) != len(whole) || len(heads) == 0 {
		t.Fatalf("%d heads of %d procedures", len(heads), len(whole))
	}
	for i, h := range heads {
		_, have := model.Text(gaugePart(h))
		if _, want := model.Text(gaugePart(whole[i])); string(have) != string(want) {
			t.Errorf("%s: its head differs:\n%s\n%s", whole[i].ID, have, want)
		}
	}
}

// gaugePart is a procedure without what no gauge asks for.
func gaugePart(p *model.Procedure) *model.Procedure {
	bare := *p
	bare.Tools, bare.Supplies, bare.Cautions, bare.Steps, bare.Later = nil, nil, nil, nil, nil
	bare.Settings, bare.Symptoms, bare.Change = nil, nil, nil
	bare.Require, bare.Leave = nil, nil
	return &bare
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
