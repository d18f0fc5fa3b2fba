package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// walkedWith walks a whole session of care on a machine with such findings, and gives what was
// written.
func walkedWith(t *testing.T, lib *procedures.Library, fs []model.Finding,
	care string) *walktest.Run {
	t.Helper()
	m := machine(lib, "full")
	m.Findings = fs
	r := begin(t, lib, m, care)
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	return r
}

// reminders are the findings written of a step.
func reminders(r *walktest.Run, step string) (out []model.Found) {
	for _, e := range r.J.Entries {
		if e.Finding != nil && e.Finding.Step == step {
			out = append(out, *e.Finding)
		}
	}
	return out
}

// settledBy is why a finding was closed, "" where it stands.
func settledBy(r *walktest.Run, id string) string {
	for _, e := range r.J.Entries {
		if e.Settled != nil && e.Settled.Finding == id {
			return e.Settled.Why
		}
	}
	return ""
}

// TestAReminderStandsOnce: the next session says the same anew, so the older one goes; and what
// the older session was handed back as no longer holds once the state is named again. Another
// procedure's note, a stop and a part waited for stand.
func TestAReminderStandsOnce(t *testing.T) {
	lib := library(t)
	first := reminders(walkedWith(t, lib, nil, "fans-blow"), "first-minutes")
	if len(first) != 1 || first[0].Text != "first ten minutes of the next print, watched" {
		t.Fatalf("the reminder is %+v", first)
	}
	state := model.Found{Kind: model.FoundNote, Procedure: "close-out", Step: "ready",
		Text: "Tag the plug."}
	of := func(kind model.FindingKind, proc, step string) model.Found {
		return model.Found{Kind: kind, Procedure: proc, Step: step, Text: "x", Part: "blade"}
	}
	fs := []model.Finding{{ID: "F1", At: start, Found: first[0]}, {ID: "F2", At: start, Found: state},
		{ID: "F3", At: start, Found: of(model.FoundNote, "plate-wash", "bend")},
		{ID: "F4", At: start, Found: of(model.FoundPart, "close-out", "ready")}}
	r := walkedWith(t, lib, fs, "fans-blow")
	if n := reminders(r, "first-minutes"); len(n) != 1 {
		t.Errorf("the reminder is written %d times", len(n))
	}
	for id, goes := range map[string]bool{"F1": true, "F2": true, "F3": false, "F4": false} {
		if why := settledBy(r, id); (why != "") != goes {
			t.Errorf("%s was closed: %q", id, why)
		}
	}
}

// TestAFirstLayerWatchedIsNoReminder: the sheet was watched in this session, so nobody is told to
// watch the next print.
func TestAFirstLayerWatchedIsNoReminder(t *testing.T) {
	r := walkedWith(t, library(t), nil, "first-layer")
	if n := reminders(r, "first-minutes"); len(n) != 0 {
		t.Errorf("told all the same: %+v", n)
	}
}

// TestCodesReadAwayCloseTheirReminder: a list without codes closes what an older one left behind.
func TestCodesReadAwayCloseTheirReminder(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Findings = []model.Finding{{ID: "F1", At: start, Found: model.Found{Kind: model.FoundNote,
		Procedure: model.AsFound, Step: "errors", Text: "codes"}},
		{ID: "F2", At: start, Found: model.Found{Kind: model.FoundNote,
			Procedure: model.AsFound, Step: "tags", Text: "differ"}}}
	r := begin(t, lib, m, "fans-blow")
	reach(t, r, model.AsFound, "errors")
	say(t, r, "no errors")
	if settledBy(r, "F1") == "" || settledBy(r, "F2") != "" {
		t.Errorf("closed are %q and %q", settledBy(r, "F1"), settledBy(r, "F2"))
	}
}
