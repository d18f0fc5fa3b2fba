package outside

import (
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/creack/pty"

	"bench/oilcan/store/storetest"
)

// TestResizeStorm makes the terminal larger and smaller faster than frames are drawn, down to a single
// cell, while keys come: the program goes on, and leaves as always.
func TestResizeStorm(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	benchOf(t, file, heron, "machine add Teal --features full --duty home")
	s := sit(t, []string{"OILCAN_NOW=" + pinned}, bin, "--file", file)
	s.waits("Heron")
	for i := range storetest.Times(150, 600, 5000) {
		size := pty.Winsize{Rows: uint16(1 + rand.IntN(90)), Cols: uint16(1 + rand.IntN(250))}
		if i%10 == 0 {
			size = pty.Winsize{Rows: 1, Cols: 1}
		}
		if err := pty.Setsize(s.tty, &size); err != nil {
			t.Fatal(err)
		}
		if i%3 == 0 {
			s.keys([]string{"j", "k", "\x1b[B", "\x1b[A", "?", "?"}[rand.IntN(4)])
		}
	}
	if err := pty.Setsize(s.tty, &pty.Winsize{Rows: 30, Cols: 100}); err != nil {
		t.Fatal(err)
	}
	s.quiet() // typed into what is still to be drawn, a key is one of a burst
	s.keys("?")
	s.waits("help", "Help", "esc")
	s.keys("?")
	s.waits("Heron")
	s.keys("q")
	if code := s.ends(); code != 0 {
		t.Errorf("it ends with %d: %q", code, s.drawn())
	}
	s.left()
}
