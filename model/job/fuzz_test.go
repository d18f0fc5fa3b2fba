package job

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// FuzzScan: no bytes make it panic, and all ways of reading agree on every number and fault.
func FuzzScan(f *testing.F) {
	files, err := filepath.Glob("testdata/*.*")
	cases, _ := filepath.Glob("testdata/cases/*.*")
	files = append(files, cases...)
	if err != nil || len(files) == 0 {
		f.Fatal("no seeds", err)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	for _, s := range []string{"", "G1 X1e400\n", "G1 Xnan", "G2 X1 I.5\nG3 R-1 X2",
		"T255\nT1\nt2\nM6T3", "\xef\xbb\xbfT1\r\nT2",
		"g0x +0. 12 34y 7", "G1 X-.5 Y+1. E00012.3456789\nG1 F", "(MSG) M0 hi", "N3 T0*57", "PK\x03\x04", "\x1f\x8b",
		"MY0\nA0c2\x80\n*y\n0\nA\x00\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 1<<16 {
			t.Skip()
		}
		kind, err := sniff(b[:min(len(b), sniffLen)])
		if err == nil && kind == kindPlain && len(b) > 0 {
			agree(t, b)
			return
		}
		ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
		defer cancel()
		r, err := Scan(ctx, bytes.NewReader(b), int64(len(b)),
			Options{Time: true, MaxBytes: 1 << 24})
		var fault *Fault
		if err != nil && !errors.As(err, &fault) {
			t.Fatalf("%v is no fault", err)
		}
		for _, one := range r {
			if err == nil && one.Partial {
				t.Fatal("partial without a fault")
			}
		}
	})
}

// FuzzToolChanges: the short way counts what the long way counts, where that finds no fault.
func FuzzToolChanges(f *testing.F) {
	for _, s := range []string{"T0\nT1\n", "M6 T2\nT3 ;x\n", "; T1\nt1\nN1 T2\n",
		"M104 S1 T2\nT1000\nT 4\n", "TX T1\n", "M600\nm600 X1\nM1020 S1\nT0 S1 L0.5\nM 60 0\n", "(T\nM135 T2\n", "T1\r\nT2\r\n", "M0 Turn it\nT1\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if kind, err := sniff(b[:min(len(b), sniffLen)]); err != nil || kind != kindPlain ||
			len(b) > 1<<16 {
			t.Skip()
		}
		full, err := Scan(context.Background(), bytes.NewReader(b), int64(len(b)), Options{})
		if err != nil {
			t.Skip()
		}
		for _, block := range []int{0, 9, 64} {
			got, err := ToolChanges(context.Background(), bytes.NewReader(b), int64(len(b)),
				Options{block: block})
			if err != nil || len(got) != 1 || got[0].Changes != full[0].ToolChanges ||
				got[0].Manual != full[0].ManualChanges {
				t.Fatalf("blocks of %d: %+v %v, want %d", block, got, err, full[0].ToolChanges)
			}
		}
	})
}
