package store

import (
	"fmt"
	"testing"
	"time"

	"bench/oilcan/model"
)

// A finding stands until it is closed, however many there are; the snapshot stays small all the
// same.
func TestEveryFindingStands(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Heron")
	var ids []string
	note := func(text string) {
		ids = append(ids, mustAppend(t, s,
			model.Action{Machine: id, Facts: []model.Fact{found(text)}})[0].ID)
		c.move(time.Minute)
	}
	for n := range 97 {
		note(fmt.Sprint("note ", n))
	}
	note("the oldest stop")
	standing := func() []model.Finding { return mustBench(t, s).Machines[id].Findings }
	if got := standing(); len(got) != 98 || got[0].Text != "note 0" {
		t.Fatalf("%d of 98 findings stand, the first %q", len(got), got[0].Text)
	}
	if n := snapshotSize(t, s, id); n > 12<<10 {
		t.Errorf("the snapshot takes %d bytes", n)
	}
	// one that is only counted, one that is held, and a strike that puts the first back
	closing := mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{settle(ids[0])}})
	mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{settle(ids[96])}})
	if got := standing(); len(got) != 96 || got[0].Text != "note 1" {
		t.Fatalf("%d of 96 findings stand, the first %q", len(got), got[0].Text)
	}
	if _, err := s.Append(
		model.Action{Machine: id, Facts: []model.Fact{settle(ids[0])}}); err == nil {
		t.Error("a finding was closed twice")
	}
	mustAppend(t, s, model.Action{Facts: []model.Fact{strike(closing[0].Action)}})
	again := reopened(t, s, c)
	if got := mustBench(t, again).Machines[id].Findings; len(got) != 97 || got[0].Text != "note 0" {
		t.Fatalf("%d of 97 findings stand, the first %q", len(got), got[0].Text)
	}
	for i, f := range standing() { // all can be closed, one after the other
		mustAppend(t, s, model.Action{Machine: id, Facts: []model.Fact{settle(f.ID)}})
		if left := len(standing()); left != 96-i {
			t.Fatalf("%d findings stand after %d were closed", left, i+1)
		}
	}
}
