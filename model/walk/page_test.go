package walk_test

import (
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// twelve is the care that comes round each month on a machine with a changer.
var twelve = []string{"fans-blow", "gears-blow", "blade-check", "wiper-check", "rods-wipe",
	"layer-lens-clean", "camera-clean",
	"belts-reset", "filter-swap", "screws-oil", "desiccant", "self-check"}

// paced walks a session to its end as the screens do, by a hand that walked often before what
// another session walked.
func paced(t *testing.T, pace string, before *walktest.Run, ids ...string) *walktest.Run {
	t.Helper()
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), ids...)
	r.Pace, r.By = pace, "Ada"
	if before != nil {
		r.Practice = practice(before, r.Now)
	}
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	for range 2000 {
		done, err := r.PageStep()
		if err != nil {
			t.Fatal(err)
		}
		if done {
			return r
		}
	}
	t.Fatal("the session does not end")
	return nil
}

// practice is that of a hand that walked often, until now, what a session walked.
func practice(before *walktest.Run, now time.Time) model.Practice {
	p := model.Practice{Shown: map[string]model.Walks{}, Whole: map[string]time.Time{}}
	for _, x := range before.W.End.Practice {
		p.Shown[x.Shown] = model.Walks{Steps: 3, Last: now}
		for _, id := range x.Whole {
			p.Whole[id] = now
		}
	}
	return p
}

// TestPagesOfAMonthlySession: page by page a session asks less than step by step, and does the
// same.
func TestPagesOfAMonthlySession(t *testing.T) {
	steps := paced(t, walk.Steps, nil, twelve...)
	pages := paced(t, walk.ByUse, steps, twelve...)
	if pages.Prompts*3 > steps.Prompts*2 {
		t.Errorf("%d prompts page by page are not two thirds of %d", pages.Prompts, steps.Prompts)
	}
	for _, r := range []*walktest.Run{steps, pages} {
		if r.W.End == nil || r.W.End.State != "ready" {
			t.Errorf("the session did not close ready")
		}
	}
	if a, b := cared(steps), cared(pages); a != b {
		t.Errorf("step by step did %s, page by page %s", a, b)
	}
}

// cared names what a session put on record as done, in order.
func cared(r *walktest.Run) string {
	out := ""
	for _, e := range r.J.Entries {
		if e.Kind == model.KindCare {
			out += " " + e.Care.Procedure + ":" + string(e.Care.Outcome)
		}
	}
	return out
}

// onPage begins rods-wipe on a machine and goes to its first page: the rods, the bud, the travel.
func onPage(t *testing.T) *walktest.Run {
	t.Helper()
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	r.Pace = walk.Pages
	reach(t, r, "rods-wipe", "wipe-rods")
	return r
}

// take writes a reply of a page, or fails.
func take(t *testing.T, r *walktest.Run, rep walk.Reply, err error) {
	t.Helper()
	if err == nil && rep.Refusal != "" {
		t.Fatalf("refused: %s", rep.Refusal)
	}
	if err := r.Take(rep, err); err != nil {
		t.Fatal(err)
	}
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
}

// TestPageIsReadBeforeItPasses: all rows at once pass only when the page has stood for as long as
// it takes to read it.
func TestPageIsReadBeforeItPasses(t *testing.T) {
	r := onPage(t)
	pg := r.W.Page(r.Context())
	if pg == nil || len(pg.Rows) < 2 || pg.Hold == nil || pg.Hold.Name != "carry-out" {
		t.Fatalf("the page is %+v", pg)
	}
	c := r.Context()
	c.Now = pg.Floor.Add(-time.Millisecond)
	if rep, err := r.W.PassPage(c); err != nil || rep.Refusal == "" || len(rep.Facts) > 0 {
		t.Errorf("it passed unread: %+v, %v", rep, err)
	}
	c.Now = pg.Floor
	rep, err := r.W.PassPage(c)
	take(t, r, rep, err)
	if s := r.W.Step(); s == nil || s.Name != "carry-out" {
		t.Fatalf("after the rows stands %v", s)
	}
	// what stands alone wants its own answer: neither enter nor space passes it, and the count does
	// not show its number
	if rep, _ := r.W.PassPage(r.Context()); rep.Refusal == "" {
		t.Error("the hold passed with the rows")
	}
	if rep, _ := r.W.PassLine(r.Context()); rep.Refusal == "" {
		t.Error("the hold passed as a row")
	}
	for _, e := range r.J.Entries {
		if e.Walk != nil && e.Walk.What == walk.Passed && e.Walk.ID == "rods-wipe" &&
			e.Walk.Step == "travel" && e.Walk.How != model.AsPage {
			t.Errorf("%s is on record as passed %q", e.Walk.Step, e.Walk.How)
		}
	}
}

// TestRowsInAnyOrder: a row is answered before the one above it, and both are on record as rows.
func TestRowsInAnyOrder(t *testing.T) {
	r := onPage(t)
	rep, err := r.W.PageAnswer(r.Context(), "#2 even")
	take(t, r, rep, err)
	if s := r.W.Step(); s.Name != "wipe-rods" {
		t.Fatalf("the walk stands at %s", s.Name)
	}
	if pg := r.W.Page(r.Context()); !pg.Rows[indexOf(pg, "travel")].Done ||
		pg.Rows[indexOf(pg, "wipe-rods")].Done {
		t.Errorf("the rows are %+v", pg.Rows)
	}
	if rep, _ := r.W.PageAnswer(r.Context(), "#2 even"); rep.Refusal == "" {
		t.Error("a row was answered twice")
	}
	finish(t, r)
}

