package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// TestWaitsThatKeepPeopleSafeAreNotCut: no word ends the airing, the five minutes before a
// connector, the first seconds under power, or a watch over heat. Cooling is no matter of a clock:
// every place is read behind it, and none passes over 45 °C.
func TestWaitsThatKeepPeopleSafeAreNotCut(t *testing.T) {
	lib := library(t)
	for _, of := range []struct {
		care, block, step string
		cut               bool
	}{
		{"rods-wipe", "air", "clear", false},
		{"blade-check", "cover-off", "discharge", false},
		{"blade-check", "cool", "shed", true},
		{"blade-check", "switch-on", "watch", false},
		{"first-layer", "first-layer", "stay", false},
		{"heat-tune", "heat-tune", "wait", false},
		{"return-to-service", "owed", "return-to-service.cold-watch", false},
		{"self-check", "self-check", "sweep", false},
		{"first-layer", "first-layer", "finish", true},
	} {
		r := begin(t, lib, machine(lib, "full"), of.care)
		if p := waitAt(t, r, of.block, of.step); p.Kind != walk.AskWait {
			t.Errorf("%s: no wait at %s/%s", of.care, of.block, of.step)
			continue
		}
		rep, err := r.W.Answer(r.Context(), "cut I know it")
		if err != nil {
			t.Fatal(err)
		}
		if (rep.Refusal == "") != of.cut {
			t.Errorf("%s/%s: cut by a word %v, want %v: %s", of.block, of.step, rep.Refusal == "",
				of.cut, rep.Refusal)
		}
	}
}

// waitAt answers well until the wait of a step stands.
func waitAt(t *testing.T, r *walktest.Run, block, step string) walk.Prompt {
	t.Helper()
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskWait && strings.HasPrefix(p.Wait.Key, block+"#") &&
			strings.HasSuffix(p.Wait.Key, "/"+step) {
			return p
		}
		if p.Kind == walk.AskOver {
			break
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	return walk.Prompt{}
}

// TestWhereTheAiringStartsThereIsVapour: a file of the operator's own may start the airing clock
// without a word of vapour. The checker takes it for vapour, and so does the walk: nothing closes
// before it has aired.
func TestWhereTheAiringStartsThereIsVapour(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	own := *lib.Get("rods-wipe")
	own.Steps = slices.Clone(own.Steps)
	own.Leave = nil
	for i := range own.Steps {
		own.Steps[i].Set = nil
	}
	r := beginWith(t, lib, m, walk.Start{Title: "own", Ask: true}, &own)
	for range 400 {
		if stepName(r.W) == "carry-out" {
			break
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if got := r.W.Believed[model.Vapour]; stepName(r.W) != "carry-out" || got != "drying" {
		t.Errorf("at %q after the alcohol the air is %q", stepName(r.W), got)
	}
}

func stepName(w *walk.Walk) string {
	if s := w.Step(); s != nil {
		return s.Name
	}
	return ""
}

// TestAFaultInAWatchedWaitStops: who is told to stay and watch can say at once what goes wrong, and
// nothing goes on; a wait in which nobody has to be there knows no such word.
func TestAFaultInAWatchedWaitStops(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "self-check")
	for n := 0; ; n++ {
		if p := r.W.Prompt(r.Now); p.Watched() {
			break
		} else if p.Kind == walk.AskWait {
			if rep := say(t, r, "fault it smells"); rep.Refusal == "" {
				t.Errorf("a fault is taken where nobody watches: %s", r.W.Position())
			}
		}
		if over, err := r.Step(); err != nil || over || n > 2000 {
			t.Fatal(over, err)
		}
	}
	if rep := say(t, r, "fault ."); rep.Refusal == "" {
		t.Error("a fault without a word of what it is")
	}
	say(t, r, "fault it scrapes at the left")
	if r.W.Stopped == "" {
		t.Errorf("it goes on: %s", r.W.Position())
	}
	reach(t, r, model.CloseOut, "ready")
	say(t, r, "out of use")
	say(t, r, "no motion before the rail is looked at")
	finish(t, r)
	var texts []string
	for _, e := range r.J.Entries {
		if e.Finding != nil {
			texts = append(texts, e.Finding.Text)
		}
	}
	for _, want := range []string{"It scrapes at the left.",
		"Left out of use: no motion before the rail is looked at."} {
		if !slices.Contains(texts, want) {
			t.Errorf("%q is not filed: %q", want, texts)
		}
	}
}
