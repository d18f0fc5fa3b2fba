//go:build unix

package job

import (
	"bytes"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"github.com/klauspost/compress/gzip"
)

// benchFile is an invented print in a temporary file, as generate makes it; OILCAN_BENCH_MB says how large, 64 otherwise.
func benchFile(b *testing.B, generate func(io.Writer, int64, uint64) error) (*os.File, int64) {
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
// about, and gives the best of each: by the clock, and by the processor time of all cores together, which
// other work on the machine disturbs less.
func BenchmarkBesideWC(b *testing.B) {
	f, size := benchFile(b, generate)
	short, shortSize := benchFile(b, generateShort)
	kinds := []struct {
		name string
		size int64
		do   func() (spent, error)
	}{
		{"wc -l", size, func() (spent, error) { return counted(f.Name()) }},
		{"bytes.Count", size, inside(func() error { return countLines(f, size) })},
		{"tools", size, inside(func() error { _, err := ToolChanges(context.Background(), f, size, Options{}); return err })},
		{"full, 1 worker", size, inside(scanning(f, size, Options{Workers: 1}))},
		{"full", size, inside(scanning(f, size, Options{}))},
		{"full, word by word", size, inside(scanning(f, size, Options{formless: true}))},
		{"full, short numbers", shortSize, inside(scanning(short, shortSize, Options{}))},
		{"with time, 1 worker", size, inside(scanning(f, size, Options{Workers: 1, Time: true}))},
		{"with time", size, inside(scanning(f, size, Options{Time: true}))},
	}
	best := make([]spent, len(kinds))
	for b.Loop() {
		for i, k := range kinds {
			d, err := k.do()
			if err != nil {
				b.Fatalf("%s: %v", k.name, err)
			}
			best[i] = best[i].least(d)
		}
	}
	rate := func(size int64, d time.Duration) float64 { return float64(size) / 1e6 / d.Seconds() }
	for i, k := range kinds {
		clock, cpu := rate(k.size, best[i].clock), rate(k.size, best[i].cpu)
		b.Logf("%-20s %7.0f MB/s  %5.2f x wc -l   processor %7.0f MB/s  %5.2f x", k.name,
			clock, clock/rate(size, best[0].clock), cpu, cpu/rate(size, best[0].cpu))
	}
}

// spent is time by the clock and of the processor.
type spent struct{ clock, cpu time.Duration }

func (s spent) least(t spent) spent {
	if s.clock == 0 {
		return t
	}
	return spent{min(s.clock, t.clock), min(s.cpu, t.cpu)}
}

// counted runs wc -l.
func counted(name string) (spent, error) {
	start, cmd := time.Now(), exec.Command("wc", "-l", name)
	err := cmd.Run()
	if err != nil {
		return spent{}, err
	}
	return spent{time.Since(start), cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()}, nil
}

// inside measures what runs in this process.
func inside(do func() error) func() (spent, error) {
	return func() (spent, error) {
		start, cpu := time.Now(), processor()
		err := do()
		return spent{time.Since(start), processor() - cpu}, err
	}
}

func processor() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
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
	f, size := benchFile(b, generate)
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
