package store

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/oklog/ulid/v2"
	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
	"bench/oilcan/store/storetest"
)

// harm is something done to a good file.
type harm struct {
	name string
	do   func([]byte) []byte
	want string // what the error of Open or Bench says; "" where one may do without
}

const page = 4096

func zero(from, to int) func([]byte) []byte {
	return func(b []byte) []byte { clear(b[from:to]); return b }
}

// harms are what is done to a file of so many bytes, the head of whose latest transaction begins at
// newest.
func harms(size, newest int) []harm {
	cut := func(n int) func([]byte) []byte { return func(b []byte) []byte { return b[:n] } }
	flip := func(what string) func([]byte) []byte {
		return func(b []byte) []byte {
			for at := 0; ; {
				i := bytes.Index(b[at:], []byte(what))
				if i < 0 {
					return b
				}
				b[at+i+1] ^= 4
				at += i + 1
			}
		}
	}
	return []harm{
		{"no bytes", cut(0), "empty"},
		{"ten bytes of text", func([]byte) []byte { return []byte("hello oops") },
			"no oilcan data file"},
		{"random bytes", func(b []byte) []byte { fill(b, 7); return b }, "no oilcan data file"},
		{"zeros", zero(0, size), "no oilcan data file"},
		{"one page left", cut(page), "destroyed|shorter"},
		{"two pages left", cut(2 * page), "shorter"},
		{"four pages left", cut(4 * page), "shorter"},
		{"half left", cut(size / 2), "shorter"},
		// what the other names is no whole bench
		{"the newer head destroyed", zero(newest, newest+page), "one of its two heads"},
		{"the older head destroyed", zero(page-newest, 2*page-newest), ""},
		{"both heads destroyed", zero(0, 2*page), "no oilcan data file"},
		{"all pages but the heads zero", zero(2*page, size),
			"contradict|missing|no oilcan|not what it should be"},
		{"the second half zero", zero(size/2/page*page, size), ""},
		{"a bit in a machine's name", flip(`"name":"Anvil"`), "checksum"},
		{"a bit in an entry", flip(`"value":120`), "checksum"},
		{"a bit in a step", flip(`"position":"step 2`), "checksum"},
		{"a bit in a text", flip("resolved text"), ""},
	}
}

// TestDamage: whatever is done to the file, each call gives what is right or a typed error, and
// never a panic; the file is not written over. Without OILCAN_LONG it empties each third page.
func TestDamage(t *testing.T) {
	good, want := goodFile(t)
	for _, c := range harms(len(good), newestHead(t, good)) {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "bench.db")
			harmed := c.do(bytes.Clone(good))
			write(t, path, harmed)
			err := tryAll(t, path, want)
			if c.want != "" && !saysOneOf(err, c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
			if err != nil && strings.Contains(err.Error(), "\n") {
				t.Errorf("more than a sentence: %q", err)
			}
			if now, _ := os.ReadFile(path); len(now) < len(harmed) {
				t.Error("the file became smaller")
			}
		})
	}
	for at := 2 * page; at < len(good); at += page * storetest.Times(3, 1, 1) {
		t.Run(fmt.Sprintf("page %d zero", at/page), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "bench.db")
			write(t, path, zero(at, min(at+page, len(good)))(bytes.Clone(good)))
			tryAll(t, path, want)
		})
	}
}

func saysOneOf(err error, words string) bool {
	for _, w := range strings.Split(words, "|") {
		if err != nil && strings.Contains(err.Error(), w) {
			return true
		}
	}
	return false
}

var flips = flag.Int("flips", 0,
	"single bits to flip in TestFlippedBits; 0: 40, with OILCAN_LONG 150")

// TestFlippedBits flips single bits anywhere in the file.
func TestFlippedBits(t *testing.T) {
	good, want := goodFile(t)
	r := seeded(t)
	path := filepath.Join(t.TempDir(), "bench.db")
	noticed := 0
	n := cmp.Or(*flips, storetest.Times(40, 150, 150))
	for range n {
		at := r.IntN(len(good))
		b := bytes.Clone(good)
		b[at] ^= 1 << r.IntN(8)
		write(t, path, b)
		if tryAll(t, path, want) != nil {
			noticed++
		}
		if t.Failed() {
			t.Fatalf("byte %d (page %d, %d), %08b instead of %08b", at, at/4096, at%4096, b[at],
				good[at])
		}
	}
	t.Logf("%d of %d noticed in reading", noticed, n)
}

// TestFlippedKeys flips a bit in every key under which a single thing is looked for: what is not
// found must not pass for what never was. Without OILCAN_LONG it takes each third place of a key.
func TestFlippedKeys(t *testing.T) {
	good, want := goodFile(t)
	path := filepath.Join(t.TempDir(), "bench.db")
	for _, key := range []string{want.id, want.machine, drawerKey, countName, want.hash,
		string(metaKey), want.entry, backwards(want.entry), string(indexedKey)} {
		for n, at := 0, 0; ; n, at = n+1, at+1 {
			i := bytes.Index(good[at:], []byte(key))
			if i < 0 {
				break
			}
			at += i
			if n%storetest.Times(3, 1, 1) != 0 {
				continue
			}
			b := bytes.Clone(good)
			b[at+len(key)-1] ^= 1
			write(t, path, b)
			tryAll(t, path, want)
			if t.Failed() {
				t.Fatalf("%s, page %d, byte %d", key, at/page, at%page)
			}
		}
	}
}

func fill(b []byte, seed uint64) {
	r := rand.New(rand.NewPCG(seed, seed))
	for i := range b {
		b[i] = byte(r.Uint32())
	}
}

