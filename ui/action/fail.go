package action

import (
	"errors"
	"fmt"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
)

// OtherReason is the word for why a print failed where no symptom is it.
const OtherReason = "other"

// FailReasons are the symptoms prints fail by most (common practice), with a letter and a few words
// each, the same on every machine so that fingers learn them.
var FailReasons = []struct{ Key, Symptom, Says string }{
	{"f", "first-layer-not-sticking", "first layer came off"}, {"w", "warping", "warped"},
	{"l", "layer-shift", "layers shifted"}, {"c", "under-extrusion", "clogged, too little came"},
	{"n", "changer-feed-failure", "no filament fed"}, {"j", "heat-creep-jam", "jammed with time"},
	{"b", "nozzle-blob", "blob at the nozzle"}, {"s", "stringing", "strings"},
	{"p", "power-resets", "restarted by itself"},
}

// Failed is the fact of a print that failed on a machine. why is a symptom, by the beginning of its
// id or everyday words for it, or other, which wants a note in the person's words.
func Failed(t *symptom.Table, m *model.Machine, why, note string) (model.Fact, error) {
	f := &model.PrintFailed{}
	if folded(why) != OtherReason {
		s, err := FindSymptom(t, m, why)
		switch {
		case err != nil && len(t.Search(why)) == 0:
			return model.Fact{}, fmt.Errorf("%w, and %s with a note says anything else", err,
				OtherReason)
		case err != nil:
			return model.Fact{}, err
		case s.Stop:
			return model.Fact{}, fmt.Errorf(
				"%q stops the machine, before any record: oilcan symptom %s says what to do now",
				s.Title,
				s.ID)
		}
		f.Symptom = s.ID
	}
	if f.Symptom == "" && note == "" {
		return model.Fact{},
			errors.New("another reason needs a note: say in a few words what was seen")
	}
	if note != "" {
		var err error
		if f.Note, err = Text("the note", note); err != nil {
			return model.Fact{}, err
		}
	}
	return model.Fact{Kind: model.KindFailed, Failed: f}, nil
}
