package printfile

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
)

// A tag stands against every print; a room without a smoke alarm against one that nobody watches.
func TestWhatSpeaksAgainstAPrint(t *testing.T) {
	at := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	alarm := model.Finding{Found: model.Found{Kind: model.FoundNote, Step: "alarm",
		Text: "Hang a smoke alarm"}, At: at}
	tag := func(k model.TagKind, why string) *model.Tag { return &model.Tag{Kind: k, Why: why} }
	for _, c := range []struct {
		name       string
		m          model.Machine
		unattended bool
		want       []Against
	}{
		{"a plain machine", model.Machine{}, true, nil},
		{"attended", model.Machine{Findings: []model.Finding{alarm}}, false, nil},
		{"unattended", model.Machine{Findings: []model.Finding{alarm}}, true,
			[]Against{{"Not unattended: Hang a smoke alarm", model.WordPast}}},
		{"stopped", model.Machine{Tag: tag(model.TagStopped, "it smokes")}, false,
			[]Against{{"Stopped: it smokes", model.WordPast}}},
		{"tagged out of use", model.Machine{Tag: tag(model.TagOutOfUse, "")}, false,
			[]Against{{"Out of use", model.WordPast}}},
		{"limits", model.Machine{Tag: tag(model.TagLimits, "PLA only"),
			Findings: []model.Finding{alarm}}, true,
			[]Against{{"Not unattended: Hang a smoke alarm", model.WordPast},
				{"Ready with limits: PLA only", model.WordDue}}},
		{"out of use", model.Machine{MachineFact: model.MachineFact{OutOfUse: true}, Since: at},
			false, []Against{{"Out of use since 2026-11-25", model.WordPast}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Bars(&c.m, c.unattended, at.Add(48*time.Hour))
			if len(got) != len(c.want) {
				t.Fatalf("%+v", got)
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Errorf("%+v, want %+v", got[i], c.want[i])
				}
			}
		})
	}
}

// The findings that keep a print from running unwatched are known by the name of their step, so
// every step of the library that tries the alarm has it.
func TestTheAlarmIsKnownByItsStep(t *testing.T) {
	lib, _ := procedures.Load("")
	n := 0
	for _, p := range lib.All() {
		for _, s := range p.Steps {
			if s.Known != "alarm" && s.Name != "alarm" {
				continue
			}
			n++
			if found := (model.Found{Step: s.Name}); !found.NoAlarm() {
				t.Errorf("%s tries the alarm at %s", p.ID, s.Name)
			}
		}
	}
	if n < 3 {
		t.Errorf("%d steps try the alarm", n)
	}
}
