package model

import (
	"testing"
	"time"
)

// TestRemedied: what called for care is closed by it; a note that called for more stands until the
// last is done, one that was seen later stands, and what stops a machine is closed by name alone.
func TestRemedied(t *testing.T) {
	at := time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC)
	later := at.Add(time.Hour)
	note := func(id string, kind FindingKind, when time.Time, calls ...string) Finding {
		return Finding{ID: id, At: when, Found: Found{Kind: kind, Text: "seen", Calls: calls}}
	}
	m := &Machine{
		Care: map[string]*CareLast{"frame-screws": {Known: true, At: at.Add(-time.Hour)}},
		Findings: []Finding{
			note("a", FoundNote, at, "wiper-check"),
			note("b", FoundNote, at, "belt-tone", "frame-screws"),
			note("c", FoundStop, at, "wiper-check"),
			note("d", FoundNote, later, "wiper-check"),
			note("e", FoundNote, at),
		},
	}
	cared := func(id string) []Fact {
		return []Fact{{Kind: KindCare, Care: &CareDone{Procedure: id, Outcome: OutcomeDone}}}
	}
	closes := func(facts []Fact, when time.Time) (ids string) {
		for _, f := range m.Remedied(facts, when) {
			ids += f.Settled.Finding
		}
		return ids
	}
	for _, c := range []struct {
		what, want string
		facts      []Fact
		at         time.Time
	}{
		{"the care it called for", "a", cared("wiper-check"), later},
		{"as it was before", "", cared("wiper-check"), at.Add(-time.Hour)},
		{"one of two", "", cared("belt-tone"), later},
		{"both", "b", append(cared("belt-tone"), cared("frame-screws")...), later},
		{"all since", "ad", cared("wiper-check"), later.Add(time.Minute)},
		{"a swap that sets it back", "a", []Fact{{Kind: KindSwap,
			Swap: &Swapped{Part: "wiper", Resets: []string{"wiper-check"}}}}, later},
		{"its proof is owed", "", []Fact{{Kind: KindCare, Care: &CareDone{Procedure: "wiper-check",
			Outcome: OutcomeDone, ProofOwed: true}}}, later},
		{"proved", "a", []Fact{{Kind: KindCare, Care: &CareDone{Procedure: "wiper-check",
			Outcome: OutcomeProved}}}, later},
		{"closed by the same facts", "", append(cared("wiper-check"),
			Fact{Kind: KindSettled, Settled: &Settled{Finding: "a"}}), later},
		{"left out", "", []Fact{{Kind: KindCare,
			Care: &CareDone{Procedure: "wiper-check", Outcome: OutcomeUnknown}}}, later},
	} {
		if is := closes(c.facts, c.at); is != c.want {
			t.Errorf("%s: it closes %q, want %q", c.what, is, c.want)
		}
	}
}
