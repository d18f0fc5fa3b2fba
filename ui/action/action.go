// Package action turns what a person says — a swap, a reading, care done, a new machine — into the
// facts to be written, or into one sentence why it cannot be so. It is pure: the bench, the
// procedures and the time come in, and writing is left to the caller, so that commands and screens
// log alike.
//
// # What it holds to
//
//   - A machine left with limits or out of use carries a finding; closing it clears the tag. A tag
//     can be cleared by itself too (machine edit --clear-tag, 5 on the machine's page), which
//     closes its findings; a stopped machine must be named in full for it. The tag of a session
//     given up only goes with a session.
//   - A new machine is asked at most twelve things (FeatureQuestion.Later leaves the rest to the
//     session that needs it); from a to the bench 12 questions and 14 keys beside what is typed
//     for one with a changer and 1,200 h.
package action

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"bench/oilcan/model"
)

// maxText is how many characters a typed text may have.
const maxText = 500

// Text checks a text a person typed: not empty, no control characters, at most 500 characters. what
// names it in the sentence: "a reason".
func Text(what, s string) (string, error) {
	s = strings.TrimSpace(s)
	switch {
	case s == "":
		return "", fmt.Errorf("%s is needed: write it in a few words", what)
	case !model.Showable(s):
		return "", fmt.Errorf(
			"%s holds characters that cannot be shown: use letters, digits and spaces", what)
	case utf8.RuneCountInString(s) > maxText:
		return "", fmt.Errorf("%s has %d characters: at most %d fit", what,
			utf8.RuneCountInString(s), maxText)
	}
	return s, nil
}

// Find finds a word of a list by its unambiguous beginning; capitals do not matter, and a hyphen
// may stand for a space. what names the list in the sentence: "part".
func Find(what, word string, list []string) (string, error) {
	key := folded(word)
	var found []string
	for _, w := range list {
		switch {
		case folded(w) == key:
			return w, nil
		case key != "" && strings.HasPrefix(folded(w), key):
			found = append(found, w)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return "", fmt.Errorf("%q may be %s: type more of it", word, strings.Join(found, ", "))
	}
	if near := model.Nearest(key, foldedAll(list)); near != "" {
		return "", fmt.Errorf("there is no %s %q: did you mean %s", what, word,
			list[slices.Index(foldedAll(list), near)])
	}
	return "", &unknownWord{what, word, list}
}

// unknownWord is a word that is on no list, and near to none of it.
type unknownWord struct {
	what, word string
	list       []string
}

func (e *unknownWord) Error() string {
	if len(e.list) == 0 {
		return fmt.Sprintf("there is no %s %q", e.what, e.word)
	}
	return fmt.Sprintf("there is no %s %q: there are %s", e.what, e.word,
		strings.Join(e.list, ", "))
}

func folded(s string) string {
	return strings.ReplaceAll(strings.ToLower(strings.TrimSpace(s)), " ", "-")
}

func foldedAll(list []string) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = folded(w)
	}
	return out
}

// FindProcedure finds care by its id, what its gauge is called or its whole title, or by the
// unambiguous beginning of one of the first two, the id's first. Set-up actions are not among them.
func FindProcedure(procs []*model.Procedure, word string) (*model.Procedure, error) {
	var ids, called []string
	for _, p := range procs {
		ids, called = append(ids, p.ID), append(called, p.Called())
	}
	if !slices.Contains(foldedAll(ids), folded(word)) {
		if i := slices.Index(foldedAll(called), folded(word)); i >= 0 {
			return procs[i], nil
		}
		if i := slices.IndexFunc(procs, func(p *model.Procedure) bool {
			return folded(p.Title) == folded(word)
		}); i >= 0 {
			return procs[i], nil
		}
	}
	id, err := Find("procedure", word, ids)
	if err == nil {
		return procs[slices.Index(ids, id)], nil
	}
	if !slices.ContainsFunc(foldedAll(ids), func(id string) bool {
		return strings.HasPrefix(id, folded(word))
	}) {
		if name, err := Find("gauge", word, called); err == nil {
			return procs[slices.Index(called, name)], nil
		}
	}
	var unknown *unknownWord
	if errors.As(err, &unknown) { // the whole library in one sentence helps nobody
		return nil, fmt.Errorf("there is no procedure %q: oilcan procedures list names them all",
			word)
	}
	return nil, err
}
