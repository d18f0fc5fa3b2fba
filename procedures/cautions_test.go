package procedures

import (
	"strings"
	"testing"

	"bench/oilcan/model"
)

func TestCautionsAreClean(t *testing.T) {
	for _, p := range second(parseCautions("cautions.toml", cautionFile, true)) {
		t.Error(p)
	}
	if n := len(cautionList()); n < 40 {
		t.Errorf("the table has %d cautions", n)
	}
}

// TestBadCautions: each mistake in a table of cautions has its sentence.
func TestBadCautions(t *testing.T) {
	const good = "[[caution]]\nid = \"hot\"\nsignal = \"WARNING\"\nharm = \"It burns.\"\navoid = \"Wait.\"\nbrief = \"hot: wait\"\nbasis = \"common practice\"\n"
	for _, c := range []struct{ change, by, want string }{
		{`"WARNING"`, `"WATCH"`, "unknown signal word"},
		{`"hot"`, `"Hot"`, "small letters"},
		{`"hot: wait"`, `"` + strings.Repeat("hot ", 12) + `"`, "at most 44 fit"},
		{`"common practice"`, `"my own head"`, "says no origin"},
		{"brief", "breif", "unknown key \"breif\""},
		{good, good + good, "each id once"},
	} {
		_, problems := parseCautions("cautions.toml",
			[]byte(strings.Replace(good, c.change, c.by, 1)), true)
		if !says(problems, "cautions.toml", c.want) {
			t.Errorf("%s by %s: %v", c.change, c.by, problems)
		}
	}
}

// TestCautionByID: a file that names a caution of the table has its words, its own place and its
// own machines; the content hash covers the words.
func TestCautionByID(t *testing.T) {
	text := small("rod-look", "rung = \"inspect\"\n") +
		"line = \"the rod, once\"\nseen = \"clean\"\n\n" +
		"[[caution]]\nuse = \"hot\"\nbefore = [\"wipe\"]\nonly = [\"sock\"]\n"
	p := parsed(t, map[string]string{"rod-look": text}).Get("rod-look")
	q, want := p.Cautions[0], cautionList()["hot"]
	if q.Harm != want.Harm || q.Avoid != want.Avoid || q.Signal != want.Signal ||
		q.Brief != want.Brief || q.ID != "hot" {
		t.Errorf("got %+v, want the words of %+v", q, want)
	}
	if len(q.Before) != 1 || len(q.Only.Features) != 1 {
		t.Errorf("its own place is lost: %+v", q)
	}
	before, _ := model.Text(p)
	p.Cautions[0].Harm = "It is warm."
	if after, _ := model.Text(p); after == before {
		t.Error("the content hash does not cover the words of a caution")
	}
}