// TestASkippedRowIsNotDone: nothing of it was done, and it does not stand there as if it were.
func TestASkippedRowIsNotDone(t *testing.T) {
	r := onPage(t)
	say(t, r, "skip no wipe left")
	row := r.W.Page(r.Context()).Rows[0]
	if !row.Left || row.Answer != "skipped" {
		t.Errorf("the row stands as %+v", row)
	}
}

func indexOf(pg *walk.Page, name string) int {
	return slices.IndexFunc(pg.Rows, func(r walk.Row) bool { return r.Step.Name == name })
}

// TestBackTakesThePageBack: what passed with one key is taken back with one.
func TestBackTakesThePageBack(t *testing.T) {
	r := onPage(t)
	r.Now = r.Now.Add(time.Minute)
	rep, err := r.W.PassPage(r.Context())
	take(t, r, rep, err)
	say(t, r, "back")
	if s := r.W.Step(); s.Name != "wipe-rods" {
		t.Errorf("after back the walk stands at %s", s.Name)
	}
}

// TestAPageBrokenOffIsPerhapsDone: killed in the middle of a page, what its rows take out is asked
// for, though none of them was answered, and a loosened belt counts as loose.
func TestAPageBrokenOffIsPerhapsDone(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "belts-reset")
	r.Pace = walk.Pages
	reach(t, r, "belts-reset", "belts-look")
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	pg := r.W.Page(r.Context())
	if pg == nil || indexOf(pg, "first-screw") < 0 {
		t.Fatalf("no page with the first screw: %+v", pg)
	}
	if l := r.W.Ledger(); l.Flags["belts"] != "" {
		t.Fatalf("the belts are %s before a row was answered", l.Flags["belts"])
	}
	rep, err := r.W.Resume(r.Context())
	take(t, r, rep, err)
	if l := r.W.Ledger(); l.Flags["belts"] == "" {
		t.Error("after the break nobody knows of the belts")
	}
}

// TestKnownPassesUntilItCannotHold: an empty head read once is not asked again, and is asked after
// a break.
func TestKnownPassesUntilItCannotHold(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "gears-blow", "blade-check")
	reach(t, r, "blade-check", "arm")
	if !passedKnown(r, "strand") {
		t.Fatal("the empty head was asked again")
	}
	r = begin(t, lib, machine(lib, "full"), "gears-blow", "blade-check")
	reach(t, r, "gears-blow", "pick")
	rep, err := r.W.Resume(r.Context())
	take(t, r, rep, err)
	finish(t, r)
	emptied := false
	for _, e := range r.J.Entries {
		x := e.Walk
		switch {
		case x == nil:
		case x.What == walk.Resumed:
			emptied = false
		case x.What == walk.Passed && x.ID == "unload" && x.Step == "left":
			emptied = true
		case x.How == model.AsKnown && x.Step == "strand" && !emptied:
			t.Error("after a break the empty head passed by what was known before it")
		}
	}
}

// TestKnownEndsWithAWordFromElsewhere: what somebody else writes of the machine ends what was
// known, and a reading that the session itself takes after it does not hide it.
func TestKnownEndsWithAWordFromElsewhere(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "gears-blow", "blade-check")
	reach(t, r, "gears-blow", "pick")
	from := len(r.J.Entries)
	r.M.LastAt = r.Now.Add(time.Second)
	if _, err := r.Step(); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Step(); err != nil {
		t.Fatal(err)
	}
	r.M.LastAt = r.W.LastAt // of a reading of its own
	reach(t, r, "blade-check", "arm")
	said := 0
	for _, e := range r.J.Entries[from:] {
		x := e.Walk
		if x == nil {
			continue
		}
		if x.Others {
			said++
		}
		if x.How == model.AsKnown && x.Step == "strand" {
			t.Errorf("%s/%s passed: %s", x.ID, x.Step, x.Why)
		}
	}
	if said != 1 {
		t.Errorf("it is on record %d times, once is right", said)
	}
}

func passedKnown(r *walktest.Run, step string) bool {
	return slices.ContainsFunc(r.J.Entries, func(e model.Entry) bool {
		return e.Walk != nil && e.Walk.How == model.AsKnown && e.Walk.Step == step
	})
}

// TestALampIsNotColdByTheHotEnd: what glowed beside the hot end is read itself until the plug has
// been out for ten minutes, and no reading of it says that the hot end is cold.
func TestALampIsNotColdByTheHotEnd(t *testing.T) {
	lib := library(t)
	for _, ids := range [][]string{{"fans-blow", "camera-clean"}, {"fans-blow", "filter-swap"},
		{"camera-clean", "filter-swap", "layer-lens-clean"}} {
		r := begin(t, lib, machine(lib, "full"), ids...)
		finish(t, r)
		var plug time.Time
		hotEnd := false
		for _, e := range r.J.Entries {
			x := e.Walk
			if x == nil || x.What != walk.Passed {
				continue
			}
			s, _ := stepOf(r.W, x.ID, x.Step)
			own := s.Quantity == "hot end temperature"
			switch {
			case s.Variable == model.Power && s.Value == model.Unplugged:
				plug = e.At
			case s.Known != "cold":
			case x.How != model.AsKnown:
				hotEnd = hotEnd || own
			case !hotEnd:
				t.Errorf("%v: %s passed before anybody read the hot end", ids, s.Quantity)
			case !own && e.At.Sub(plug) < 10*time.Minute:
				t.Errorf("%v: %s passed %v after the plug", ids, s.Quantity, e.At.Sub(plug))
			}
		}
	}
}
