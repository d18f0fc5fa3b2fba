package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk/walktest"
)

// packs walks the change of the drying packs: four come out; the answers say what goes in.
func packs(t *testing.T, answers map[string]string) *walktest.Run {
	t.Helper()
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "desiccant")
	answers["packs-out"] = "4"
	for range 300 {
		p := r.W.Prompt(r.Now)
		if p.Step != nil && p.Block.ID == "desiccant" {
			if a, ok := answers[p.Step.Name]; ok {
				if rep := say(t, r, a); rep.Refusal != "" {
					say(t, r, a) // what leads elsewhere is said twice
				}
				continue
			}
		}
		over, err := r.Step()
		if err != nil {
			t.Fatal(err)
		}
		if over {
			return r
		}
	}
	t.Fatal("the session does not end")
	return nil
}

// TestWhatWasCountedInIsBooked: the drawer loses as many as went in, whatever was planned, and the
// next session is planned with that.
func TestWhatWasCountedInIsBooked(t *testing.T) {
	for name, tc := range map[string]struct {
		answers map[string]string
		used    float64
		outcome model.CareOutcome
		due     bool
		planned string
	}{
		"as many as came out": {answers: map[string]string{"fresh": "4"}, used: 4,
			outcome: model.OutcomeDone, planned: "4"},
		"some old ones went back": {answers: map[string]string{"old": "some go back in",
			"wraps": "3", "fresh": "4"}, used: 3, outcome: model.OutcomeDone, planned: "3"},
		"fewer": {answers: map[string]string{"lid": "fewer packs in, closed", "fewer": "1"}, used: 1,
			outcome: model.OutcomePart, due: true},
	} {
		t.Run(name, func(t *testing.T) {
			r := packs(t, tc.answers)
			var used float64
			var outcome model.CareOutcome
			due, planned, found := false, "", ""
			for _, e := range r.J.Entries {
				switch {
				case e.Stock != nil && e.Stock.Part == "desiccant":
					used -= e.Stock.Change
				case e.Care != nil && e.Care.Procedure == "desiccant":
					outcome, due = e.Care.Outcome, false
				case e.Due != nil && e.Due.Procedure == "desiccant":
					due = true
				case e.Kind == model.KindMachine:
					planned = e.Fact.Machine.Settings["counted:desiccant/desiccant"]
				case e.Finding != nil && e.Finding.Procedure == "desiccant":
					found += e.Finding.Text
				}
			}
			if used != tc.used || outcome != tc.outcome || due != tc.due || planned != tc.planned {
				t.Errorf("%v packs booked, %s, due %t, planned %q", used, outcome, due, planned)
			}
			if tc.due && !strings.Contains(found, "order the rest") {
				t.Errorf("what is missing is found nowhere: %q", found)
			}
		})
	}
}

// TestPlannedAsCounted: a machine whose packs were counted is planned, and its drawer forecast, with
// as many.
func TestPlannedAsCounted(t *testing.T) {
	p := library(t).Get("desiccant")
	fs := model.NewFeatureSet("changer")
	for kept, want := range map[string]float64{"": 2, "4": 4, "a few": 2} {
		set := map[string]string{"counted:desiccant/desiccant": kept}
		if got := p.For(fs, set).Supplies[0].Quantity; got != want {
			t.Errorf("%q counted: %v planned, want %v", kept, got, want)
		}
	}
}

// TestWhatPaperSaysWasCountedInIsBooked: told from paper, the drawer loses what the paper says went
// in.
func TestWhatPaperSaysWasCountedInIsBooked(t *testing.T) {
	r := onPaper(t, "desiccant")
	tell(t, r)
	var counted, used float64
	for _, e := range r.J.Entries {
		switch {
		case e.Walk != nil && e.Walk.Step == "fresh" && e.Walk.Number != nil:
			counted = *e.Walk.Number
		case e.Stock != nil && e.Stock.Part == "desiccant":
			used -= e.Stock.Change
		}
	}
	if used != counted || counted == 0 {
		t.Errorf("the paper says %v packs, %v are booked", counted, used)
	}
}
