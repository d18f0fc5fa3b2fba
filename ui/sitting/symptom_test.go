package sitting

import (
	"testing"

	"bench/oilcan/model"
)

func TestOutcomeQuestion(t *testing.T) {
	for _, x := range []struct {
		name string
		c    model.Complaint
		want string
	}{
		{"the care itself", model.Complaint{Symptoms: []string{"stringing"}, Procedure: "dry-filament", Start: "dry-filament"}, "Did dry-filament cure it: stringing?"},
		{"begun before a start was kept", model.Complaint{Symptoms: []string{"ringing", "layer-shift"}, Procedure: "belts-reset"}, "Did belts-reset cure it: ringing and layer-shift?"},
		{"its look first", model.Complaint{Symptoms: []string{"layer-shift"}, Procedure: "pulley-screws", Start: "pulley-screws-look"}, "Is it cured, after pulley-screws or its look: layer-shift?"},
	} {
		if got := OutcomeQuestion(model.Complained{Complaint: x.c}); got != x.want {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}
