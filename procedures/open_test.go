package procedures

import (
	"os"
	"path/filepath"
	"testing"
)

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
