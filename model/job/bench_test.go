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

// benchFile is an invented print in a temporary file, as generate makes it; OILCAN_BENCH_MB says
// how large, 64 otherwise.
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

// Speed.
//
// Plain print files, 500 MB of the seeded generator (model/job/gen_test.go), warm, best of 6 in one
// run beside wc -l, OILCAN_BENCH_MB=500 go test -run xxx -bench BesideWC -benchtime 6x -v
// ./model/job, load 1.0, on a processor with AVX2. The second pair of columns is by processor time
// of all cores together. Looking for changes was measured again when it learned more words, 200 MB,
// load 10, beside the program before in the same run: 1.09 to 1.18 of wc -l by processor time where
// that had 0.98 to 1.00; the rows below it are unchanged (0.34 to 0.36, 0.05).
//
//	what                                           by the clock  to wc -l by processor time  to wc -l  asked for
//	wc -l                                            6,019 MB/s         1 6,057 MB/s         1
//	bytes.Count of line ends, one core                    7,349      1.22      7,205      1.19
//	tool changes alone                                   11,406      1.89      5,726      0.95        1.5
//	full parse, one worker                                2,244      0.37      2,213      0.37
//	full parse, two workers                               4,055      0.67      2,035      0.34        0.5
//	the same, word by word, as without AVX2                 966      0.16        487      0.08
//	the same, zeros at the ends of numbers cut off        3,784      0.63      1,946      0.32
//	with time, one worker                                   355      0.06        352      0.06
//	with time, two workers                                  315      0.05        258      0.04   250 MB/s
//
// Files as they are, 120 MB each, go test -run xxx -bench Like -benchtime 2x -v ./model/job, load
// 0.4, the lesser of two runs; to wc -l of the same file by the clock and, behind the stroke, by
// processor time. "Faster than counting lines" holds of looking for changes alone.
//
//	what                     with comments  a third arcs  with a changer
//	changes alone              1.80 / 0.92   2.02 / 1.01     1.85 / 0.94
//	full parse                 0.51 / 0.27   0.06 / 0.03     0.43 / 0.22
//	with time, by the clock       489 MB/s      310 MB/s        496 MB/s   250 MB/s asked for
//
// With time a third of arcs costs 5 ns a byte of the processor, of which 2 are shared by the workers
// and 3 have an order: an arc is read word by word, and its length, its way along the axes and its
// junctions need two square roots and two angles. Where other work leaves one core it is 200 MB/s.
//
// The machine it was measured on is shared and has slow and fast minutes, which do not always fall
// on the same row: the run after this one had 4,360 MB/s (0.80) for the full parse and 409 with
// time, runs of four turns on the way here 0.46 to 0.72. Two workers spend about half a nanosecond
// a byte and core, a quarter of it on the copy out of the page cache. Where every line has a Z or a
// comment reading takes four to six times as long, and sixteen times where every line must go the
// long way (small letters, spaces in numbers, several commands): 413, 315 and 108 MB/s where the
// plain text has 1,688, 16 MB in memory, one worker. Where no two lines have the same form,
// learning them costs up to half the speed that reading word by word has; it is bounded to 256
// forms a block for that. gzip, 67 MB unpacked: unpacking alone 143 MB/s, unpacking and the full
// parse 141 MB/s, so parsing hides behind unpacking (go test -run xxx -bench Gzip -benchtime 6x
// ./model/job). Memory of the program over a 506 MB file with time: 26 MiB at most, from a file and
// from a pipe (ru_maxrss of oilcan job); TestMemory holds the heap under 48 MiB over 256 MB made to
// fill it (10 MiB).

// BenchmarkBesideWC runs each kind of reading beside `wc -l` on the same warm file, turn and turn
// about, and gives the best of each: by the clock, and by the processor time of all cores together,
// which other work on the machine disturbs less.
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
		{"tools", size, inside(func() error {
			_, err := ToolChanges(context.Background(), f, size, Options{})
			return err
		})},
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

// BenchmarkLike is the same for files with comments and labels, with arcs, and with a changer: each
// beside wc -l of that file.
func BenchmarkLike(b *testing.B) {
	for _, like := range []struct {
		name          string
		arcs, changer bool
	}{{"comments", false, false}, {"arcs", true, false}, {"changer", false, true}} {
		f, size := benchFile(b, generateLike(like.arcs, like.changer))
		kinds := []struct {
			name string
			do   func() (spent, error)
		}{
			{"wc -l", func() (spent, error) { return counted(f.Name()) }},
			{"changes", inside(func() error {
				got, err := ToolChanges(context.Background(), f, size, Options{})
				if err == nil && !got[0].Short {
					b.Error("the rest was read")
				}
				return err
			})},
			{"full", inside(scanning(f, size, Options{}))},
			{"with time", inside(scanning(f, size, Options{Time: true}))},
		}
		best := make([]spent, len(kinds))
		for range 5 {
			for i, k := range kinds {
				d, err := k.do()
				if err != nil {
					b.Fatalf("%s: %v", k.name, err)
				}
				best[i] = best[i].least(d)
			}
		}
		for i, k := range kinds {
			b.Logf("%-9s %-10s %7.0f MB/s  %5.2f x wc -l   processor %5.2f x", like.name, k.name,
				float64(size)/1e6/best[i].clock.Seconds(),
				best[0].clock.Seconds()/best[i].clock.Seconds(),
				best[0].cpu.Seconds()/best[i].cpu.Seconds())
		}
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
	return spent{time.Since(start), cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()},
		nil
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
			if _, err := ScanStream(context.Background(), bytes.NewReader(packed.Bytes()),
				Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
