package store

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"bench/oilcan/model"
)

// longBook gives a bench of twelve machines with a book of so many entries, none of them steps: two
// readings, care and a move of the drawer at a time.
func longBook(t testing.TB, n int) *Store {
	t.Helper()
	c := &clock{t0.AddDate(-10, 0, 0)}
	s, err := Open(filepath.Join(t.TempDir(), "long.db"), c.now)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for i := range 12 {
		ids = append(ids, addMachine(t, s, fmt.Sprint("Machine ", i)))
	}
	pace := 10 * 365 * 24 * time.Hour / time.Duration(n/4+1)
	for i := len(ids); i < n; {
		var as []model.Action
		for ; i < n && len(as) < 5000; i += 4 {
			c.move(pace)
			as = append(as, model.Action{Machine: ids[i/4%len(ids)], By: "LN", At: c.t,
				Facts: []model.Fact{reading(model.Hours, float64(i)),
					reading(model.Changes, float64(3*i)), care("oil"), used("blade", 0)}})
		}
		if _, err := s.AppendAll(as); err != nil {
			t.Fatal(err)
		}
	}
	c.t = t0
	return s
}

// BenchmarkFirstPage reads the latest 600 of 100,000 entries, of one machine and of the whole
// bench, where nothing is known yet of where they stand.
//
// Measured on two shared cores (Go 1.26, 2026-11-29), other work running: 6 to 18 ms for a machine
// with a twelfth of them, 53 to 166 ms for the bench, 36 ms of them the processor's.
func BenchmarkFirstPage(b *testing.B) {
	s := longBook(b, 100_000)
	bench, err := s.Bench()
	if err != nil {
		b.Fatal(err)
	}
	names := map[string]string{"bench": ""}
	for id := range bench.Machines {
		names["machine"] = id
	}
	for what, machine := range names {
		b.Run(what, func(b *testing.B) {
			for b.Loop() {
				s.listed = listed{}
				if _, _, err := s.Page(machine, 0, 600); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
