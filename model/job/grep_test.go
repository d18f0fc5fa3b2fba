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

	"pgregory.net/rapid"

	"bench/oilcan/store/storetest"
)

// TestCountsThatGrepFinds: in multi-colour prints the changes are those that grep and uniq find,
// less the first tool, which loads.
func TestCountsThatGrepFinds(t *testing.T) {
	if _, err := exec.LookPath("grep"); err != nil {
		storetest.Lacks(t, "grep", err)
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
		out, err := exec.Command("sh", "-c", "grep '^T[0-9]*$' \"$0\" | uniq | wc -l",
			name).Output()
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
		ts, err := ToolChanges(context.Background(), bytes.NewReader(b.Bytes()), int64(b.Len()),
			Options{})
		if err != nil || ts[0].Changes != n-1 || !ts[0].Short {
			t.Errorf("seed %d: %+v %v", seed, ts, err)
		}
	}
}

// A first T loads and is part of the start; where plastic was laid before it, by tool 0, it is a
// change.
func TestFirstTool(t *testing.T) {
	for text, want := range map[string]int64{
		"T3\nG1 X5 E1\nT3\n":                                    0,
		"G1 E5\nT3\nG1 X5 E1\n":                                 0,
		"G1 X5 E1\nT3\nG1 X0 E2\n":                              1,
		"G1 X5 E1\nT0\nT3\nG1 X0 E2\n":                          1,
		strings.Repeat("G1 X5\n", 1<<18) + "T2\nT1\n":           1,
		strings.Repeat("G1 X5\n", 1<<18) + "G1 X1 E1\nT2\nT1\n": 2,
		"G1 X5 Z1 E1\nT255\nT2\nT0\n":                           2,
	} {
		if r := mustScan(t, text, Options{}); r.ToolChanges != want {
			t.Errorf("%.80q has %d changes, want %d", text, r.ToolChanges, want)
		}
		ts, err := ToolChanges(context.Background(), strings.NewReader(text), int64(len(text)),
			Options{})
		if err != nil || ts[0].Changes != want {
			t.Errorf("%.80q has %+v, want %d: %v", text, ts, want, err)
		}
	}
}

// TestSeek: looking at many bytes at once finds what looking at each finds.
func TestSeek(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SliceOfN(rapid.SampledFrom([]byte("G1 X2\n;ln3uLNU\xf4\x4d\x54\x6d\x74")), 0,
			400).Draw(t, "b")
		for i := range b {
			if rapid.IntRange(0, 9).Draw(t, "keep") > 0 {
				b[i] &= ^byte(0x64) // mostly without a match
			}
		}
		if got, want := seekLetters(b), seekPlain(b); got != want {
			t.Fatalf("%q: found at %d, it is at %d", b, got, want)
		}
	})
}
