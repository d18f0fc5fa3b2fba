package session

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
)

// A data file of the older program (storetest says how it was made) is opened: it is whole, its
// readings and care are there, and the session killed with vapour in the air is carried on to its
// end.
func TestTheOlderDataFile(t *testing.T) {
	now := time.Date(2026, 11, 21, 9, 0, 0, 0, time.UTC)
	st, err := store.Open(storetest.Older(t), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	if rep, err := st.Check(); err != nil || len(rep.Problems) > 0 {
		t.Fatalf("the older file is not whole: %v, %v", err, rep.Problems)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Machines) != 5 || b.Machines["plain"].Care["fans-blow"] == nil ||
		b.Machines["left"].Readings[model.Hours].Last.Value != 1200 {
		t.Fatalf("machines %d, care %v", len(b.Machines), b.Machines["plain"].Care)
	}
	d := Desk{Store: st, Lib: procedures.Open(""), By: "LN"}
	s, err := d.Resume(b.Machines["left"].Session, now)
	if err != nil {
		t.Fatal(err)
	}
	settle(t, s, now)
	if s.W.Believed[model.Vapour] != "drying" || s.W.Ledger().Empty() {
		t.Errorf("vapour %s, %s", s.W.Believed[model.Vapour], walk.LedgerLine(s.W.Ledger()))
	}
	walked(t, s, &now, func(walk.Prompt) bool { return s.W.Ended })
	if b, err = st.Bench(); err != nil || b.Machines["left"].Session != "" ||
		!b.Machines["left"].Ledger.Empty() {
		t.Errorf("left %+v, %v", b.Machines["left"].Ledger, err)
	}
}
