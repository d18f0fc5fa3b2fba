// Package symptom ranks the care that may cure what a person sees, for one machine. It is pure: the
// table of symptoms, the procedures, the machine and the time come in.
//
// Each care is a cause. It starts with its weight for the symptom (high, medium and low count 5, 3
// and 1), and what is known of it multiplies that, one likelihood ratio each:
//
//   - how far its gauge is used up (prior in weight.go);
//   - what the journal knows of its subject: done and found good lately, or a finding open (known.go);
//   - what was answered, and which two symptoms stand together (Answer and Pair).
//
// What no care mends is one more cause with a weight of its own (outside.go); it is said first, and
// its share beside those of the care tells how likely cleaning is in vain. The figures are a
// technician's odds and no measurement (all from memory). A bench's own outcomes move the weights.
//
// # What it holds to
//
// procedures/symptoms.toml has what a person sees, what is asked first and what no care cures;
// which care may cure it, and how likely, stands in the care's own file. model/symptom ranks: the
// weights 5, 3, 1 are likelihoods, taken times a prior from how far the gauge is used up, times
// what the journal knows (known.go: found good lately counts little and fades within a fortnight,
// an open finding counts four times), times the factors of answers and pairs (all from memory).
// What no care mends is one more cause with a weight of its own (outside.go), and words are looked
// up in search.go. trade_test.go holds it to calls at the bench (common practice), written before
// the weights were set, after, and by another hand; a change of a weight that loses one of them
// wants a reason. Outcomes move a weight by pseudo-counts of this bench (Moved); they are facts in
// the journal and can be struck. A session begun for a symptom carries it (in the entry that begins
// it); symptom.Pending says whether its outcome is still to be asked: on the session's summary, at
// the next look at the symptoms, and as a line under open until then. Symptoms of fire and shock
// give their page and the tag, never a list, also where only an answer leads there.
//
// What two symptoms say alike of one care is one reason (model/symptom/reason.go). A set-up
// action's reason names the first that could not be done without it, another set-up action too.
package symptom

import (
	"slices"

	"bench/oilcan/model"
)

// Symptom is something seen or heard, and what to ask first.
type Symptom struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Seen  string `json:"seen"` // how it is known
	// everyday words and phrases it is found by, in small letters
	Also    []string `json:"also,omitempty"`
	Ask     string   `json:"ask,omitempty"`     // asked before anything is ranked
	Answers []Answer `json:"answers,omitempty"` // "don't know" is always one more
	// causes no care cures, a sentence each, the likeliest first
	NotCare []Other `json:"not_care"`
	// weight of those together: high, medium or low; medium where empty
	Outside string   `json:"outside,omitempty"`
	Hand    []Hand   `json:"hand,omitempty"`   // what needs no session
	Stop    bool     `json:"stop"`             // fire or shock: nothing but Page is shown
	Page    []string `json:"page,omitempty"`   // of a stop: what to do now, in order
	Normal  string   `json:"normal,omitempty"` // no fault at all: why, and what to do

	// it is offered where the machine may have these
	Needs    []model.Feature `json:"needs,omitempty"`
	NeedsAny []model.Feature `json:"needs_any,omitempty"`
}

// Answer is one answer to a symptom's question.
type Answer struct {
	Is  string `json:"is"`
	Say string `json:"say,omitempty"` // what follows from it at once
	// it is another symptom: that one's page comes instead
	Means string `json:"means,omitempty"`
	First string `json:"first,omitempty"` // the care that comes before anything else
	// care, or Outside -> likelihood ratio, above 0; 1 where not named
	Factor map[string]float64 `json:"factor,omitempty"`

	// it is offered where the machine may have these
	Needs    []model.Feature `json:"needs,omitempty"`
	NeedsAny []model.Feature `json:"needs_any,omitempty"`
}

// Other is a cause no care cures, and the machines it can be the cause on.
type Other struct {
	Say      string          `json:"say"`
	Needs    []model.Feature `json:"needs,omitempty"`
	NeedsAny []model.Feature `json:"needs_any,omitempty"`
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

// IDs gives the id of every symptom.
func (t *Table) IDs() []string {
	var out []string
	for _, s := range t.Symptoms {
		out = append(out, s.ID)
	}
	return out
}

// On tells whether a machine may show the symptom; true where m is nil.
func (s *Symptom) On(m *model.Machine) bool { return mayHave(m, s.Needs, s.NeedsAny) }

// Answer gives an answer of the symptom by its words, nil where it has no such.
func (s *Symptom) Answer(is string) *Answer {
	for i := range s.Answers {
		if s.Answers[i].Is == is {
			return &s.Answers[i]
		}
	}
	return nil
}

// AnswersOn gives the answers that can hold on a machine; all of them where m is nil. What nobody
// knows of the machine's build hides nothing.
func (s *Symptom) AnswersOn(m *model.Machine) []Answer {
	var out []Answer
	for _, a := range s.Answers {
		if mayHave(m, a.Needs, a.NeedsAny) {
			out = append(out, a)
		}
	}
	return out
}

// mayHave tells whether a machine has what is needed, or may: of an exclusive group of which none
// is known it may have any.
func mayHave(m *model.Machine, needs, anyOf []model.Feature) bool {
	if m == nil {
		return true
	}
	fs := model.NewFeatureSet(m.Features...)
	for _, group := range fs.UnknownGroups(slices.Concat(needs, anyOf)) {
		for _, f := range group {
			fs[f] = true
		}
	}
	p := model.Procedure{Needs: needs, NeedsAny: anyOf}
	return p.Fits(fs)
}

// Weights are what the words high, medium and low count as (from memory).
var Weights = map[string]float64{"high": 5, "medium": 3, "low": 1}

// grades are the words from the lowest.
var grades = []string{"low", "medium", "high"}

// raised is the next higher grade, or the highest.
func raised(grade string) string {
	return grades[min(len(grades)-1, slices.Index(grades, grade)+1)]
}
