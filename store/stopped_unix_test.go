//go:build unix && !solaris && !aix

package store

import (
	"errors"
	"syscall"
	"testing"
	"time"

	"bench/oilcan/model"
)

// TestStoppedLockHolder: a program that is stopped in the middle of a write is not waited for, and
// when it goes on neither has lost anything.
func TestStoppedLockHolder(t *testing.T) {
	s, _ := newStore(t)
	machine := addMachine(t, s, "Anvil")
	s.wait = 30 * time.Millisecond
	lines := make(chan string, 100_000)
	pid := make(chan int, 1)
	stop, _ := childOf(t, s.Path(), machine, "left", 0, func(line string) { lines <- line }, pid)
	holder := <-pid
	told := map[string]bool{<-lines: true}
	refused := 0
	for range 300 {
		if err := syscall.Kill(holder, syscall.SIGSTOP); err != nil {
			t.Fatal(err)
		}
		_, err := s.Append(model.Action{Machine: machine, By: "right",
			Facts: []model.Fact{care("oil")}})
		if e := syscall.Kill(holder, syscall.SIGCONT); e != nil {
			t.Fatal(e)
		}
		if err == nil {
			continue
		}
		if !errors.Is(err, ErrLocked) {
			t.Fatal(err)
		}
		if refused++; refused == 3 {
			break
		}
	}
	if refused == 0 {
		t.Error("it was never stopped in the middle of a write")
	}
	told[<-lines] = true // it goes on
	stop()
	close(lines)
	for line := range lines {
		told[line] = true
	}
	by := map[string]int{}
	for _, e := range mustEntries(t, s, Filter{}) {
		by[e.By]++
	}
	for line := range told {
		if by[line] != 3 {
			t.Errorf("%s was acknowledged and has %d of its 3 entries", line, by[line])
		}
	}
}
