package model

import "testing"

// TestRank: what can hurt stands alone by what the step does; the file may raise, never lower.
func TestRank(t *testing.T) {
	zero, four := 0, 4
	amount := map[string]Amount{"screws": {Answer: true}}
	for _, c := range []struct {
		name string
		step Step
		want Rank
	}{
		{"confirm", Step{Gate: Confirm}, PlainLine},
		{"choice", Step{Gate: Choice}, PlainLine},
		{"state", Step{Gate: State}, Hold},
		{"wait", Step{Gate: Wait}, Hold},
		{"starts a clock", Step{Gate: Confirm, Starts: []string{"airing"}}, Hold},
		{"moves", Step{Gate: Choice, Drives: []string{"motion"}}, Hold},
		{"said to move nothing", Step{Gate: Choice, Drives: []string{}}, PlainLine},
		{"own without motion", Step{Gate: Choice, Own: true}, PlainLine},
		{"clears a flag", Step{Gate: Confirm, Set: map[string]string{"belts": "clear"}}, Hold},
		{"clears a flag by nothing", Step{Gate: Confirm, Set: map[string]string{"oil": ""}}, Hold},
		{"oil wiped damp", Step{Gate: Choice, Set: map[string]string{"oil": "clear"}}, MarkedLine},
		{"sets a flag", Step{Gate: Confirm, Set: map[string]string{"belts": "loosened"}},
			PlainLine},
		{"sets the sensor", Step{Gate: Measure, Set: map[string]string{"sensor": "proved"}}, Hold},
		{"count that opens", Step{Gate: Count, Out: amount}, PlainLine},
		{"count of what goes back", Step{Gate: Count, Back: amount}, Hold},
		{"count of what comes out", Step{Gate: Count, Taken: amount}, Hold},
		{"nothing left", Step{Gate: Count, Equal: &Equal{Number: &zero}}, Hold},
		{"a dose", Step{Gate: Count, Equal: &Equal{Number: &four}}, PlainLine},
		{"as many as before", Step{Gate: Count, Equal: &Equal{Count: "find"}}, Hold},
		{"of the ledger", Step{Gate: Count, Equal: &Equal{Ledger: "blocks"}}, Hold},
		{"measure", Step{Gate: Measure}, PlainLine},
		{"alone", Step{Gate: Measure, Alone: true}, Hold},
		{"own key", Step{Gate: Choice, OwnKey: true}, MarkedLine},
		{"own key lowers nothing", Step{Gate: State, OwnKey: true}, Hold},
	} {
		if got := c.step.Rank(); got != c.want {
			t.Errorf("%s: rank %d, want %d", c.name, got, c.want)
		}
	}
}

// TestDrivesWritten: that a file says nothing moves is kept apart from a file that does not say.
func TestDrivesWritten(t *testing.T) {
	p := &Procedure{ID: "x", Steps: []Step{{Name: "said", Drives: []string{}}, {Name: "not said"}}}
	_, data := Text(p)
	q, err := ReadText(data)
	if err != nil {
		t.Fatal(err)
	}
	if q.Steps[0].Drives == nil || q.Steps[1].Drives != nil {
		t.Errorf("read back as %v and %v", q.Steps[0].Drives, q.Steps[1].Drives)
	}
}
