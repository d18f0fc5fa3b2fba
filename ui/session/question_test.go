package session

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/procedures"
)

// TestGroupsAreAskedInWords: nobody is asked for "bush-ball"; the words that are shown are taken as
// answers, and so are the names that commands know.
func TestGroupsAreAskedInWords(t *testing.T) {
	for _, g := range model.ExclusiveGroups {
		q := Question{Group: g, Ask: groupQuestion(g)}
		words := q.Words()
		if len(words) != len(g)+1 || words[len(g)] != DontKnow {
			t.Fatalf("%v is asked with %v", g, words)
		}
		for i, f := range g {
			if slices.Contains(words, string(f)) || strings.Contains(string(f), "-") &&
				strings.Contains(q.Ask, string(f)) {
				t.Errorf("%s is asked for by its id: %q, %v", f, q.Ask, words)
			}
			for _, answer := range []string{words[i], string(f)} {
				if got, err := q.Answer(model.MachineFact{}, answer); err != nil ||
					!slices.Contains(got.Features, f) {
					t.Errorf("%q gives %v, %v", answer, got.Features, err)
				}
			}
		}
		if _, err := q.Answer(model.MachineFact{}, "perhaps"); err == nil ||
			!strings.Contains(err.Error(), words[0]) {
			t.Errorf("a wrong answer to %v: %v", g, err)
		}
	}
}

// TestWhatMayJoinIsAskedFor: where an answer may let care join that fits no machine of which its
// features are not known, they are asked for before the session, not found wanting in it.
func TestWhatMayJoinIsAskedFor(t *testing.T) {
	d := Desk{Lib: procedures.Open("")}
	asked := func(fs ...model.Feature) bool {
		m := &model.Machine{MachineFact: model.MachineFact{Features: fs}}
		p := &plan.Plan{Sequence: []plan.Item{{Kind: model.BlockCare, ID: "belt-tone"}}}
		return slices.ContainsFunc(d.Questions(m, p), func(q Question) bool {
			return slices.Contains(q.Group, "belt-manual")
		})
	}
	if !asked("enclosed", "corexy") {
		t.Error("how the belts are tensioned is not asked, and their reset cannot join")
	}
	if asked("enclosed", "corexy", "belt-manual") {
		t.Error("it is asked although it is known")
	}
}

// TestEveryNumberMayBeLeftOpen: who does not know how many there are is not made to guess; an empty
// line is no such answer.
func TestEveryNumberMayBeLeftOpen(t *testing.T) {
	lib := procedures.Open("")
	for _, p := range append(lib.All(), lib.SetUps()...) {
		for _, s := range p.Settings {
			if !s.Number {
				continue
			}
			q := Question{Setting: &s}
			f, err := q.Answer(model.MachineFact{}, "Don't know")
			if kept, asked := f.Settings[s.Name]; err != nil || !asked || kept != "" {
				t.Errorf("%s of %s: %q, asked again %t, %v", s.Name, p.ID, kept, !asked, err)
			}
			if f, err = q.Answer(model.MachineFact{}, ""); err == nil && f.Settings[s.Name] == "" {
				t.Errorf("%s of %s: an empty line leaves it open", s.Name, p.ID)
			}
		}
	}
}
