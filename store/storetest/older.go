package storetest

import (
	"bytes"
	"compress/gzip"
	_ "embed" // the older file
	"io"
	"os"
	"path/filepath"
	"testing"
)

// A data file of schema 1, written by the program of commit f05f4f9, before sessions went by pages:
// four machines (plain: open, nothing to take off; solvent and open: enclosed, with everything;
// gantry: with a gantry that hangs) and on each a session answered as it should be, to its end; on
// a fifth, left, one killed with vapour in the air. A session killed at a gate is what the journal
// held until then, so the sessions killed at each gate are the beginnings of these four. It was
// made by a test beside that commit's ui/session: session.Desk.Begin with the procedures, each
// prompt answered by walktest.Good 20 s later, waits waited out.
//
//go:embed testdata/begun-v1.oilcan.gz
var older []byte

// Older gives the path of a copy of a data file that an older program wrote.
func Older(t testing.TB) string {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(older))
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "bench.oilcan")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
