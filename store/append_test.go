package store

import (
	"testing"

	"bench/oilcan/model"
)

func TestAppendAndReadBack(t *testing.T) {
	s, c := newStore(t)
	id := addMachine(t, s, "Anvil")
	c.toDay(1)
	es := mustAppend(t, s, model.Action{Machine: id, By: "ada", Facts: []model.Fact{reading(model.Hours, 120), swap("blade", "worn", "blade-check"), used("blade", 1)}})
	if len(es) != 3 || es[0].Action != es[2].Action || es[0].Seq != 2 || es[0].ID == es[1].ID {
		t.Errorf("entries written: %+v", es)
	}
	m := mustBench(t, s).Machines[id]
	if m.Name != "Anvil" || m.Readings[model.Hours].Last.Value != 120 || m.Care["blade-check"] == nil || m.Parts["blade"].Since != c.at(1) {
		t.Errorf("machine: %+v", m)
	}
	got, err := s.Entries(Filter{Machine: id})
	if err != nil || len(got) != 4 {
		t.Errorf("entries: %d, %v", len(got), err)
	}
}
