package procedures

import (
	"strings"
	"testing"
)

// TestStartPasses: a new file, and every built-in taken over, passes the checker as it is.
func TestStartPasses(t *testing.T) {
	lib, _ := Load("")
	ids := []string{"hinge-oil", "x", "hinge-look"}
	for _, p := range lib.All() {
		ids = append(ids, p.ID)
	}
	for _, id := range ids {
		data, err := Start(id)
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		for _, x := range lib.CheckFiles([]Source{{Name: id + ".toml", Data: data}})[0] {
			t.Error(x)
		}
		if p, _ := ParseFile(id+".toml", data); p.ID != id {
			t.Errorf("%s became %s", id, p.ID)
		}
	}
}

// TestStartCommentedPartsPass: the parts that stand as remarks are right too.
func TestStartCommentedPartsPass(t *testing.T) {
	lib, _ := Load("")
	data, err := Start("hinge-oil")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for i, l := range strings.Split(string(data), "\n") {
		if rest, ok := strings.CutPrefix(l, "# "); ok && i > 7 && (strings.Contains(rest, " = ") || strings.HasPrefix(rest, "[")) {
			l = rest
		}
		lines = append(lines, l)
	}
	if problems := lib.CheckFiles([]Source{{Name: "hinge-oil.toml", Data: []byte(strings.Join(lines, "\n"))}})[0]; len(problems) > 0 {
		t.Errorf("%v\n%s", problems, strings.Join(lines, "\n"))
	}
}

// TestStartRefuses: what cannot be a procedure's id.
func TestStartRefuses(t *testing.T) {
	for _, id := range []string{"", "Hinge", "../hinge", "hinge oil", "unplug", "-x", strings.Repeat("a", 80)} {
		if _, err := Start(id); err == nil {
			t.Errorf("%q is taken", id)
		}
	}
}
