package store

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// sector is what a disk writes whole (common practice: 512 bytes); within one it may tear all the
// same.
const sector = 512

// TestPowerCut replays transactions as a power cut may leave them: some of the sectors that differ
// are on the disk and some are not, one of them torn inside. bbolt syncs its pages before it writes
// the head, so either any of the pages are there and the head is the old one, or all pages are and
// the head may be torn. What was answered for before is there every time, and the file goes on.
func TestPowerCut(t *testing.T) {
	r := seeded(t)
	c := &clock{t0}
	states := storetest.Times(30, 300, 5000)
	for n := 0; n < states; {
		until := min(n+200, states)
		s, err := Open(filepath.Join(t.TempDir(), "bench.db"), c.now)
		if err != nil {
			t.Fatal(err)
		}
		fillBench(t, s, c, 3)
		for n < until { // transactions of one history
			before := read(t, s.Path())
			answered := len(mustEntries(t, s, Filter{}))
			mustAppend(t, s, someAction(r, n))
			after := read(t, s.Path())
			all := len(mustEntries(t, s, Filter{}))
			for range 10 {
				cut, head := cutShort(r, before, after)
				n++
				if afterCut(t, c, cut, answered, all, head); t.Failed() {
					t.Fatalf("state %d, head %t", n, head)
				}
			}
		}
	}
	t.Logf("%d states", states)
}

// cutShort makes a state between two of a file. head tells that all pages are written and the head
// may be.
func cutShort(r *rand.Rand, before, after []byte) (cut []byte, head bool) {
	// a file grows before anything is written into it
	cut = make([]byte, max(len(before), len(after)))
	copy(cut, before)
	head = r.IntN(3) == 0
	for at := 2 * page; at < len(after); at += sector {
		if head || r.IntN(2) == 0 {
			tear(r, cut, after, at, !head)
		}
	}
	if head {
		for at := 0; at < 2*page; at += sector {
			tear(r, cut, after, at, true)
		}
	}
	return cut, head
}

// tear puts one sector of a file into another, now and then a part of it alone: its beginning, with
// what was there or garbage behind.
func tear(r *rand.Rand, into, of []byte, at int, may bool) {
	end := min(at+sector, len(of))
	if bytes.Equal(into[at:end], of[at:end]) {
		return
	}
	if !may || r.IntN(3) > 0 {
		copy(into[at:end], of[at:end])
		return
	}
	torn := at + r.IntN(sector)
	copy(into[at:min(torn, end)], of[at:end])
	if r.IntN(2) == 0 {
		for i := torn; i < end; i++ {
			into[i] = byte(r.Uint32())
		}
	}
}

// afterCut opens what a power cut left: it holds what was answered for, or with a whole head all.
func afterCut(t *testing.T, c *clock, file []byte, answered, all int, head bool) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bench.db")
	write(t, path, file)
	s, err := Open(path, c.now)
	if err != nil {
		t.Error(err)
		return
	}
	got := len(mustEntries(t, s, Filter{}))
	if got != answered && !(head && got == all) {
		t.Errorf("%d entries, want %d or, with the head, %d", got, answered, all)
	}
	mustAppend(t, s, act("m00", care("oil")))
	mustCheck(t, s)
}

// TestClockTable writes under clocks that are wrong or change: nothing is written with a day that
// cannot be, what is written keeps its instant, and a day's backup is that of the wall.
func TestClockTable(t *testing.T) {
	zone := func(name string) *time.Location {
		l, err := time.LoadLocation(name)
		if err != nil {
			storetest.Lacks(t, "the zones of the world", err)
		}
		return l
	}
	paris, tokyo := zone("Europe/Paris"), zone("Asia/Tokyo")
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	c.t = time.Date(1970, 1, 1, 0, 0, 5, 0, time.UTC) // a clock without a battery
	if _, err := s.Append(act(id, care("oil"))); !errors.Is(err, ErrRefused) {
		t.Errorf("under the year 1970: %v", err)
	}
	// 2026: summer time begins on 29 March and ends on 25 October (European Union, Directive
	// 2000/84/EC)
	times := []time.Time{
		time.Date(2026, 3, 29, 1, 59, 59, 0, paris), time.Date(2026, 3, 29, 3, 0, 0, 0, paris),
		// 02:30 twice
		time.Date(2026, 10, 25, 0, 30, 0, 0, time.UTC).In(paris),
		time.Date(2026, 10, 25, 1, 30, 0, 0, time.UTC).In(paris),
		time.Date(2028, 2, 29, 23, 59, 59, 0, paris), time.Date(2028, 3, 1, 0, 0, 0, 0, paris),
		// the same day elsewhere, later
		time.Date(2028, 3, 2, 1, 0, 0, 0, tokyo), time.Date(2028, 3, 1, 18, 0, 0, 0, paris),
	}
	for _, at := range times {
		c.t = at
		mustAppend(t, s, act(id, care("oil")))
	}
	es := mustEntries(t, s, Filter{Kinds: []model.EntryKind{model.KindCare}})
	for i, e := range es {
		if !e.At.Equal(times[i]) || e.At.Location() != time.UTC {
			t.Errorf("%v was written as %v", times[i], e.At)
		}
		if i > 0 && !e.At.After(es[i-1].At) {
			t.Errorf("%v stands behind %v", e.At, es[i-1].At)
		}
	}
	if m := mustBench(t, s).Machines[id]; m.Care["oil"].Times != len(times) ||
		!m.Care["oil"].At.Equal(times[len(times)-1]) {
		t.Errorf("%+v", m.Care["oil"])
	}
	c.t = time.Date(2028, 3, 2, 0, 30, 0, 0, paris) // still 1 March in UTC
	if path, err := s.Daily(BackupDir(s.Path())); err != nil ||
		filepath.Base(path) != "bench-2028-03-02.db" {
		t.Errorf("%s %v", path, err)
	}
}
