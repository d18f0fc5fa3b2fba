package command

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/procedures"
	"bench/oilcan/store"
)

// TestRemindersAreToDo: what nobody saw is not said to be seen, nor to be looked at again, wherever
// it is listed; its day in a calendar says what is to do.
func TestRemindersAreToDo(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	lib, _ := procedures.Load("")
	addHeron(t, file, lib)
	st, err := store.Open(file, func() time.Time { return walkNow })
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	es, err := st.Append(model.Action{Machine: b.ByName()[0].ID, Facts: []model.Fact{{
		Kind: model.KindFinding, Finding: &model.Found{Kind: model.FoundLater,
			Text: "Re-check the belt screws.", Again: walkNow.AddDate(0, 0, 2)}}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ words, want string }{
		{"due Heron --within 3d", "Re-check the belt screws  to do 2026-11-27"},
		{"due Heron --format ics", "SUMMARY:Heron: to do: Re-check the belt screws."},
		{"due Heron --format ics", "DESCRIPTION:reminder of 2026-11-25"},
		{"finding list Heron", "Re-check the belt screws.  to do 2026-11-27"},
		{"book Heron --kind finding", "reminder: Re-check the belt screws; to do 2026-11-27"},
		{"sheet Heron --format markdown",
			"Re-check the belt screws; reminder of 2026-11-25; to do 2026-11-27"},
		{"finding move " + es[0].ID + " 5d", "Heron: to do 2026-11-30: Re-check"},
	} {
		out, errs, _ := benchRun(t, file, "", strings.Fields(c.words)...)
		if out = strings.ReplaceAll(out, "\r", ""); !strings.Contains(out, c.want) ||
			strings.Contains(out, "look again") || strings.Contains(out, "seen ") {
			t.Errorf("%s gives\n%s%s\nnot %q", c.words, out, errs, c.want)
		}
	}
}
