package action

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
)

// mostMeant is how many symptoms a word may mean and they are still named.
const mostMeant = 5

// FindSymptom finds a symptom by the beginning of its id, or by everyday words for it: a whole name
// first, else what the words are found in. A word that is both, as ring is of ringing, means that
// one; where it is an everyday name of one symptom and begins another's id, both are named, for one
// of them may be a stop. What machine m cannot show is not meant, and is refused where it is named;
// m may be nil.
func FindSymptom(t *symptom.Table, m *model.Machine, word string) (*symptom.Symptom, error) {
	if s := t.Get(folded(word)); s != nil {
		return shownBy(m, s)
	}
	meant, begun := t.Called(word), beginning(t, word)
	if len(begun) == 1 && slices.Contains(meant, begun[0]) {
		return shownBy(m, begun[0])
	}
	for _, s := range begun {
		if !slices.Contains(meant, s) {
			meant = append(meant, s)
		}
	}
	if len(meant) == 0 {
		meant = t.Search(word)
	}
	if can := slices.DeleteFunc(slices.Clone(meant), func(s *symptom.Symptom) bool {
		return !s.On(m)
	}); len(can) > 0 {
		meant = can
	}
	switch {
	case len(meant) == 0:
		return nil, fmt.Errorf("there is no symptom %q: oilcan symptom lists them all", word)
	case len(meant) == 1:
		return shownBy(m, meant[0])
	case len(meant) > mostMeant:
		meant = meant[:mostMeant]
	}
	var ids []string
	for _, s := range meant {
		ids = append(ids, s.ID)
	}
	return nil, fmt.Errorf("%q may be %s: type one of them", word, strings.Join(ids, ", "))
}

// shownBy gives the symptom where the machine can show it.
func shownBy(m *model.Machine, s *symptom.Symptom) (*symptom.Symptom, error) {
	if s.On(m) {
		return s, nil
	}
	return nil, fmt.Errorf(
		"%s cannot show %q: its features have no %s; oilcan machine edit adds one", m.Name, s.Title,
		strings.Join(model.Words(slices.Concat(s.Needs, s.NeedsAny)), " and no "))
}

// beginning gives the symptoms whose id a word begins.
func beginning(t *symptom.Table, word string) []*symptom.Symptom {
	var out []*symptom.Symptom
	for i := range t.Symptoms {
		if w := folded(word); w != "" && strings.HasPrefix(t.Symptoms[i].ID, w) {
			out = append(out, &t.Symptoms[i])
		}
	}
	return out
}

// FindAnswer finds an answer a symptom can have on a machine, or on any where m is nil: by its
// number, from 1, or by the unambiguous beginning of its words; "don't know" and "" are the answer
// that says nothing.
func FindAnswer(s *symptom.Symptom, m *model.Machine, word string) (string, error) {
	word = strings.TrimSpace(word)
	answers := s.AnswersOn(m)
	words := make([]string, 0, len(answers)+1)
	for _, a := range answers {
		words = append(words, a.Is)
	}
	if n, err := model.ReadCount(word, "", len(words)+1); err == nil && n >= 1 {
		return append(words, "")[n-1], nil
	}
	switch {
	case word == "" || word == "-":
		return "", nil
	case len(words) == 0:
		return "", fmt.Errorf("%s asks nothing: leave the answer out", s.ID)
	}
	found, err := Find("answer", word, append(words, "don't know"))
	if found == "don't know" {
		found = ""
	}
	return found, err
}

// CauseOf finds the care whose outcome on a symptom is to be counted: a procedure that names the
// symptom, or the full part of a look that does.
func CauseOf(s *symptom.Symptom, procs []*model.Procedure, word string) (string, error) {
	if s.Stop {
		return "",
			fmt.Errorf("%q is a stop, and no care of one's own: close its finding when it was put right", s.Title)
	}
	var ids []string
	for _, p := range procs {
		if slices.ContainsFunc(p.Symptoms, func(c model.Cure) bool { return c.Name == s.ID }) {
			ids = append(ids, p.ID)
		}
	}
	for _, h := range s.Hand {
		ids = append(ids, h.ID)
	}
	return Find("care for "+s.ID, strings.TrimSuffix(word, "-look"), ids)
}
