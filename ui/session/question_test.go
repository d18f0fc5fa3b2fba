package session

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// TestGroupsAreAskedInWords: nobody is asked for "bush-ball"; the words that are shown are taken as answers, and so are the
// names that commands know.
func TestGroupsAreAskedInWords(t *testing.T) {
	for _, g := range model.ExclusiveGroups {
		q := Question{Group: g, Ask: groupQuestion(g)}
		words := q.Words()
		if len(words) != len(g)+1 || words[len(g)] != dontKnow {
			t.Fatalf("%v is asked with %v", g, words)
		}
		for i, f := range g {
			if slices.Contains(words, string(f)) || strings.Contains(string(f), "-") && strings.Contains(q.Ask, string(f)) {
				t.Errorf("%s is asked for by its id: %q, %v", f, q.Ask, words)
			}
			for _, answer := range []string{words[i], string(f)} {
				if got, err := q.Answer(model.MachineFact{}, answer); err != nil || !slices.Contains(got.Features, f) {
					t.Errorf("%q gives %v, %v", answer, got.Features, err)
				}
			}
		}
		if _, err := q.Answer(model.MachineFact{}, "perhaps"); err == nil || !strings.Contains(err.Error(), words[0]) {
			t.Errorf("a wrong answer to %v: %v", g, err)
		}
	}
}
