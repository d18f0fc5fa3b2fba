package job

import (
	"bytes"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/klauspost/compress/gzip"
)

// benchFile is an invented print in a temporary file; OILCAN_BENCH_MB says how large, 64 otherwise.
func benchFile(b *testing.B) (*os.File, int64) {
	b.Helper()
	size := int64(64 << 20)
	if mb, err := strconv.Atoi(os.Getenv("OILCAN_BENCH_MB")); err == nil && mb > 0 {
		size = int64(mb) << 20
	}
	f, err := os.Create(filepath.Join(b.TempDir(), "print.gcode"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { f.Close() })
	if err := generate(f, size, 1); err != nil {
		b.Fatal(err)
	}
	info, err := f.Stat()
	if err != nil {
		b.Fatal(err)
	}
	return f, info.Size()
}

// BenchmarkBesideWC runs each kind of reading beside `wc -l` on the same warm file, turn and turn
// about, and gives the best of each as MB/s and the ratio to the best of wc.
func BenchmarkBesideWC(b *testing.B) {
	f, size := benchFile(b)
	kinds := []struct {
		name string
		do   func() error
	}{
		{"wc -l", func() error { return exec.Command("wc", "-l", f.Name()).Run() }},
		{"bytes.Count", func() error { return countLines(f, size) }},
		{"tools", func() error { _, err := ToolChanges(context.Background(), f, size, Options{}); return err }},
		{"full, 1 worker", scanning(f, size, Options{Workers: 1})},
		{"full", scanning(f, size, Options{})},
		{"with time, 1 worker", scanning(f, size, Options{Workers: 1, Time: true})},
		{"with time", scanning(f, size, Options{Time: true})},
	}
	best := make([]time.Duration, len(kinds))
	for b.Loop() {
		for i, k := range kinds {
			start := time.Now()
			if err := k.do(); err != nil {
				b.Fatalf("%s: %v", k.name, err)
			}
			if d := time.Since(start); best[i] == 0 || d < best[i] {
				best[i] = d
			}
		}
	}
	for i, k := range kinds {
		b.Logf("%-20s %7.0f MB/s  %5.2f x wc -l", k.name, float64(size)/1e6/best[i].Seconds(), best[0].Seconds()/best[i].Seconds())
	}
}

func scanning(r io.ReaderAt, size int64, o Options) func() error {
	return func() error {
		_, err := Scan(context.Background(), r, size, o)
		return err
	}
}

func countLines(f *os.File, size int64) error {
	buf := make([]byte, 1<<20)
	lines := 0
	for off := int64(0); off < size; {
		n, err := f.ReadAt(buf, off)
		lines += bytes.Count(buf[:n], []byte{'\n'})
		off += int64(n)
		if err != nil && err != io.EOF {
			return err
		}
	}
	return nil
}

// BenchmarkGzip is reading a gzipped print beside unpacking it and doing nothing.
func BenchmarkGzip(b *testing.B) {
	f, size := benchFile(b)
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	if _, err := io.Copy(z, io.NewSectionReader(f, 0, size)); err != nil {
		b.Fatal(err)
	}
	z.Close()
	b.Run("unpack", func(b *testing.B) {
		b.SetBytes(size)
		for b.Loop() {
			r, err := gzip.NewReader(bytes.NewReader(packed.Bytes()))
			if err != nil {
				b.Fatal(err)
			}
			if _, err := io.Copy(io.Discard, r); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("scan", func(b *testing.B) {
		b.SetBytes(size)
		for b.Loop() {
			if _, err := ScanStream(context.Background(), bytes.NewReader(packed.Bytes()), Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
