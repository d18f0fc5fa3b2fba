package store

import (
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
)

// Who watches long work is told how far it is, never backwards and never past its end; who does
// not, loses nothing.
func TestLongWorkTellsHowFarItIs(t *testing.T) {
	s, c := newStore(t)
	m := mustAppend(t, s,
		model.Action{At: c.now(),
			Facts: []model.Fact{{Kind: model.KindMachine,
				Machine: &model.MachineFact{Name: "Heron", Duty: model.Home}}}})[0].Machine
	c.move(48 * time.Hour)
	var as []model.Action
	for i := range 3 * everySeen {
		as = append(as, model.Action{At: t0.Add(time.Duration(i) * time.Minute), Machine: m,
			Facts: []model.Fact{{Kind: model.KindReading,
				Reading: &model.Reading{Meter: model.Hours, Value: float64(i), How: "typed"}}}})
	}
	var told []int
	s.Watch(func(n, all int) {
		if n > all {
			t.Errorf("%d of %d", n, all)
		}
		told = append(told, n)
	})
	if _, err := s.AppendAll(as); err != nil {
		t.Fatal(err)
	}
	want := []int{0, everySeen, 2 * everySeen}
	if !slices.Equal(told, want) {
		t.Errorf("taking in told %v", told)
	}
	told = nil
	if r, err := s.Check(); err != nil || !r.OK() || len(told) < 3 || !slices.IsSorted(told) {
		t.Errorf("the check told %v: %v %v", told, err, r.Problems)
	}
	checked := len(told)
	told = nil
	if _, err := Restore(s.Path(), backupOf(t, s), func(n, _ int) {
		told = append(told, n)
	}); err != nil || len(told) != checked || !slices.IsSorted(told) {
		t.Errorf("putting back told %v: %v", told, err)
	}
	s.Watch(nil)
}
