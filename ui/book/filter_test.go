package book

import (
	"os"
	"regexp"
	"slices"
	"testing"
	"time"

	"bench/oilcan/model"
)

// TestEachKindHasAWord: whatever an entry says, a person can ask for entries like it; the kinds are
// those of the schema that the journal is held to.
func TestEachKindHasAWord(t *testing.T) {
	schema, err := os.ReadFile("entry.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`"kind": \{\s*"const": "(\w+)"`).FindAllSubmatch(schema, -1)
	if len(found) < 18 {
		t.Fatalf("%d kinds in the schema", len(found))
	}
	for _, k := range found {
		kind := model.EntryKind(k[1])
		if kind != "text" && !slices.ContainsFunc(kinds, func(of kindWord) bool {
			return slices.Contains(of.of, kind)
		}) {
			t.Errorf("no word asks for %q", kind)
		}
	}
}

func TestWhatAFilterSays(t *testing.T) {
	day := time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		f    Filter
		want string
	}{
		{Filter{Machine: "m1"}, ""},
		{Filter{From: day}, "from 2026-11-01"},
		{Filter{To: day}, "to 2026-10-31"},
		{Filter{From: day, To: day.AddDate(0, 0, 2), Kind: "swap", Part: "blade", By: "LN",
			Words: " worn  out "},
			`from 2026-11-01 · to 2026-11-02 · swap · blade · by LN · "worn out"`},
	} {
		if got := c.f.Said(day); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
