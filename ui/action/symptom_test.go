package action

import (
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
)

// TestFindSymptom: a beginning of an id, a whole everyday name, or words; what may be two is asked,
// above all where one of them is a stop.
func TestFindSymptom(t *testing.T) {
	for word, want := range map[string]string{
		"ring": "ringing", "string": "stringing", "homing": "homing-error",
		"layer-s": "layer-shift", "FAN": "loud-fan",
		"scorch": "scorch-smell", "fire": "scorch-smell", "case": "case-tingle",
		"runaway heat": "temperature-fault",
	} {
		if s, err := FindSymptom(procedures.Symptoms(), nil, word); err != nil || s.ID != want {
			t.Errorf("%q: %v %v, want %s", word, s, err, want)
		}
	}
	for word, want := range map[string][]string{
		"break":  {"brittle-filament", "breaker-trips"},
		"fogged": {"fogged-camera", "fogged-sensor"}, "rings": {"ringing", "z-banding"},
		"smell": {"odour", "scorch-smell"}, "purring": {"there is no symptom"},
	} {
		s, err := FindSymptom(procedures.Symptoms(), nil, word)
		for _, w := range want {
			if s != nil || err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("%q: %v %v, want %s named", word, s, err, w)
			}
		}
	}
}

// TestASymptomIsOfAMachineThatCanShowIt: what a machine has none of is neither meant by a word nor
// taken by its name.
func TestASymptomIsOfAMachineThatCanShowIt(t *testing.T) {
	plain, full := &model.Machine{}, &model.Machine{}
	plain.Name, plain.Features, full.Features = "Wren", []model.Feature{"open-frame",
		"bedslinger"}, model.FullFeatures
	if s, err := FindSymptom(procedures.Symptoms(), plain, "jam"); err != nil ||
		s.ID != "heat-creep-jam" {
		t.Errorf("a jam without a changer: %v %v", s, err)
	}
	for id, lacks := range map[string]string{"changer-feed-failure": "changer",
		"fails-to-cut": "cutter", "fogged-camera": "camera",
		"fogged-sensor": "layer-sensor", "door-or-top-not-detected": "top-panel"} {
		if _, err := FindSymptom(procedures.Symptoms(), plain, id); err == nil ||
			!strings.Contains(err.Error(), lacks) {
			t.Errorf("%s on a machine without: %v", id, err)
		}
		if s, err := FindSymptom(procedures.Symptoms(), full, id); err != nil || s.ID != id {
			t.Errorf("%s on a machine with: %v", id, err)
		}
	}
	for _, s := range procedures.Symptoms().Symptoms {
		if s.Stop && !s.On(plain) {
			t.Errorf("the stop %s is not offered on every machine", s.ID)
		}
	}
}
