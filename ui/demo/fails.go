package demo

import (
	"math"
	"slices"
	"time"

	"bench/oilcan/model"
)

// reasons are why prints fail here, and how often of a hundred; a note is there where no symptom is
// it.
var reasons = []struct {
	symptom, note string
	often         int
	needs         model.Feature
}{
	{"first-layer-not-sticking", "", 28, ""}, {"under-extrusion", "", 17, ""},
	{"layer-shift", "", 11, ""}, {"nozzle-blob", "", 11, ""}, {"stringing", "", 9, ""},
	{"warping", "", 10, ""}, {"changer-feed-failure", "", 7, "changer"},
	{"", "the roll ran out in the night", 4, ""}, {"", "the power went", 3, ""},
}

// failures are prints that fail, by chance of their own: more of them the longer the last session
// is ago, as far as the machine's failures come of dirt and wear.
func (k *keeper) failures(add func(time.Time, func(time.Time))) {
	between := float64(k.sitEvery) / 7 * k.hoursWeek // hours from session to session
	for i := k.firstDay(); i < k.cal.index(k.cal.now); i++ {
		day := k.cal.day(i)
		printed := k.use.at(model.Hours, k.cal.day(i+1)) - k.use.at(model.Hours, day)
		at := day.Add(time.Duration(7*60+k.luck.IntN(12*60)) * time.Minute)
		chance, why := k.luck.Float64(), k.luck.IntN(100)
		add(at, func(at time.Time) {
			since := between / 2
			if last := k.m.LastSession; last != nil {
				since = k.use.at(model.Hours, at) - k.use.at(model.Hours, last.At)
			}
			dirt := 2 * math.Pow(min(1.2, since/between), 2)
			rate := k.fails / 100 * (1 - k.dirty + k.dirty*dirt)
			if chance < printed*rate {
				k.fail(at, why)
			}
		})
	}
}

// fail logs a print that failed.
func (k *keeper) fail(at time.Time, why int) {
	f := &model.PrintFailed{}
	for _, r := range reasons {
		if why -= r.often; why >= 0 {
			continue
		}
		if r.needs == "" || slices.Contains(k.m.Features, r.needs) {
			f.Symptom, f.Note = r.symptom, r.note
			break
		}
	}
	if f.Symptom == "" && f.Note == "" {
		f.Symptom = reasons[0].symptom
	}
	k.book(at, "LN", []model.Fact{{Kind: model.KindFailed, Failed: f}})
}
