package action

import (
	"strings"
	"testing"

	"bench/oilcan/procedures"
)

// TestFindSymptom: a beginning of an id, a whole everyday name, or words; what may be two is asked, above all
// where one of them is a stop.
func TestFindSymptom(t *testing.T) {
	for word, want := range map[string]string{
		"ring": "ringing", "string": "stringing", "homing": "homing-error", "layer-s": "layer-shift", "FAN": "loud-fan",
		"scorch": "scorch-smell", "fire": "scorch-smell", "case": "case-tingle", "runaway heat": "temperature-fault",
	} {
		if s, err := FindSymptom(procedures.Symptoms(), word); err != nil || s.ID != want {
			t.Errorf("%q: %v %v, want %s", word, s, err, want)
		}
	}
	for word, want := range map[string][]string{
		"break": {"brittle-filament", "breaker-trips"}, "fogged": {"fogged-camera", "fogged-sensor"}, "rings": {"ringing", "z-banding"},
		"smell": {"odour", "scorch-smell"}, "purring": {"there is no symptom"},
	} {
		s, err := FindSymptom(procedures.Symptoms(), word)
		for _, w := range want {
			if s != nil || err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("%q: %v %v, want %s named", word, s, err, w)
			}
		}
	}
}
