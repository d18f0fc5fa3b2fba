package session

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/ui/action"
)

func TestOutcomeQuestion(t *testing.T) {
	names := action.Names{Procs: []*model.Procedure{{ID: "dry-filament", Title: "Dry a roll"},
		{ID: "belts-reset", Title: "Reset belt tension"}},
		Symptoms: &symptom.Table{Symptoms: []symptom.Symptom{{ID: "stringing",
			Title: "Strings and hairs"}, {ID: "ringing", Title: "Echoes"}}}}
	for _, x := range []struct {
		name string
		c    model.Complaint
		want string
	}{
		{"the care itself", model.Complaint{Symptoms: []string{"stringing"},
			Procedure: "dry-filament", Start: "dry-filament"},
			`Did "Dry a roll" cure it: "Strings and hairs"?`},
		{"begun before a start was kept",
			model.Complaint{Symptoms: []string{"ringing", "layer-shift"}, Procedure: "belts-reset"},
			`Did "Reset belt tension" cure it: "Echoes" and "layer-shift"?`},
		{"its look first", model.Complaint{Symptoms: []string{"layer-shift"},
			Procedure: "pulley-screws", Start: "pulley-screws-look"},
			`Is it cured, after "pulley-screws" or its look: "layer-shift"?`},
	} {
		if got := OutcomeQuestion(model.Complained{Complaint: x.c}, names); got != x.want {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}
