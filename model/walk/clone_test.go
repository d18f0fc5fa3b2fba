package walk_test

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestWhatAnAnswerLeadsToIsAsFoldedAnew: what would follow from an answer is found on a clone of
// the walk. That is in every part what all entries folded anew give, and the walk itself stays as
// it was; whatever is answered, well, wrong and back. Without OILCAN_LONG it is compared at each
// eighth gate.
func TestWhatAnAnswerLeadsToIsAsFoldedAnew(t *testing.T) {
	lib := library(t)
	for _, ids := range [][]string{{"belts-reset", "blade-check"},
		{"feed-path", "plate-wash", "rods-wipe"}, {"gears-blow", "electrical-glance"}} {
		r := begin(t, lib, machine(lib, "full", "lid-changer"), ids...)
		if got := r.W.SharedWithClone(); !slices.Equal(got,
			[]string{"texts", "setups", "features", "opened", "entries"}) {
			t.Errorf("a walk and its clone share %v", got)
		}
		filament := ""
		for n := range 2000 {
			p := r.W.Prompt(r.Now)
			if p.Kind == walk.AskOver {
				break
			}
			if n%40 == 25 {
				filament = r.W.Believed[model.Filament]
				r.Now = r.Now.Add(2 * time.Hour)
				rep, err := r.W.Resume(r.Context())
				if err := r.Take(rep, err); err != nil {
					t.Fatal(err)
				}
				continue
			}
			tries := []string{"back", walktest.Good(r.W, r.Context(), p), "no", "lost",
				"leave no time"}
			if p.Kind == walk.AskStep {
				tries = append(tries, wrongAnswers(r, p.Step)...)
			}
			for _, text := range tries {
				if n%each(8) == 0 {
					sameBothWays(t, r, text)
				}
			}
			if p.Kind == walk.AskStep && n%7 == 3 {
				say(t, r, tries[len(tries)-1])
				continue
			}
			if p.Kind == walk.AskState && p.Variable == model.Filament && filament != "" {
				// who loads it in every break unloads it anew after every break, and comes to
				// nothing else
				say(t, r, filament)
				continue
			}
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		l := r.W.Ledger()
		delete(l.Flags, "strand") // one answer was that the filament is stuck
		if !r.W.Ended || !l.Empty() {
			t.Fatalf("at %s it ended %t, with %s", r.W.Position(), r.W.Ended, walk.LedgerLine(l))
		}
	}
}

// sameBothWays tries an answer and compares; it is not written.
func sameBothWays(t *testing.T, r *walktest.Run, text string) {
	t.Helper()
	rep, err := r.W.Answer(r.Context(), text)
	if err != nil {
		t.Fatal(err)
	}
	onto, anew := r.W.AfterBothWays(r.Context(), rep.Facts)
	if !reflect.DeepEqual(onto, anew) {
		t.Fatalf("at %s %q leads to one walk on a clone and to another folded anew", r.W.Position(),
			text)
	}
	if !reflect.DeepEqual(r.W, r.W.Anew()) {
		t.Fatalf("at %s trying %q changed the walk itself", r.W.Position(), text)
	}
}
