package book

import (
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// TestOwedChecksAreSaidOnce: what a machine left unplugged owes stands in the line that says how it
// was left, and not as a finding beside it; with power on record since, the findings stand.
func TestOwedChecksAreSaidOnce(t *testing.T) {
	at := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Teal"},
		LastSession: &model.SessionEnd{At: at, Unplugged: true}}
	for _, text := range []string{"stub fed out", "slots on the screen"} {
		m.Findings = append(m.Findings,
			model.Finding{Found: model.Found{Kind: model.FoundOwed, Hash: "x",
				Text: model.OwedUnderPower + text}, At: at})
	}
	b := model.NewBench()
	got := StandingOn(b, m, at)
	if len(got) != 1 || !strings.Contains(got[0].Text,
		"2 checks owed once it is on: stub fed out; slots on the screen") {
		t.Errorf("%+v", got)
	}
	m.LastSession.Unplugged = false
	if got := StandingOn(b, m, at); len(got) != 2 ||
		!strings.HasPrefix(got[0].Text, "owed under power: ") {
		t.Errorf("with power since: %+v", got)
	}
}
