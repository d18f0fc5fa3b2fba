package walk_test

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/session"
)

// TestFromSymptomToOutcome goes the whole way: symptom, answer, care, session, outcome, and the
// weight moved.
func TestFromSymptomToOutcome(t *testing.T) {
	for _, asked := range []string{"summary", "later"} {
		t.Run(asked, func(t *testing.T) {
			now := screentest.Now
			d, at, m := screentest.Session(t, func() time.Time { return now })
			d.Keys("s", "/", "stringing", "enter", "enter", "2", "enter")
			d.Shows("Strings and hairs", "causes maintenance won't fix", "Retraction", "Dry a roll")
			d.Keys("enter")
			d.Shows("for stringing", "> [x]", "Dry a roll")
			for i := 0; d.Bench().Machines[m.ID].Session == "" && i < 40; i++ {
				d.Keys("enter")
			}
			walkToTheEnd(t, d, at, d.Bench().Machines[m.ID].Session, &now)
			d.Shows(`Did "Dry a roll" cure it: "Strings and hairs between parts"?`)
			switch asked {
			case "summary":
				d.Keys("1")
			case "later":
				d.Keys("enter")
				d.Shows("most pressing", "cured? s answers: stringing")
				d.Keys("s")
				d.Shows(`Did "Dry a roll" cure it: "Strings and hairs between parts"?`)
				d.Keys("1")
			}
			d.Shows(`Weight of "Dry a roll" here: Strings and hairs between`, "5.1, was 5")
			d.Hides(`Did "Dry a roll" cure it`)
			if c := d.Bench().Machines[m.ID].Outcomes[model.TallyKey("stringing",
				"dry-filament")]; c == nil || c.Cured != 1 {
				t.Errorf("%+v", c)
			}
			d.Keys("esc", "esc", "esc", "esc", "s", "/", "stringing", "enter", "enter", "enter")
			d.Shows("here it cured this 1 of 1 times: weight 5.1")
		})
	}
}

// walkToTheEnd answers everything of a session as it should be, until its summary.
func walkToTheEnd(t *testing.T, d *screentest.Desk, at session.Desk, id string, now *time.Time) {
	t.Helper()
	for range 1500 {
		s, err := at.Open(id)
		if err != nil {
			t.Fatal(err)
		}
		p := s.W.Prompt(*now)
		if p.Kind == walk.AskOver {
			return
		}
		*now = now.Add(5 * time.Second)
		if p.Kind == walk.AskWait {
			*now = now.Add(p.Left)
		}
		d.Pass(*now)
		if p.Kind != walk.AskNone && p.Kind != walk.AskWait {
			reply(d, s, p, *now)
		}
	}
	t.Fatalf("the session does not end:\n%s", d.View())
}

// TestMaterialsBesideDryFilament: while a roll is dried its table is a key away, and the walk stays
// where it is.
func TestMaterialsBesideDryFilament(t *testing.T) {
	d, at, m := screentest.Session(t, func() time.Time { return screentest.Now })
	c, err := at.Choose(m, session.Choice{Only: []string{"dry-filament"}}, screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := at.Begin(m, c, screentest.Now)
	if err != nil {
		t.Fatal(err)
	}
	d.Send(screen.Open{To: screen.ToWalk{Session: s.W.ID, Fresh: true}})
	d.Shows("Read every roll and spool", " materials")
	d.Keys("g")
	d.Shows("Bands of a spool dryer", "abrasive")
	d.Keys("esc")
	d.Shows("Read every roll and spool")
}

// Two symptoms with long names: what is asked and told of them is never cut.
func TestAnOutcomeOfTwoSymptomsIsReadWhole(t *testing.T) {
	now := screentest.Now
	d, at, m := screentest.Session(t, func() time.Time { return now })
	d.Keys("s", "/", "under-extrusion", "enter", "enter", "1", "enter", "a", "/", "extruder-clicks",
		"enter", "enter", "1", "enter")
	d.Shows("high for both", "both\n      your answers point to it")
	d.Keys("enter")
	for i := 0; d.Bench().Machines[m.ID].Session == "" && i < 40; i++ {
		d.Keys("enter")
	}
	walkToTheEnd(t, d, at, d.Bench().Machines[m.ID].Session, &now)
	d.Shows("Did \"Pull a cold plug to clean the melt path\" cure it: \"Too little plastic",
		"comes out\" and \"The extruder clicks or skips\"?", "melt path closed 2026-11-25", "hands 2 min, waited 0")
	d.Keys("1")
	d.Shows("clicks or skips", "5.1, was 5")
	d.Hides("cure it")
}