// asRead is what a whole file says.
type asRead struct {
	bench, entries, session []byte
	page                    []byte // the latest seven of m00's book, and how many there are
	entry                   string // id of one of them
	text                    string
	id                      string // of the session
	hash                    string
	machine                 string
}

// goodFile makes a file in which every kind of record lies, and what it says.
func goodFile(t testing.TB) ([]byte, asRead) {
	t.Helper()
	s, c := newStore(t)
	// All good files are the same: what bbolt reads outside of a harmed page may be an older
	// copy's.
	s.ids = ulid.Monotonic(rand.NewChaCha8([32]byte{1}), 0)
	text := []byte("resolved text of belts-reset" + strings.Repeat(" and so on", 300))
	w := asRead{hash: textHash(text), text: string(text)}
	fillBench(t, s, c, 2)
	w.machine = addMachine(t, s, "Anvil")
	w.id = mustAppend(t, s, model.Action{Machine: w.machine, Texts: map[string][]byte{w.hash: text},
		Facts: []model.Fact{
			{Kind: model.KindBegun,
				Begun: &model.Begun{Title: "monthly",
					Items: []model.BlockRef{{Kind: "care", ID: "belts-reset",
						Hash: w.hash}}}}}})[0].Session
	for i := range 30 {
		c.move(time.Minute)
		mustAppend(t, s, model.Action{Machine: w.machine, Session: w.id, Ordinal: i + 2,
			Facts: []model.Fact{step("passed", fmt.Sprintf("step %d of 61", i))}})
	}
	mustAppend(t, s, model.Action{Machine: w.machine, Facts: []model.Fact{reading(model.Hours, 120),
		counted("blade", 4)}})
	w.bench, w.entries, w.session = marshal(t, mustBench(t, s)), marshal(t,
		mustEntries(t, s, Filter{})), marshal(t, mustEntries(t, s, Filter{Session: w.id}))
	page, all, err := s.Page("m00", 0, 7)
	if err != nil {
		t.Fatal(err)
	}
	w.page, w.entry = marshal(t, []any{page, all}), page[3].ID
	return laidOut(t, s.Path()), w
}

// laidOut gives the content of a data file in one and the same layout, so that a byte of it can be
// named. bbolt lays out the buckets of one transaction in the order of a map; here each key has its
// own.
func laidOut(t testing.TB, path string) []byte {
	t.Helper()
	copied := filepath.Join(t.TempDir(), "copy.db")
	src, err := bolt.Open(path, fileMode, &bolt.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer src.Close()
	dst, err := bolt.Open(copied, fileMode, &bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(bolt.Compact(dst, src, 1), dst.Close()); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(copied)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func marshal(t testing.TB, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// tryAll does all that is done with a file; what it gives is right, or an error of a known kind. It
// returns the first error of a reading call.
func tryAll(t *testing.T, path string, want asRead) (first error) {
	t.Helper()
	typed := func(what string, err error) bool {
		known := false
		for _, kind := range []error{ErrDamaged, ErrNewer, ErrRefused, ErrStale} {
			known = known || errors.Is(err, kind)
		}
		if err != nil && !known {
			t.Errorf("%s: an error of no known kind: %v", what, err)
		}
		if first == nil {
			first = err
		}
		return err == nil
	}
	s, err := Open(path, (&clock{t0.AddDate(1, 0, 0)}).now)
	if !typed("open", err) {
		return err
	}
	if b, err := s.Bench(); typed("bench", err) && !bytes.Equal(marshal(t, b), want.bench) {
		t.Errorf("bench: a wrong value: %s", difference(marshal(t, b), want.bench))
	}
	if es, err := s.Entries(Filter{}); typed("entries", err) &&
		!bytes.Equal(marshal(t, es), want.entries) {
		t.Errorf("entries: a wrong value: %s", difference(marshal(t, es), want.entries))
	}
	if es, err := s.Entries(Filter{Session: want.id}); typed("session", err) &&
		!bytes.Equal(marshal(t, es), want.session) {
		t.Errorf("session: a wrong value: %s", difference(marshal(t, es), want.session))
	}
	if text, err := s.Text(want.hash); typed("text", err) && string(text) != want.text {
		t.Error("text: a wrong value")
	}
	page, all, err := s.Page("m00", 0, 7)
	if typed("page", err) && !bytes.Equal(marshal(t, []any{page, all}), want.page) {
		t.Errorf("page: a wrong value: %s", difference(marshal(t, []any{page, all}), want.page))
	}
	found, err := s.Ending(want.entry[14:])
	if typed("ending", err) && (len(found) != 1 || found[0].ID != want.entry) {
		t.Errorf("ending: a wrong value: %v", found)
	}
	clean := first == nil
	r, err := s.Check()
	if typed("check", err) && r.OK() && !clean {
		t.Errorf("check finds nothing, though reading failed: %v", first)
	}
	es, err := s.Append(model.Action{Machine: want.machine, Facts: []model.Fact{care("oil")}})
	if typed("append", err) && !clean && pagesWhole(path) != nil {
		t.Error("written into a file whose pages do not hold together")
	}
	if err == nil && r.OK() {
		if got, err := s.Entries(Filter{Action: es[0].Action}); typed("read back", err) &&
			len(got) != 1 {
			t.Error("what was appended is not there")
		}
	}
	return first
}

// difference shows where two texts part.
func difference(got, want []byte) string {
	i := 0
	for i < min(len(got), len(want)) && got[i] == want[i] {
		i++
	}
	around := func(b []byte) []byte { return b[max(0, min(i-100, len(b))):min(i+200, len(b))] }
	return fmt.Sprintf("%d bytes, not %d:\n%s\nwant\n%s", len(got), len(want), around(got),
		around(want))
}
