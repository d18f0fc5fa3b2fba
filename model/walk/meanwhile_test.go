package walk_test

import (
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// desk is care beside the machine: what of it may be done while the machine cools, airs or maps,
// and what not.
func desk() *model.Procedure {
	step := func(name string, waits ...string) model.Step {
		return model.Step{Name: name, Do: "Look at the " + name + ".", Gate: model.Choice,
			Ask: name, Meanwhile: waits,
			Options: []model.Option{{Is: "well"},
				{Is: "spent", Miss: &model.Miss{Then: "part", Say: "Order new ones."}},
				{Is: "damp", Miss: &model.Miss{Then: "add", Procedures: []string{"desiccant"},
					Say: "Fresh ones go in."}},
				{Is: "dusty", Miss: &model.Miss{Then: "redo", Step: name,
					Say: "Wipe it, then look again."}}}}
	}
	out := step("lid", "cool", "air")
	out.Out = map[string]model.Amount{"lid": {N: 1}}
	hold := step("seal")
	hold.Alone = true
	return &model.Procedure{ID: "desk", Title: "Beside the machine", Kind: model.Care,
		Rung: []model.Placed{{Is: "proof"}}, HandsOn: 1, After: []string{"self-check"},
		Steps: []model.Step{step("labels", "cool"), step("packs", "air"),
			step("book", "cool", "air"), out, step("shelf"), hold, step("behind", "cool", "air")}}
}

// desked begins a session with the care beside the machine and walks it to a wait.
func desked(t *testing.T, block, at string) *walktest.Run {
	t.Helper()
	lib := library(t)
	m := machine(lib, "full")
	r := beginWith(t, lib, m, walk.Start{Ask: true}, lib.Get("as-found"), lib.Get("rods-wipe"),
		lib.Get("self-check"), desk(), lib.Get("close-out"))
	toWait(t, r, block, at)
	return r
}

func toWait(t *testing.T, r *walktest.Run, block, at string) {
	t.Helper()
	for range 2000 {
		if p := r.W.Prompt(r.Now); p.Kind == walk.AskWait && p.Block.ID == block &&
			p.Step.Name == at {
			return
		}
		if over, err := r.Step(); over || err != nil {
			t.Fatalf("%s/%s was never reached: %v", block, at, err)
		}
	}
}

func offered(r *walktest.Run) []string {
	var out []string
	for _, o := range r.W.Meanwhile(r.Context()) {
		out = append(out, o.Block.ID+"/"+o.Step.Name)
	}
	return out
}

// TestWhatIsOfferedMeanwhile: what names the wait, changes nothing of the machine and stands behind
// no open hold; vapour forbids what cooling allows, and nothing is offered where somebody has to
// watch.
func TestWhatIsOfferedMeanwhile(t *testing.T) {
	for _, c := range []struct {
		block, at string
		want      []string
	}{
		{"cool", "shed", []string{"lay-out/laid-out", "desk/labels", "desk/book"}},
		{"air", "clear", []string{"desk/packs", "desk/book", "close-out/drawer",
			"close-out/wipes"}},
		{"self-check", "sweep", nil},
	} {
		r := desked(t, c.block, c.at)
		if got := offered(r); !slices.Equal(got, c.want) {
			t.Errorf("while %s/%s: %v, want %v", c.block, c.at, got, c.want)
		}
	}
}

// TestDoneInAWaitIsDone: it is on record by its own block and step, is not asked again there, and
// is taken back by one key.
func TestDoneInAWaitIsDone(t *testing.T) {
	r := desked(t, "cool", "shed")
	left, minutes := r.W.Prompt(r.Now).Left, r.W.Left()
	say(t, r, "#2 well")
	if now := r.W.Left(); now >= minutes {
		t.Errorf("%.2f minutes are left after a row was done, %.2f before", now, minutes)
	}
	say(t, r, "back")
	if got := offered(r); !slices.Contains(got, "desk/labels") {
		t.Fatalf("taken back it is not offered again: %v", got)
	}
	say(t, r, "#2 well")
	say(t, r, "#1 all there")
	if got := offered(r); !slices.Equal(got, []string{"desk/book"}) {
		t.Errorf("what was done is still offered: %v", got)
	}
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskWait || p.Left != left-80*time.Second {
		t.Errorf("the wait runs on: %s, %s left of %s", p.Kind, p.Left, left)
	}
	reach(t, r, "desk", "packs")
	if i := slices.IndexFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Walk != nil && e.Walk.What == walk.Early && e.Walk.ID == "desk" &&
			e.Walk.Step == "labels" && e.Walk.Answer == "well"
	}); i < 0 {
		t.Error("it is not on record")
	}
	again, err := walk.Load(r.J.Entries, r.J.Text)
	if err != nil {
		t.Fatal(err)
	}
	if again.Position() != r.W.Position() {
		t.Errorf("loaded anew it stands at %s, not %s", again.Position(), r.W.Position())
	}
}

