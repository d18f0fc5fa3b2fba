// Package symptom ranks the care that may cure what a person sees, for one machine. It is pure: the table
// of symptoms, the procedures, the machine and the time come in.
//
// The weights are a technician's odds and no measurement, and so is every figure here (from memory):
// high, medium and low count 5, 3 and 1. A bench's own outcomes move them.
package symptom

import (
	"slices"

	"bench/oilcan/model"
)

// Symptom is something seen or heard, and what to ask first.
type Symptom struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Seen    string   `json:"seen"`              // how it is known
	Also    []string `json:"also,omitempty"`    // other names it is found by
	Ask     string   `json:"ask,omitempty"`     // asked before anything is ranked
	Answers []Answer `json:"answers,omitempty"` // "don't know" is always one more
	NotCare []string `json:"not_care"`          // causes no care cures, a sentence each
	Hand    []Hand   `json:"hand,omitempty"`    // what needs no session
	Stop    bool     `json:"stop"`              // fire or shock: nothing but Page is shown
	Page    []string `json:"page,omitempty"`    // of a stop: what to do now, in order
	Normal  string   `json:"normal,omitempty"`  // no fault at all: why, and what to do
}

// Answer is one answer to a symptom's question.
type Answer struct {
	Is     string             `json:"is"`
	Say    string             `json:"say,omitempty"`    // what follows from it at once
	Means  string             `json:"means,omitempty"`  // it is another symptom: that one's page comes instead
	First  string             `json:"first,omitempty"`  // the care that comes before anything else
	Factor map[string]float64 `json:"factor,omitempty"` // care -> likelihood ratio, above 0; 1 where not named
}

// Hand is something done by hand at once: no procedure, no session.
type Hand struct {
	ID       string          `json:"id"`
	Do       string          `json:"do"`
	Weight   string          `json:"weight"`
	HandsOn  float64         `json:"handson"` // minutes
	Needs    []model.Feature `json:"needs,omitempty"`
	NeedsAny []model.Feature `json:"needs_any,omitempty"`
}

// Pair is two symptoms that say more together.
type Pair struct {
	Both    [2]string          `json:"both"`
	Answers map[string]string  `json:"answers,omitempty"` // symptom -> the answer it holds with
	Say     string             `json:"say"`
	Factor  map[string]float64 `json:"factor,omitempty"` // as in Answer
}

// Table is all symptoms and pairs.
type Table struct {
	Symptoms []Symptom
	Pairs    []Pair
}

// Get gives a symptom by id, nil where there is none.
func (t *Table) Get(id string) *Symptom {
	for i := range t.Symptoms {
		if t.Symptoms[i].ID == id {
			return &t.Symptoms[i]
		}
	}
	return nil
}

// Names gives every id and, after them, every other name.
func (t *Table) Names() []string {
	var ids, also []string
	for _, s := range t.Symptoms {
		ids = append(ids, s.ID)
		also = append(also, s.Also...)
	}
	return append(ids, also...)
}

// Named gives a symptom by its id or another of its names, nil where there is none.
func (t *Table) Named(name string) *Symptom {
	for i := range t.Symptoms {
		if s := &t.Symptoms[i]; s.ID == name || slices.Contains(s.Also, name) {
			return s
		}
	}
	return nil
}

// Answer gives an answer of the symptom by its words, nil where it has no such.
func (s *Symptom) Answer(is string) *Answer {
	for i := range s.Answers {
		if s.Answers[i].Is == is {
			return &s.Answers[i]
		}
	}
	return nil
}

// Weights are what the words high, medium and low count as (from memory).
var Weights = map[string]float64{"high": 5, "medium": 3, "low": 1}

// grades are the words from the lowest.
var grades = []string{"low", "medium", "high"}

// raised is the next higher grade, or the highest.
func raised(grade string) string {
	return grades[min(len(grades)-1, slices.Index(grades, grade)+1)]
}
