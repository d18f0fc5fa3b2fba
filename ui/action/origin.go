package action

import (
	"fmt"
	"strings"
	"time"

	"bench/oilcan/model"
)

// OriginHint says what can be answered to how a machine came to the bench, and what hangs on it.
const OriginHint = "new (out of its box, counters at 0), the day it was bought new (2026-03), or used: nothing in it is then older than it. Empty where a counter was replaced, or nobody knows."

// StartingSet is a kind of machine to begin the description of a new one with.
type StartingSet struct {
	Name     string // as it is typed
	Says     string // by its mechanism
	Features []model.Feature
}

// StartingSets are equal: each is named by what moves and what stands round it, none by who makes
// it.
var StartingSets = []StartingSet{
	{"enclosed-changer", "enclosed, crossed belts, bed lifts, with a changer",
		[]model.Feature{"enclosed", "corexy", "z-screw", "changer"}},
	{"enclosed", "enclosed, crossed belts, bed lifts, no changer",
		[]model.Feature{"enclosed", "corexy", "z-screw"}},
	{"moving-bed", "open, the bed goes to and fro, on V-groove wheels",
		[]model.Feature{"open-frame", "bedslinger", "rollers", "z-screw"}},
	{"rails", "open, crossed belts, on ball rails",
		[]model.Feature{"open-frame", "corexy", "rails"}},
	{"bare", "another kind: nothing is taken for granted", nil},
}

// FindStartingSet finds one by the beginning of its name, or its place among them from 1.
func FindStartingSet(word string) (StartingSet, error) {
	var names []string
	for _, s := range StartingSets {
		names = append(names, s.Name)
	}
	if n, err := model.ReadCount(word, "", len(names)); err == nil && n > 0 {
		return StartingSets[n-1], nil
	}
	name, err := Find("starting set", word, names)
	for _, s := range StartingSets {
		if s.Name == name {
			return s, err
		}
	}
	return StartingSet{}, err
}

// Origin is how a machine came to the bench: what bounds the age of its parts.
type Origin struct {
	New      bool      // out of its box today: its counters stand at 0
	Bought   time.Time // the day it was bought new; zero where it was not, or nobody knows
	Recounts bool      // a counter was replaced, or nobody knows: they do not tell its age
}

// ReadOrigin reads new, used, the day a machine was bought new, or replaced, which nothing typed
// stands for too.
func ReadOrigin(text string, now time.Time) (Origin, error) {
	said := strings.ToLower(strings.TrimSpace(text))
	switch said {
	case "", "-", "?", "replaced", "unknown", "not known", "don't know":
		return Origin{Recounts: true}, nil
	case "used":
		return Origin{}, nil
	case "new":
		return Origin{New: true, Bought: now}, nil
	}
	when, used := strings.TrimSpace(text), false
	for _, word := range []string{"used ", "bought ", "new ", "in ", "on ", "since "} {
		if len(when) > len(word) && strings.EqualFold(when[:len(word)], word) {
			when, used = when[len(word):], used || word == "used "
		}
	}
	at, err := Time(when, now)
	if err != nil {
		return Origin{}, fmt.Errorf(
			"how it came is new, used, or the day or month it was bought new, as 2026-03: %w", err)
	}
	if used {
		return Origin{}, nil // since when does not bound the age of a part
	}
	return Origin{Bought: at}, nil
}

// With gives the description with how the machine came.
func (o Origin) With(f model.MachineFact) model.MachineFact {
	f.Bought, f.Recounts = o.Bought, o.Recounts
	return f
}

// OriginOf is how a machine came, as it is typed, with the day in the zone of now.
func OriginOf(f model.MachineFact, now time.Time) string {
	switch {
	case f.Recounts:
		return ""
	case f.Bought.IsZero():
		return "used"
	}
	return model.Day(f.Bought, now)
}

// CountsChanges tells whether a machine is one whose filament changes wear something.
func CountsChanges(fs model.FeatureSet) bool { return fs["changer"] || fs["cutter"] }

// Readings are what the counters of a machine out of its box show: 0, of those that are asked for.
func (o Origin) Readings(fs model.FeatureSet) []model.Reading {
	if !o.New {
		return nil
	}
	out := []model.Reading{{Meter: model.Hours, How: "start"}}
	if CountsChanges(fs) {
		out = append(out, model.Reading{Meter: model.Changes, How: "start"})
	}
	return out
}
