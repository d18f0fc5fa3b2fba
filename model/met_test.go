package model

import (
	"testing"
	"time"
)

// TestHowPartsWereMet: a look is kept with the time nobody had looked before, the last ten of them;
// the first one has no such time, and one that is struck goes.
func TestHowPartsWereMet(t *testing.T) {
	var j journal
	j.on(0, Fact{Kind: KindMachine, Machine: &MachineFact{ID: "m", Name: "Heron"}})
	look := func(day float64, found string, together bool) string {
		return j.on(day, Fact{Kind: KindCare, Care: &CareDone{Procedure: "look",
			Outcome: OutcomeDone, Found: found, Together: together}})
	}
	look(1, MetClean, false)
	look(31, MetExpected, true)
	j.on(40, Fact{Kind: KindCare, Care: &CareDone{Procedure: "whole", Outcome: OutcomeDone,
		CountsAs: []string{"look"}}})
	struck := look(50, MetClean, false)
	look(62, MetLate, false)
	j.on(63, Fact{Kind: KindStrike, Strike: &Strike{Action: struck, Why: "slip"}})
	got := j.bench(t).Machines["m"].Met["look"]
	want := []Met{{onDay(1), onDay(31), MetExpected, true}, {onDay(40), onDay(62), MetLate, false}}
	if len(got) != len(want) || got[0] != want[0] || got[1] != want[1] {
		t.Fatalf("%v, want %v", got, want)
	}
	for i := range 12 {
		look(70+float64(i), MetClean, false)
	}
	got = j.bench(t).Machines["m"].Met["look"]
	if len(got) != 10 || got[9].At.Sub(got[0].At) != 9*24*time.Hour {
		t.Errorf("%d kept, from %v", len(got), got[0])
	}
}
