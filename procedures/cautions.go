package procedures

import (
	_ "embed"
	"maps"
	"slices"
	"strings"
	"sync"

	"bench/oilcan/model"
)

//go:embed cautions.toml
var cautionFile []byte

// maxBrief is the length of a caution's short form in characters.
const maxBrief = 44

// cautionList is the built-in table, read at the first file that refers to it.
var cautionList = sync.OnceValue(func() map[string]model.Caution {
	list, _ := parseCautions("cautions.toml", cautionFile, false)
	byID := make(map[string]model.Caution, len(list))
	for _, q := range list {
		byID[q.ID] = q
	}
	return byID
})

// parseCautions reads a table of cautions and checks it.
func parseCautions(name string, data []byte, full bool) ([]model.Caution, []Problem) {
	out, _, problems, _ := readFile(name, data, full, (*reader).cautions)
	return out, problems
}

// cautions reads the whole table; every id stands in it once.
func (r *reader) cautions(t *table) []model.Caution {
	var out []model.Caution
	seen := map[string]bool{}
	t.each("caution", func(q *table) {
		c := model.Caution{
			ID:     q.need("id", `"hot"`),
			Signal: q.oneOf("signal", "signal word", signalWords),
			Harm:   q.need("harm", `"what harm it does"`),
			Avoid:  q.need("avoid", `"how to avoid it"`),
			Brief:  q.need("brief", `"hot: no hand before 45 °C is read"`),
			Basis:  q.need("basis", `"common practice"`),
			Steady: q.truth("steady"),

			UnlessKnown: q.mayBe("unless_known", "known answer", model.KnownNames),
		}
		if !kebab().MatchString(c.ID) || seen[c.ID] {
			r.bad(q.n, "caution %q: write each id once, in small letters and hyphens", c.ID)
		}
		seen[c.ID] = true
		q.sized("harm", c.Harm, maxCaution)
		q.sized("avoid", c.Avoid, maxCaution)
		q.sized("brief", c.Brief, maxBrief)
		if c.Basis != "" && !saysOrigin(c.Basis) {
			r.bad(q.n.find("basis"), "%s", noOrigin(c.Basis))
		}
		out = append(out, c)
	})
	t.done()
	return out
}

// sized files a text that is too long or holds a sign of another format.
func (t *table) sized(key, s string, limit int) {
	if text := textFault(key, s, limit); text != "" {
		t.r.bad(t.n.find(key), "%s", text)
	}
}

// usedCaution reads a [[caution]] that names one of the table: only where it stands, which steps
// say it themselves and on which machines is the file's own.
func (t *table) usedCaution() model.Caution {
	id := t.need("use", `"hot"`)
	c, ok := cautionList()[id]
	if !ok {
		t.r.bad(t.n.find("use"), "%s", notOnList("caution", id, slices.Sorted(maps.Keys(cautionList()))))
	}
	for _, key := range []string{"signal", "harm", "avoid", "basis"} {
		if n := t.get(key); n != nil {
			t.r.bad(n,
				"%q stands in the table of cautions under %q: leave it out here, or leave \"use\" out and write the caution in full", key, id)
		}
	}
	c.Before, c.Said, c.Only = t.texts("before"), t.texts("said"), t.only()
	return c
}

// saysOrigin tells whether the basis of a caution says where it comes from.
func saysOrigin(basis string) bool {
	return strings.Contains(basis, "common practice") || strings.Contains(basis, "from memory") ||
		strings.Contains(basis, "published: ")
}

// noOrigin is the sentence about a basis that does not.
func noOrigin(basis string) string {
	return `basis "` + basis +
		`" says no origin: write "common practice", "from memory" or "published: SOURCE" in it`
}
