package procedures

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
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
		if p, _, _ := parse(id+".toml", data, true); p.ID != id {
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
		if rest, ok := strings.CutPrefix(l, "# "); ok && i > 7 &&
			(strings.Contains(rest, " = ") || strings.HasPrefix(rest, "[")) {
			l = rest
		}
		lines = append(lines, l)
	}
	if problems := lib.CheckFiles([]Source{{Name: "hinge-oil.toml",
		Data: []byte(strings.Join(lines, "\n"))}})[0]; len(problems) > 0 {
		t.Errorf("%v\n%s", problems, strings.Join(lines, "\n"))
	}
}

// TestStartRefuses: what cannot be a procedure's id.
func TestStartRefuses(t *testing.T) {
	for _, id := range []string{"", "Hinge", "../hinge", "hinge oil", "unplug", "-x",
		strings.Repeat("a", 80)} {
		if _, err := Start(id); err == nil {
			t.Errorf("%q is taken", id)
		}
	}
}

// TestStartNamesTheClosedLists: whoever writes a file of their own sees what tools and parts there
// are.
func TestStartNamesTheClosedLists(t *testing.T) {
	data, err := Start("hinge-oil")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	_, tools, _ := strings.Cut(text, "# Tools: ")
	tools, parts, _ := strings.Cut(tools, "# Parts and supplies: ")
	for _, list := range []struct {
		text  string
		names []string
	}{{tools, model.ToolNames}, {parts, model.SupplyNames}} {
		got := strings.Split(strings.TrimSpace(strings.NewReplacer("\n#   ", " ", "\n", "").Replace(
			list.text)), ", ")
		if !slices.Equal(got, list.names) {
			t.Errorf("got %q\nwant %q", got, list.names)
		}
	}
}
