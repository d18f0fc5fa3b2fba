package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// TestWhatTheBookSaysStandsBesideTheQuestion: who is asked whether machine and book agree is shown
// the book.
func TestWhatTheBookSaysStandsBesideTheQuestion(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := begin(t, lib, m, "rods-wipe")
	reach(t, r, model.AsFound, model.StepTags)
	if is := r.W.InBook(m, model.AsFound, r.W.Step()); !slices.Equal(is,
		[]string{"nothing stands in the book"}) {
		t.Errorf("of a machine without findings: %q", is)
	}
	m.Tag = &model.Tag{Why: "no chamber heat"}
	for i := range 7 {
		m.Findings = append(m.Findings, model.Finding{At: r.Now.AddDate(0, 0, i-9),
			Found: model.Found{Kind: model.FoundNote, Text: "seen " + strings.Repeat("i", i)}})
	}
	m.Findings = append(m.Findings, model.Finding{At: r.Now, Found: model.Found{
		Kind: model.FoundLimits, Text: m.Tag.Why}}, model.Finding{At: r.Now, Found: model.Found{
		Kind: model.FoundOwed, Text: "the heat check is owed"}})
	is := r.W.InBook(m, model.AsFound, r.W.Step())
	if len(is) != 7 || is[0] != "tag: no chamber heat" || !strings.HasSuffix(is[1], "seen iiiiii") ||
		is[6] != "and 2 older" {
		t.Errorf("%q", is)
	}
	if other := r.W.InBook(m, model.CloseOut, r.W.Step()); other != nil {
		t.Errorf("elsewhere: %q", other)
	}
}
