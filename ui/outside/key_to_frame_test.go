package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/creack/pty"
)

// BenchmarkKeyToFrame presses a key by turns in the program, on a made demo file, and in the least program of the screen
// library, which redraws a number, each on a pseudo terminal of 200x60 cells, and times what is drawn for it. The ratios are
// what counts: half a tick of the screen library is in both.
//
// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: the p95 on the bench is 0.75 to 1.3 times that of
// the least program (-bench KeyToFrame -benchtime 200x).
func BenchmarkKeyToFrame(b *testing.B) {
	dir := b.TempDir()
	oilcan, empty := filepath.Join(dir, "oilcan"), filepath.Join(dir, "empty")
	build(b, oilcan, root)
	build(b, empty, "./testdata/empty")
	made := exec.Command(oilcan, "demo", "--print")
	made.Env = append(os.Environ(), "TMPDIR="+dir)
	out, err := made.Output()
	if err != nil {
		b.Fatal(err)
	}
	bench := startDrawn(b, "most pressing", oilcan, "--file", string(bytes.TrimSpace(out)))
	least := startDrawn(b, "first frame", empty)
	<-time.After(time.Second) // the forecast has followed
	var ours, floor []time.Duration
	b.ResetTimer()
	for i := range b.N {
		key := "jk"[i%2 : i%2+1]
		floor = append(floor, least.press(b, key))
		ours = append(ours, bench.press(b, key))
		<-time.After(time.Duration(7+i%11) * time.Millisecond) // out of step with the ticks of both
	}
	b.StopTimer()
	at := func(ds []time.Duration, share float64) float64 {
		slices.Sort(ds)
		return ds[int(share*float64(len(ds)-1))].Seconds() * 1000
	}
	b.ReportMetric(at(ours, 0.5), "oilcan-p50-ms")
	b.ReportMetric(at(floor, 0.5), "empty-p50-ms")
	b.ReportMetric(at(ours, 0.95), "oilcan-p95-ms")
	b.ReportMetric(at(floor, 0.95), "empty-p95-ms")
	b.ReportMetric(at(ours, 0.95)/at(floor, 0.95), "ratio-p95")
}

// drawn is a program on a terminal.
type drawn struct {
	tty  *os.File
	came chan time.Time // when something was drawn
}

// startDrawn runs a program until a text is drawn.
func startDrawn(b *testing.B, text, name string, args ...string) *drawn {
	b.Helper()
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color")
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 60, Cols: 200})
	if err != nil {
		b.Skip("no pseudo terminal here: ", err)
	}
	d := &drawn{tty: tty, came: make(chan time.Time, 1024)}
	b.Cleanup(func() {
		_ = cmd.Process.Kill() // nobody waits for what it would still write
		_ = cmd.Wait()
		tty.Close()
	})
	begun := make(chan struct{})
	go d.read(text, begun)
	select {
	case <-begun:
	case <-time.After(10 * time.Second):
		b.Fatalf("%s draws no %q", name, text)
	}
	return d
}

// read notes when something is drawn, once a text was.
func (d *drawn) read(text string, begun chan struct{}) {
	buf := make([]byte, 256<<10)
	var seen []byte
	for {
		n, err := d.tty.Read(buf)
		if err != nil {
			return
		}
		if seen != nil || begun != nil {
			seen = append(seen, buf[:n]...)
			if bytes.Contains(seen, []byte(text)) {
				close(begun)
				seen, begun = nil, nil
			}
			continue
		}
		select {
		case d.came <- time.Now():
		default: // nobody looks
		}
	}
}

// press presses a key and gives the time until something is drawn.
func (d *drawn) press(b *testing.B, key string) time.Duration {
	b.Helper()
	for len(d.came) > 0 {
		<-d.came
	}
	begun := time.Now()
	if _, err := d.tty.WriteString(key); err != nil {
		b.Fatal(err)
	}
	select {
	case at := <-d.came:
		return at.Sub(begun)
	case <-time.After(5 * time.Second):
		b.Fatalf("nothing is drawn for %s", key)
	}
	return 0
}
