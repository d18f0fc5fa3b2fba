package session

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// What a plan leaves for another day is heard where the state is said that keeps it out of reach, though nobody answers the
// planning: a bed that stands high on a machine without power.
func TestWhatIsLeftIsHeard(t *testing.T) {
	now := time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)
	st, err := store.Open(filepath.Join(t.TempDir(), "b.oilcan"), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	f := model.MachineFact{ID: "m1", Name: "Heron", Duty: model.Home, Features: model.FullFeatures}
	added, err := st.Append(model.Action{At: now, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
	if err != nil {
		t.Fatal(err)
	}
	id := added[0].Machine
	if _, err := st.Append(model.Action{At: now, Machine: id, Facts: []model.Fact{{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagStopped, Why: "brown plug"}}}}); err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	d := Desk{Store: st, Lib: procedures.Open(""), Piped: true}
	c, err := d.Choose(b.Machines[id], Choice{}, now)
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Begin(b.Machines[id], c, now)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Settle(now); err != nil {
		t.Fatal(err)
	}
	heard := ""
	for p := s.W.Prompt(now); p.Kind == walk.AskState; p = s.W.Prompt(now) {
		text := map[model.Variable]string{model.Power: "off", model.Heat: "20", model.Bed: "high"}[p.Variable]
		if text == "" {
			text = p.Options[0]
		}
		r, err := s.Answer(text, now)
		if err != nil {
			t.Fatal(err)
		}
		heard += r.Note
	}
	if !strings.Contains(heard, "Left for another day: ") || !strings.Contains(heard, "Look over mains lead") {
		t.Errorf("heard: %q", heard)
	}
}
