package book

import (
	"slices"
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

// TestATagHasItsOwnDay: of two stops the tag takes the finding that says the same, and its day; the
// other stands with its own.
func TestATagHasItsOwnDay(t *testing.T) {
	at := func(d int) time.Time { return time.Date(2026, 11, d, 9, 0, 0, 0, time.UTC) }
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Teal"},
		Tag: &model.Tag{Kind: model.TagStopped, Why: "brown plug", At: at(3)}}
	for text, again := range map[string]time.Time{"cracked glass": at(26), "brown plug": at(30)} {
		m.Findings = append(m.Findings, model.Finding{At: at(2),
			Found: model.Found{Kind: model.FoundStop, Text: text, Again: again}})
	}
	for range 2 {
		got := map[string]string{}
		for _, it := range StandingOn(model.NewBench(), m, at(20)) {
			got[it.Text] = it.Label + it.WhenText(at(20)) + " " + it.Finding.Text
		}
		if got["stopped: brown plug"] != "again 2026-11-30 brown plug" ||
			got["cracked glass"] != "again 2026-11-26 cracked glass" || len(got) != 2 {
			t.Errorf("%v", got)
		}
		slices.Reverse(m.Findings)
	}
}

// TestRemindersSayWhatIsToDo: nobody saw a reminder; and a tag is due by what it says, whatever day
// the finding behind it has.
func TestRemindersSayWhatIsToDo(t *testing.T) {
	at := func(d int) time.Time { return time.Date(2026, 11, d, 9, 0, 0, 0, time.UTC) }
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Teal"},
		Tag: &model.Tag{Kind: model.TagLimits, Why: "PLA only", At: at(3)},
		Findings: []model.Finding{
			{At: at(2), Found: model.Found{Kind: model.FoundLater, Text: "screws", Again: at(19)}},
			{At: at(3), Found: model.Found{Kind: model.FoundNote, Text: "PLA only", Again: at(30)}},
		}}
	got := Reminders(m, 0, at(20))
	if len(got) != 2 || got[0].Said(at(20)) !=
		"ready with limits: PLA only; since 2026-11-03; look again 2026-11-30" ||
		got[1].Label != "to do " || !got[1].Due ||
		got[1].Said(at(20)) != "screws; reminder of 2026-11-02; to do 2026-11-19" {
		t.Errorf("%+v", got)
	}
}