// TestBackOverWhatWasDoneInAWaitLeadsSomewhere: the wait has run out, so what was done in it taken
// back alone would leave the person where they stand; it goes with the answer before the wait, and
// is asked anew.
func TestBackOverWhatWasDoneInAWaitLeadsSomewhere(t *testing.T) {
	r := desked(t, "cool", "shed")
	say(t, r, "#2 well")
	say(t, r, "#1 all there")
	if _, err := r.Step(); err != nil { // the wait runs out
		t.Fatal(err)
	}
	stood := r.W.Position()
	if rep := say(t, r, "back"); rep.Refusal != "" {
		t.Fatal(rep.Refusal)
	}
	if r.W.Position() == stood || r.W.Prompt(r.Now).Kind != walk.AskStep ||
		r.W.Step().Name == "shed" {
		t.Errorf("back from %s leads to %s", stood, r.W.Position())
	}
	loads(t, r)
	toWait(t, r, "cool", "shed")
	if got := offered(r); !slices.Contains(got, "desk/labels") ||
		!slices.Contains(got, "lay-out/laid-out") {
		t.Errorf("what was taken back is not offered again: %v", got)
	}
	finish(t, r)
}

// TestDoneInAWaitStaysDone: it needed nothing of the machine, so a break takes nothing of it back.
func TestDoneInAWaitStaysDone(t *testing.T) {
	r := desked(t, "cool", "shed")
	say(t, r, "#2 well")
	say(t, r, "#1 all there")
	rep, err := r.W.Resume(r.Context())
	take(t, r, rep, err)
	reach(t, r, "desk", "packs")
	if n := len(slices.DeleteFunc(passedOf(r), func(s string) bool {
		return s != "lay-out/laid-out"
	})); n > 0 {
		t.Error("it was laid out twice")
	}
}

// TestOtherAnswersInAWait: what is spent is left out before anything was opened for it, what is
// damp brings its care, and what has to be done over is asked at its turn.
func TestOtherAnswersInAWait(t *testing.T) {
	r := desked(t, "cool", "shed")
	if rep := say(t, r, "#2 dusty"); rep.Refusal == "" {
		t.Error("what has to be wiped first passed")
	}
	if rep := say(t, r, "#9 well"); rep.Refusal == "" {
		t.Error("there is no ninth")
	}
	say(t, r, "#2 damp")
	if n := slices.IndexFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Due != nil && e.Due.Procedure == "desiccant"
	}); n < 0 {
		t.Error("fresh packs are not due")
	}
	say(t, r, "#2 spent") // the book
	if slices.Contains(blocksOf(r), "desk") {
		t.Errorf("it is still to be done: %v", blocksOf(r))
	}
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskWait || p.Block.ID != "cool" {
		t.Errorf("after that it asks %s: %s", p.Kind, p.Question)
	}
	reach(t, r, "close-out", "ready")
	say(t, r, "waiting for part") // new ones were ordered
	finish(t, r)
	if done := careOf(&r.J, "done"); !slices.Contains(done, "rods-wipe") ||
		!slices.Contains(done, "desiccant") {
		t.Errorf("done: %v", done)
	}
}
