package procedures

import (
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"bench/oilcan/model"
)

// goodFile is a small file that uses every gate.
const goodFile = "testdata/good/every-gate.toml"

func parseGood(t *testing.T) *model.Procedure {
	t.Helper()
	data, err := os.ReadFile(goodFile)
	if err != nil {
		t.Fatal(err)
	}
	p, _, problems := parse("every-gate.toml", data, true)
	for _, pr := range problems {
		t.Error(pr)
	}
	return p
}

func TestPage(t *testing.T) {
	got := Page(parseGood(t))
	want, err := os.ReadFile("testdata/every-gate.page")
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("page differs from testdata/every-gate.page:\n%s", got)
	}
}

func TestPageWidth(t *testing.T) {
	l, _ := Load("")
	pages := []*model.Procedure{{ID: "x", Title: strings.Repeat("w", 200),
		Purpose: strings.Repeat("ü ", 100)}}
	for _, p := range append(append(pages, l.All()...), l.SetUps()...) {
		for i, line := range strings.Split(Page(p), "\n") {
			if n := utf8.RuneCountInString(line); n > pageWidth {
				t.Errorf("%s line %d has %d characters: %s", p.ID, i+1, n, line)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("%s line %d ends in spaces", p.ID, i+1)
			}
		}
	}
}
