package model

import (
	"fmt"
	"testing"
)

func fOutcome(symptom, procedure string, is CureWord, session string) Fact {
	return Fact{Kind: KindOutcome, Outcome: &Outcome{Symptom: symptom, Procedure: procedure, Is: is,
		Session: session}}
}

func fBegunFor(procedure string, symptoms ...string) Fact {
	return Fact{Kind: KindBegun,
		Begun: &Begun{Title: "ringing",
			Complaint: &Complaint{Symptoms: symptoms, Procedure: procedure}}}
}

// TestOutcomeCounts: outcomes are counted by symptom and care; unknown counts for neither, a strike
// takes one out again.
func TestOutcomeCounts(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, fOutcome("ringing", "belts-reset", "cured", ""))
	j.on(2, fOutcome("ringing", "belts-reset", "not cured", ""))
	j.on(3, fOutcome("ringing", "belts-reset", "unknown", ""))
	slip := j.on(4, fOutcome("ringing", "belts-reset", "cured", ""))
	j.on(5, fStrike(slip))
	got := j.bench(t).Machines["m"].Outcomes
	want := Tally{Cured: 1, Not: 1, At: onDay(2)}
	if c := got[TallyKey("ringing", "belts-reset")]; len(got) != 1 || c == nil || *c != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// TestComplaintWaitsForItsOutcome: what a session was begun for stands until its own outcome is
// said, and again where that is struck.
func TestComplaintWaitsForItsOutcome(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	j.on(1, fBegunFor("belts-reset", "ringing"))
	j.on(2, Fact{Kind: KindClosed, Closed: &Closed{State: "ready"}})
	standing := func(what string, want bool) {
		t.Helper()
		if c := j.bench(t).Machines["m"].Complaint; (c != nil) != want {
			t.Errorf("%s: %+v", what, c)
		}
	}
	standing("after the session", true)
	j.on(3, fOutcome("ringing", "belts-reset", "cured", ""))
	standing("an outcome of no session", true)
	said := j.on(4, fOutcome("ringing", "belts-reset", "unknown", "s"))
	standing("its own outcome", false)
	j.on(5, fStrike(said))
	standing("that struck", true)
	j.on(6, fOutcome("ringing", "belts-reset", "cured", "s"))
	standing("said anew", false)
}

// TestOutcomesStayFew: beyond what a snapshot holds, the one said longest ago gives way.
func TestOutcomesStayFew(t *testing.T) {
	j := &journal{}
	j.on(0, fMachine("Anvil"))
	for i := range maxTallies + 5 {
		j.on(float64(i+1), fOutcome(fmt.Sprintf("symptom-%02d", i), "belts-reset", "cured", ""))
	}
	got := j.bench(t).Machines["m"].Outcomes
	if len(got) != maxTallies || got["symptom-04/belts-reset"] != nil ||
		got["symptom-05/belts-reset"] == nil {
		t.Errorf("%d kept: %v", len(got), got)
	}
}
