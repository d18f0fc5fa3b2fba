package session

import (
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/procedures"
)

// What a plan leaves for another day is heard where the state is said that keeps it out of reach,
// though nobody answers the planning: a bed that stands high on a machine without power.
func TestWhatIsLeftIsHeard(t *testing.T) {
	now := ten
	d, m := bench(t, procedures.Open(""), model.MachineFact{ID: "m1"}, &now)
	stop := model.Fact{Kind: model.KindTag,
		Tag: &model.TagMove{Kind: model.TagStopped, Why: "brown plug"}}
	if _, err := d.Store.Append(
		model.Action{At: now, Machine: m.ID, Facts: []model.Fact{stop}}); err != nil {
		t.Fatal(err)
	}
	s := begin(t, d, machine(t, d, m.ID), Choice{}, now)
	settle(t, s, now)
	heard := ""
	for p := s.W.Prompt(now); p.Kind == walk.AskState; p = s.W.Prompt(now) {
		text := map[model.Variable]string{model.Power: "off", model.Heat: "20",
			model.Bed: "high"}[p.Variable]
		if text == "" {
			text = p.Options[0]
		}
		r, err := s.Answer(text, now)
		if err != nil {
			t.Fatal(err)
		}
		heard += r.Note
	}
	if !strings.Contains(heard, "Left for another day: ") ||
		!strings.Contains(heard, "Look over mains lead") {
		t.Errorf("heard: %q", heard)
	}
}
