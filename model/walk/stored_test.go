package walk_test

import (
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
)

// stored opens the older program's data file, with the program as it is.
func stored(t *testing.T) *store.Store {
	t.Helper()
	st, err := store.Open(storetest.Older(t), func() time.Time { return storedNow })
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// each is how far apart cases are that are alike: n, and with OILCAN_LONG 1, so that all are taken.
func each(n int) int {
	if os.Getenv("OILCAN_LONG") != "" {
		return 1
	}
	return n
}

var storedNow = time.Date(2026, 11, 21, 9, 0, 0, 0, time.UTC)

// TestSessionsOfTheOlderProgram: each session the older program began, killed at each gate, is
// opened, resumed after a break, and walked to its end in both paces; nothing dangerous happens on
// the way. Without OILCAN_LONG it takes each seventh gate.
func TestSessionsOfTheOlderProgram(t *testing.T) {
	st := stored(t)
	all, err := st.Entries(store.Filter{})
	if err != nil {
		t.Fatal(err)
	}
	lib := library(t)
	for _, id := range []string{"plain", "solvent", "open", "gantry"} {
		var of []model.Entry // of the machine
		for _, e := range all {
			if e.Machine == id {
				of = append(of, e)
			}
		}
		killed, nth := 0, each(7)
		for n := range of {
			if of[n].Session == "" || n+1 == len(of) || of[n+1].Action == of[n].Action {
				continue // not yet begun, over, or in the middle of an action
			}
			if killed++; killed%nth != 0 {
				continue
			}
			for _, pace := range []string{walk.Steps, walk.Pages} {
				if err := carryOn(lib.Get, st, of[:n+1], pace); err != nil {
					t.Errorf("%s, killed after %d entries, in %s: %v", id, n+1, pace, err)
				}
			}
		}
		if killed < 80 {
			t.Errorf("%s: killed at %d gates only", id, killed)
		}
	}
}

// later are gates that came after these sessions were begun, in the texts of the procedures: a
// session goes on by those it was begun with.
var later = []string{"connectors are parted five minutes after the plug",
	"no heater is left with a target"}

// asBegun gives the invariants that the older gates hold too.
func asBegun(list []invariant) []invariant {
	return slices.DeleteFunc(slices.Clone(list), func(i invariant) bool {
		return slices.Contains(later, i.name)
	})
}

// carryOn resumes a session an hour after the last entry of a machine's and walks it to its end.
func carryOn(get func(id string) *model.Procedure, st *store.Store, of []model.Entry,
	pace string) error {
	last := of[len(of)-1]
	r := &walktest.Run{M: model.Fold(of).Machines[last.Machine], Get: get,
		Now: last.At.Add(time.Hour), Pace: pace, By: "LN"}
	r.J.Stored = st.Text
	for _, e := range of {
		if e.Session != "" {
			r.J.Entries = append(r.J.Entries, e)
		}
	}
	var err error
	if r.W, err = walk.Load(r.J.Entries, r.J.Text); err != nil {
		return err
	}
	shop := newShop().take(r.W, r.J.Entries)
	see := func(do func() error) error {
		n, was, ledger, before := len(r.J.Entries), r.W.Believed.Clone(), r.W.Ledger(), shop
		if err := do(); err != nil {
			return err
		}
		shop = before.take(r.W, r.J.Entries[n:])
		if why := (seen{r: r, entries: r.J.Entries[n:], was: was, ledger: ledger, before: before,
			now: shop}).broken(asBegun(always)); why != "" {
			return fmt.Errorf("%s: %s", r.W.Position(), why)
		}
		return nil
	}
	err = see(func() error {
		rep, err := r.W.Resume(r.Context())
		if err := r.Take(rep, err); err != nil {
			return err
		}
		return r.Settle()
	})
	for n := 0; err == nil && !r.W.Ended; n++ {
		if n > 1000 {
			return fmt.Errorf("it does not end: %s, %s", r.W.Position(), r.W.Prompt(r.Now).Question)
		}
		next := r.Step
		if pg := r.W.Page(r.Context()); pg != nil && !pg.Asked() {
			next = r.PageStep
		}
		err = see(func() error { _, err := next(); return err })
	}
	if err != nil {
		return err
	}
	if why := (seen{r: r, before: shop, now: shop}).broken(asBegun(atEnd)); why != "" {
		return fmt.Errorf("at the end: %s", why)
	}
	return nil
}

// TestOwnFilesOfBefore: an operator's own files, written before steps said how they stand on a
// page, are read and walked to their end in both paces, and nothing of theirs that moves, heats or
// runs under power passes in a row.
func TestOwnFilesOfBefore(t *testing.T) {
	lib, problems := procedures.Load("testdata/own-v1")
	for _, p := range problems {
		t.Error(p)
	}
	for _, id := range []string{"rods-wipe", "hotend-swap", "belts-reset"} {
		p := lib.Get(id)
		if !p.Yours {
			t.Fatalf("%s is not the operator's", id)
		}
		for _, pace := range []string{walk.Steps, walk.Pages} {
			r := begin(t, lib, machine(lib, "full"), id)
			r.Pace = pace
			shop := newShop().take(r.W, r.J.Entries)
			for !r.W.Ended {
				n, was, ledger, before := len(r.J.Entries), r.W.Believed.Clone(), r.W.Ledger(), shop
				next := r.Step
				if pg := r.W.Page(r.Context()); pg != nil && !pg.Asked() {
					next = r.PageStep
				}
				if _, err := next(); err != nil {
					t.Fatalf("%s in %s: %v", id, pace, err)
				}
				shop = before.take(r.W, r.J.Entries[n:])
				if why := (seen{r: r, entries: r.J.Entries[n:], was: was, ledger: ledger,
					before: before, now: shop}).broken(always); why != "" {
					t.Fatalf("%s in %s: %s", id, pace, why)
				}
				for _, e := range r.J.Entries[n:] {
					if e.Walk != nil && e.Walk.ID == id && e.Walk.How == "page" &&
						was[model.Power] == "on" {
						t.Errorf("%s/%s passed in a row under power", id, e.Walk.Step)
					}
				}
			}
		}
	}
}
