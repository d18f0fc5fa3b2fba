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
	note := func(id string, kind FindingKind, when time.Time, text string) Finding {
		return Finding{ID: id, At: when, Found: Found{Kind: kind, Text: text}}
	}
	m := &Machine{
		Due: map[string]FallsDue{
			"wiper-check":  {Procedure: "wiper-check", Because: "A flat pad no longer strips."},
			"belt-tone":    {Procedure: "belt-tone", Because: "Out of range."},
			"frame-screws": {Procedure: "frame-screws", Because: "Out of range."},
		},
		DueAt: map[string]time.Time{"wiper-check": at, "belt-tone": at, "frame-screws": at},
		Care:  map[string]*CareLast{},
		Findings: []Finding{
			note("a", FoundNote, at, "The pad: flat. A flat pad no longer strips."),
			note("b", FoundNote, at, "Resonance X: 71 Hz. Out of range."),
			note("c", FoundStop, at, "The pad: gone. A flat pad no longer strips."),
			note("d", FoundNote, later, "The pad: flat. A flat pad no longer strips."),
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
		{"a swap that sets it back", "a", []Fact{{Kind: KindSwap,
			Swap: &Swapped{Part: "wiper", Resets: []string{"wiper-check"}}}}, later},
		{"left out", "", []Fact{{Kind: KindCare,
			Care: &CareDone{Procedure: "wiper-check", Outcome: OutcomeUnknown}}}, later},
	} {
		if is := closes(c.facts, c.at); is != c.want {
			t.Errorf("%s: it closes %q, want %q", c.what, is, c.want)
		}
	}
}
