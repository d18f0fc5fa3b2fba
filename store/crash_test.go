package store

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// The test binary is also the other program of the crash and two-program tests: with this variable
// set it appends to the file named in it.
const childFile = "OILCAN_TEST_APPEND_TO"

func TestMain(m *testing.M) {
	if path := os.Getenv(childFile); path != "" {
		os.Exit(appendForEver(path))
	}
	os.Exit(m.Run())
}

// appendForEver appends numbered actions and prints each number once its transaction is on the
// disk. It ends after OILCAN_TEST_COUNT of them, or when it is killed.
func appendForEver(path string) int {
	count, _ := strconv.Atoi(os.Getenv("OILCAN_TEST_COUNT"))
	name, machine := os.Getenv("OILCAN_TEST_NAME"), os.Getenv("OILCAN_TEST_MACHINE")
	s, err := Open(path, func() time.Time { return t0.AddDate(0, 0, 300) })
	if err != nil {
		fmt.Println("error", err)
		return 1
	}
	for n := 0; count == 0 || n < count; n++ {
		a := model.Action{At: t0.Add(time.Duration(n) * time.Second), By: name + strconv.Itoa(n),
			Machine: machine,
			Facts:   []model.Fact{care("oil"), swap("blade", "worn"), used("blade", 1)}}
		if n%7 == 3 { // a late one, which folds the machine again
			a.At = t0.Add(-time.Hour)
		}
		if _, err := s.Append(a); err != nil {
			fmt.Println("error", err)
			return 1
		}
		fmt.Println(name + strconv.Itoa(n))
	}
	return 0
}

// child starts the other program; said takes each line it prints.
func child(t *testing.T, path, machine, name string, count int, said func(line string)) (
	stop func(), ended chan struct{}) {
	t.Helper()
	return childOf(t, path, machine, name, count, said, nil)
}

// childOf is child that tells the number of its process where pid is given.
func childOf(t *testing.T, path, machine, name string, count int, said func(line string),
	pid chan<- int) (stop func(), ended chan struct{}) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childFile+"="+path, "OILCAN_TEST_MACHINE="+machine,
		"OILCAN_TEST_NAME="+name, "OILCAN_TEST_COUNT="+strconv.Itoa(count))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if pid != nil {
		pid <- cmd.Process.Pid
	}
	ended = make(chan struct{})
	go func() {
		defer close(ended)
		for sc := bufio.NewScanner(out); sc.Scan(); {
			said(sc.Text())
		}
		cmd.Wait()
	}()
	return func() { cmd.Process.Kill(); <-ended }, ended
}

// TestKilled kills a writing program at random moments; each time every entry it was told is
// written is there, and the whole file is in order. Each fiftieth time it begins with a new file.
func TestKilled(t *testing.T) {
	kills := storetest.Times(8, 200, 2000)
	r := seeded(t) // the numbers; the very instant of a death is the machine's
	var s *Store
	var machine string
	var told map[string]bool
	acknowledged := 0
	for kill := range kills {
		if kill%50 == 0 {
			acknowledged += len(told)
			s, _ = newStore(t)
			machine, told = addMachine(t, s, "Anvil"), map[string]bool{}
		}
		lines := make(chan string, 1000)
		stop, ended := child(t, s.Path(), machine, fmt.Sprintf("k%d-", kill), 0, func(line string) {
			lines <- line
		})
		// Killed after some number of answers and a random moment more, so that it dies at work.
		for n := r.IntN(20); n >= 0; n-- {
			select {
			case line := <-lines:
				told[line] = true
			case <-ended:
				t.Fatal("the other program ended by itself")
			}
		}
		for spin := r.IntN(2_000_000); spin > 0; spin-- {
		}
		stop()
		close(lines)
		for line := range lines {
			told[line] = true
		}
		requireAll(t, s, told)
	}
	t.Logf("%d acknowledged actions over %d kills", acknowledged+len(told), kills)
}

// requireAll requires every acknowledged action whole, and the file in order.
func requireAll(t *testing.T, s *Store, told map[string]bool) {
	t.Helper()
	mustCheck(t, s)
	facts := map[string]int{}
	for _, e := range mustEntries(t, s, Filter{}) {
		facts[e.By]++
	}
	for by := range told {
		if strings.HasPrefix(by, "error") {
			t.Fatal(by)
		}
		if facts[by] != 3 {
			t.Fatalf("%s was acknowledged and has %d of its 3 entries", by, facts[by])
		}
	}
	for by, n := range facts {
		if by != "" && n != 3 {
			t.Fatalf("%s has %d of its 3 entries", by, n)
		}
	}
}

// TestTwoPrograms: two programs append at once; nothing of either is lost.
func TestTwoPrograms(t *testing.T) {
	s, _ := newStore(t)
	machine := addMachine(t, s, "Anvil")
	const each = 40
	told := make(chan string, 2*each+2)
	var ends []chan struct{}
	for _, name := range []string{"left", "right"} {
		_, ended := child(t, s.Path(), machine, name, each, func(line string) { told <- line })
		ends = append(ends, ended)
	}
	for _, ended := range ends {
		<-ended
	}
	close(told)
	all := map[string]bool{}
	for line := range told {
		all[line] = true
	}
	if len(all) != 2*each {
		t.Errorf("%d acknowledged, want %d", len(all), 2*each)
	}
	requireAll(t, s, all)
}

// TestTwoTerminals: of two that walk one session, one is told so.
func TestTwoTerminals(t *testing.T) {
	s, c := newStore(t)
	machine, session := begin(t, s, "Anvil")
	other, err := Open(s.Path(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	results := make(chan error, 2)
	for _, st := range []*Store{s, other} {
		go func() {
			_, err := st.Append(model.Action{Machine: machine, Session: session, Ordinal: 2,
				Facts: []model.Fact{step("passed", "step 1 of 9")}})
			results <- err
		}()
	}
	a, b := <-results, <-results
	if (a == nil) == (b == nil) {
		t.Errorf("%v and %v", a, b)
	}
	if got := mustEntries(t, s, Filter{Session: session}); len(got) != 2 {
		t.Errorf("%d entries", len(got))
	}
}

// TestReplacedWhileWaiting: a transaction that waited for a file which was replaced meanwhile goes
// to the new one.
func TestReplacedWhileWaiting(t *testing.T) {
	s, _ := newStore(t)
	machine := addMachine(t, s, "Anvil")
	fresh := backupOf(t, s)
	old, err := os.Open(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer old.Close()
	if !tryLock(old) {
		t.Fatal("locked")
	}
	done := make(chan error, 1)
	go func() {
		_, err := s.Append(model.Action{Machine: machine, Facts: []model.Fact{care("oil")}})
		done <- err
	}()
	if err := os.Rename(fresh, s.Path()); err != nil {
		t.Fatal(err)
	}
	unlock(old)
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	if n, err := lastEntry(s.Path()); n != 2 || err != nil {
		t.Errorf("%d entries in the new file, %v", n, err)
	}
}
