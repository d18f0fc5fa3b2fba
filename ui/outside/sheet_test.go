package outside

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"golang.org/x/net/html"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/procedures"
)

var sheetLines = [][]string{
	{"sheet"}, {"sheet", "Heron"}, {"sheet", "=HYPERLINK"}, {"sheet", "Heron", "--session"},
	{"plan", "Heron", "--sheet"},
}

// TestSheetsStandAlone: a sheet is whole HTML with nothing beside it; what was typed stands in it as
// text. Read by an HTML parser.
func TestSheetsStandAlone(t *testing.T) {
	file := demoFile(t)
	for _, args := range sheetLines {
		out := runAt(t, file, formatsNow, args...)
		doc, err := html.Parse(strings.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		var again bytes.Buffer
		if err := html.Render(&again, doc); err != nil {
			t.Fatal(err)
		}
		open := map[string]int{}
		z := html.NewTokenizer(strings.NewReader(out))
		for tt := z.Next(); tt != html.ErrorToken; tt = z.Next() {
			tok := z.Token()
			switch tt {
			case html.StartTagToken:
				open[tok.Data]++
			case html.EndTagToken:
				open[tok.Data]--
			}
			for _, a := range tok.Attr {
				if a.Key == "src" || a.Key == "href" || strings.HasPrefix(a.Key, "on") {
					t.Errorf("%s: %s", args, tok)
				}
			}
			if tok.Data == "b" && tt == html.StartTagToken && len(tok.Attr) > 0 ||
				tok.Data == "script" {
				t.Errorf("%s: %s", args, tok)
			}
		}
		for tag, n := range open {
			if n != 0 && tag != "meta" {
				t.Errorf("%s: %d of <%s> are not closed", args, n, tag)
			}
		}
		if strings.Contains(out, "url(") || strings.Contains(out, "@import") {
			t.Errorf("%s needs a file beside it", args)
		}
		if strings.Contains(args[len(args)-1], "HYPER") &&
			!strings.Contains(words(doc), "<b>*so*</b> \\ `twice`") {
			t.Errorf("%s does not show what was typed", args)
		}
	}
}

// words is the text of an HTML document, blanks as one space.
func words(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// TestABlankSheetHasAllOfTheSession: on paper, both ways it is written, stands every step of every
// procedure of the plan, and every caution whole.
func TestABlankSheetHasAllOfTheSession(t *testing.T) {
	const chosen = "--only=blade-check,rods-wipe,belts-reset,door-seals,fans-blow,filter-swap"
	file := demoFile(t)
	b, _ := folded(t, file)
	m, err := model.FindMachine(b, "Heron")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(strings.NewReader(runAt(t, file, formatsNow, "plan", "Heron", chosen,
		"--sheet")))
	if err != nil {
		t.Fatal(err)
	}
	var page bytes.Buffer
	md := goldmark.New(goldmark.WithExtensions(extension.GFM))
	if err := md.Convert([]byte(runAt(t, file, formatsNow, "plan", "Heron", chosen,
		"--sheet=markdown")), &page); err != nil {
		t.Fatal(err)
	}
	fromMarkdown, err := html.Parse(&page)
	if err != nil {
		t.Fatal(err)
	}
	plan := runAt(t, file, formatsNow, "plan", "Heron", chosen)
	fs := model.NewFeatureSet(m.Features...)
	lib := procedures.Open("")
	n, forms := 0, map[string]string{"html": words(doc), "markdown": words(fromMarkdown)}
	for _, p := range append(lib.All(), lib.SetUps()...) {
		if !regexp.MustCompile(`(?m)^ +\d+ +` + p.ID + ` `).MatchString(plan) {
			continue
		}
		n++
		q := p.For(fs, p.WithDefaults(m.Settings))
		for i := range q.Steps {
			want := []string{q.Steps[i].Do}
			for _, c := range walk.CautionsFor(q, &q.Steps[i], i == 0) {
				want = append(want, c.Signal, c.Harm, c.Avoid)
			}
			for _, text := range want {
				text = strings.Join(strings.Fields(text), " ")
				for form, d := range forms {
					if !strings.Contains(d, text) {
						t.Errorf("%s: %q of %s is not on the sheet", form, text, p.ID)
					}
				}
			}
		}
	}
	if n < 15 {
		t.Errorf("only %d procedures were looked at", n)
	}
}
