package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// writeOnto writes two actions into a harmed file, as a person who goes on working does, and
// requires that what was on record stays on record, or that the damage is said and nothing written.
func writeOnto(t *testing.T, what string, harmed []byte, want asRead) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bench.db")
	write(t, path, harmed)
	s, err := Open(path, (&clock{t0.AddDate(1, 0, 0)}).now)
	for range 2 {
		if err == nil {
			_, err = s.Append(model.Action{Machine: want.machine,
				Facts: []model.Fact{care("oil"), counted("blade", 3)}})
		}
	}
	if err != nil {
		if !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "oilcan restore") {
			t.Errorf("%s: not the damage and what to do: %v", what, err)
		}
		if now, _ := os.ReadFile(path); !bytes.Equal(now, harmed) {
			t.Errorf("%s: refused, but the file was written to: %v", what, err)
		}
		return
	}
	es, err := s.Entries(Filter{})
	if err != nil || len(es) < 4 || !bytes.Equal(marshal(t, es[:len(es)-4]), want.entries) {
		t.Errorf("%s: after two acknowledged writes the journal is not what it was: %v", what, err)
	}
	if err := pagesWhole(path); err != nil {
		t.Errorf("%s: two acknowledged writes left pages that do not hold together: %v", what, err)
	}
}

// TestWriteIntoWrongLengths: no page whose length is wrong is written next to.
func TestWriteIntoWrongLengths(t *testing.T) {
	good, want := goodFile(t)
	for _, at := range pagesOf(good) {
		for _, over := range []uint32{1, 7, 1 << 31} {
			b := bytes.Clone(good)
			binary.LittleEndian.PutUint32(b[at+12:], over+binary.LittleEndian.Uint32(b[at+12:]))
			writeOnto(t, fmt.Sprintf("page %d longer by %d", at/page, over), b, want)
		}
		if t.Failed() {
			return
		}
	}
}

// TestWriteIntoFlippedPages flips bits in the heads of pages, and anywhere in branches and lists of
// free pages; a quarter of them without OILCAN_LONG.
func TestWriteIntoFlippedPages(t *testing.T) {
	good, want := goodFile(t)
	r := seeded(t)
	for _, at := range pagesOf(good) {
		var bits []int
		for range storetest.Times(1, 4, 4) {
			bits = append(bits, r.IntN(pageHeader*8))
		}
		if kind := good[at+8]; kind != leafPage {
			used := pageHeader + int(binary.LittleEndian.Uint16(good[at+10:]))*24
			for range storetest.Times(10, 40, 40) {
				bits = append(bits, r.IntN(min(used, page)*8))
			}
		}
		for _, bit := range bits {
			b := bytes.Clone(good)
			b[at+bit/8] ^= 1 << (bit % 8)
			writeOnto(t, fmt.Sprintf("page %d, byte %d, bit %d", at/page, bit/8, bit%8), b, want)
		}
		if t.Failed() {
			return
		}
	}
}

// TestWriteIntoWrongFirstKeys changes the key under which a branch has its first page: bbolt reads by
// it all the same, and would write the page beside itself.
func TestWriteIntoWrongFirstKeys(t *testing.T) {
	good, want := goodFile(t)
	branches := 0
	for _, at := range pagesOf(good) {
		if good[at+8] != branchPage {
			continue
		}
		branches++
		first := at + pageHeader + int(binary.LittleEndian.Uint32(good[at+pageHeader:]))
		for bit := range 8 {
			b := bytes.Clone(good)
			b[first] ^= 1 << bit
			writeOnto(t, fmt.Sprintf("page %d, bit %d of its first key", at/page, bit), b, want)
		}
	}
	if branches == 0 {
		t.Error("no page is a branch")
	}
}

// pagesOf gives where pages begin, in use or free by now.
func pagesOf(file []byte) (out []int) {
	for at := 2 * page; at+page <= len(file); at += page {
		if binary.LittleEndian.Uint64(file[at:]) == uint64(at/page) {
			out = append(out, at)
		}
	}
	return out
}

// TestPagesOfGoodFiles: what bbolt writes is found whole, with all leaves read and without,
// whatever was done to the file.
func TestPagesOfGoodFiles(t *testing.T) {
	r := seeded(t)
	s, c := newStore(t)
	fillBench(t, s, c, 3)
	for n := range 40 {
		mustAppend(t, s, someAction(r, n))
		f, err := os.Open(s.Path())
		if err != nil {
			t.Fatal(err)
		}
		h, _, err := preflight(f, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, all := range []bool{true, false} {
			if err := walkPages(f, h, all); err != nil {
				t.Fatalf("after action %d, all %v: %v", n, all, err)
			}
		}
		f.Close()
	}
}

// someAction is one on a bench of fillBench, long or short.
func someAction(r *rand.Rand, n int) model.Action {
	id := fmt.Sprintf("m%02d", r.IntN(3))
	switch r.IntN(3) {
	case 0:
		text := []byte(strings.Repeat(fmt.Sprint("a text ", n, " "), r.IntN(3000)))
		for i := range text {
			text[i] ^= byte(r.IntN(4)) // so that it does not pack well, and can be shown
		}
		return model.Action{Machine: id, Texts: map[string][]byte{textHash(text): text},
			Facts: []model.Fact{care("oil")}}
	case 1:
		return model.Action{Machine: id,
			Facts: []model.Fact{{Kind: model.KindFinding,
				Finding: &model.Found{Kind: "note", Text: strings.Repeat("x", 1+r.IntN(400))}}}}
	}
	return model.Action{Machine: id, Facts: []model.Fact{swap("blade", "worn"), used("blade", 1),
		care("oil")}}
}

// TestCirclesComeToAnEnd: a branch that leads back to itself is noticed when the file is opened;
// bbolt would follow it for ever.
func TestCirclesComeToAnEnd(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	for range 60 {
		mustAppend(t, s, act(id,
			model.Fact{Kind: model.KindFinding,
				Finding: &model.Found{Kind: "note", Text: strings.Repeat("x", 900)}}))
	}
	good := read(t, s.Path())
	branches := 0
	for _, at := range pagesOf(good) {
		if binary.LittleEndian.Uint16(good[at+8:]) != branchPage {
			continue
		}
		branches++
		bad := bytes.Clone(good)
		copy(bad[at+pageHeader+8:], bad[at:at+8]) // the first page below is the page itself
		path := filepath.Join(t.TempDir(), "bench.db")
		write(t, path, bad)
		done := make(chan error, 1)
		go func() { _, err := Open(path, c.now); done <- err }()
		select {
		case err := <-done:
			if !errors.Is(err, ErrDamaged) && err != nil {
				t.Errorf("page %d: %v", at/page, err)
			}
		case <-time.After(20 * time.Second):
			t.Fatalf("page %d is followed for ever", at/page)
		}
	}
	if branches == 0 {
		t.Fatal("no page is a branch")
	}
}
