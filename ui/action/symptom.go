package action

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
)

// FindSymptom finds a symptom by the unambiguous beginning of one of its names.
func FindSymptom(t *symptom.Table, word string) (*symptom.Symptom, error) {
	name, err := Find("symptom", word, t.Names())
	var unknown *unknownWord
	if errors.As(err, &unknown) {
		return nil, fmt.Errorf("there is no symptom %q: oilcan symptom lists them all", word)
	}
	if err != nil {
		return nil, err
	}
	return t.Named(name), nil
}

// FindAnswer finds an answer of a symptom by its number, from 1, or by the unambiguous beginning of its
// words; "don't know" and "" are the answer that says nothing.
func FindAnswer(s *symptom.Symptom, word string) (string, error) {
	word = strings.TrimSpace(word)
	words := make([]string, 0, len(s.Answers)+1)
	for _, a := range s.Answers {
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

// CauseOf finds the care whose outcome on a symptom is to be counted: a procedure that names the symptom, or
// the full part of a look that does.
func CauseOf(s *symptom.Symptom, procs []*model.Procedure, word string) (string, error) {
	if s.Stop {
		return "", fmt.Errorf("%s is a stop, and no care of one's own: close its finding when it was put right", s.ID)
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
