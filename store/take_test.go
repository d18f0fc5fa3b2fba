package store

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
)

// TestTakingInHoldsToTheRules: what no person can type is not taken in from another bench either.
func TestTakingInHoldsToTheRules(t *testing.T) {
	for _, x := range breaches(t) {
		t.Run(x.name, func(t *testing.T) {
			s, _ := newStore(t)
			from, _ := newStore(t)
			id := addMachine(t, from, "Anvil")
			if x.good.Kind == model.KindMachine {
				id = ""
			}
			mustAppend(t, from, model.Action{Machine: id, Facts: []model.Fact{x.good}})
			entries := mustEntries(t, from, Filter{})
			last := len(entries) - 1
			data, err := json.Marshal(entries[last])
			if err != nil {
				t.Fatal(err)
			}
			bad := strings.Replace(string(data), x.from, x.to, 1)
			if bad == string(data) {
				t.Fatalf("%s is not in %s", x.from, data)
			}
			entries[last] = model.Entry{}
			if err := json.Unmarshal([]byte(bad), &entries[last]); err != nil {
				t.Fatal(err)
			}
			if _, err := s.TakeIn(entries, nil); !errors.Is(err, ErrRefused) {
				t.Errorf("taken in: %v", err)
			}
			if n := len(mustEntries(t, s, Filter{})); n != 0 {
				t.Errorf("%d entries were written", n)
			}
		})
	}
}

// TestTakingInKeepsWhatWasSaidLate: facts told late, struck and put back, findings closed and a
// session walked fold alike on the other bench, whatever its clock shows.
func TestTakingInKeepsWhatWasSaidLate(t *testing.T) {
	from, c := newStore(t)
	id := addMachine(t, from, "Anvil")
	mustAppend(t, from, model.Action{Machine: id, Facts: []model.Fact{reading(model.Hours, 12)}})
	mustAppend(t, from, model.Action{Machine: id, At: c.now().Add(-50 * time.Hour),
		Facts: []model.Fact{care("oil")}})
	es := mustAppend(t, from, model.Action{Machine: id, Facts: []model.Fact{swap("blade",
		model.EndWorn), used("blade", 1)}})
	again := mustAppend(t, from, model.Action{Facts: []model.Fact{strike(es[0].Action)}})
	mustAppend(t, from, model.Action{Facts: []model.Fact{strike(again[0].Action)}})
	_, session := begin(t, from, "Brass")
	mustAppend(t, from, model.Action{Session: session, Ordinal: 2,
		Facts: []model.Fact{step("passed", "step 2 of 9")}})
	entries := mustEntries(t, from, Filter{})
	texts := map[string][]byte{}
	for _, e := range entries {
		for _, hash := range e.Texts() {
			text, err := from.Text(hash)
			if err != nil {
				t.Fatal(err)
			}
			texts[hash] = text
		}
	}
	s, _ := newStore(t)
	for _, want := range []Taken{{New: len(entries)}, {Known: len(entries)}} {
		if got, err := s.TakeIn(entries, texts); err != nil || got != want {
			t.Fatalf("%+v, %v; want %+v", got, err, want)
		}
	}
	if !reflect.DeepEqual(mustEntries(t, s, Filter{}), entries) {
		t.Error("other entries stand there")
	}
	a, err := from.Bench()
	if err != nil {
		t.Fatal(err)
	}
	if b, err := s.Bench(); err != nil || !reflect.DeepEqual(a, b) {
		t.Errorf("it folds to another bench: %v", err)
	}
	if r, err := s.Check(); err != nil || len(r.Problems) > 0 {
		t.Errorf("%v, %v", r.Problems, err)
	}
}
