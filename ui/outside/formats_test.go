package outside

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"bench/oilcan/model"
	"bench/oilcan/ui/book"
)

// runAt runs the program on a data file with its clock at a time, and gives its standard output. Exit
// code 1, which answers no, is let pass.
func runAt(t *testing.T, file, now string, args ...string) string {
	t.Helper()
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(bin, args...)
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir(), "XDG_CONFIG_HOME=", "XDG_DATA_HOME=",
		"TMPDIR="+t.TempDir(), "LANG=C.UTF-8", "TZ=UTC", "OILCAN_BY=Ada", "OILCAN_NOW="+now,
		"OILCAN_FILE="+file)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil && cmd.ProcessState.ExitCode() != 1 {
		t.Fatalf("%s: %v\n%s", args, err, errs.String())
	}
	return string(out)
}

const formatsNow = "2026-11-25T09:14:00Z"

// demoData is what a file of demoFile holds, nil until one was made.
var demoData []byte

// demoFile is the invented bench, with names that mean something to a spreadsheet, to Markdown and
// to a calendar, and a session that is begun on Teal.
func demoFile(t *testing.T) string {
	t.Helper()
	if demoData != nil {
		return written(t, "bench.oilcan", string(demoData))
	}
	file := strings.TrimSpace(runAt(t, "", formatsNow, "demo", "--print"))
	for _, args := range [][]string{
		{"machine", "add", `=HYPERLINK("x";"y")`, "--features", "rails", "--hours", "10", "--at", "2026-11-01"},
		{"finding", "add", "=HYPERLINK", "+cmd|' /C calc'!A0, seen; <b>*so*</b> \\ `twice`"},
		{"finding", "add", "=HYPERLINK", "@SUM(1+1), " + strings.Repeat("größer; ", 40)},
		{"meter", "=HYPERLINK", "hours=12", "--by", "-Bea \"B\" | C_d_e"},
		{"machine", "edit", "Teal", "--set", "heaters=3"},
		{"walk", "Teal"}, // begun, and left where the input ends
	} {
		runAt(t, file, formatsNow, args...)
	}
	_, undo, _ := strings.Cut(runAt(t, file, formatsNow, "swap", "blade", "Heron"), "oilcan strike ")
	runAt(t, file, formatsNow, "strike", undo[:6], "--why", "wrong machine")
	var err error
	if demoData, err = os.ReadFile(file); err != nil {
		t.Fatal(err)
	}
	return file
}

// TestCSVIsATable: RFC 4180, read back by encoding/csv; nothing a spreadsheet would compute
// (OWASP, CSV Injection).
func TestCSVIsATable(t *testing.T) {
	file := demoFile(t)
	out := runAt(t, file, formatsNow, "book", "--format", "csv")
	if strings.Count(out, "\n") != strings.Count(out, "\r\n") || !strings.HasSuffix(out, "\r\n") {
		t.Error("not every row ends with CR LF")
	}
	r := csv.NewReader(strings.NewReader(out))
	rows, err := r.ReadAll() // which wants as many fields in every row as in the first
	if err != nil {
		t.Fatal(err)
	}
	text := strings.TrimSuffix(runAt(t, file, formatsNow, "book"), "\n"+book.NoCertificate+"\n")
	if n := strings.Count(text, "\n"); len(rows)-1 != n {
		t.Errorf("%d rows of %d entries", len(rows)-1, n)
	}
	var all strings.Builder
	for _, row := range rows[1:] {
		for i, cell := range row {
			if rows[0][i] != "value" && cell != "" && strings.Contains("=+-@\t\r", cell[:1]) {
				t.Errorf("a spreadsheet computes %q", cell)
			}
			all.WriteString(cell + "\n")
		}
		if _, err := time.Parse(time.RFC3339, row[0]); err != nil {
			t.Error(err)
		}
	}
	for _, want := range []string{"'=HYPERLINK(\"x\";\"y\")\n", "'-Bea \"B\" | C_d_e\n",
		"found: +cmd|' /C calc'!A0, seen; <b>*so*</b> \\ `twice`\n"} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("%q does not come back", want)
		}
	}
}

// TestFiguresAreATable: RFC 4180, a row a machine and month, with numbers a spreadsheet reads.
func TestFiguresAreATable(t *testing.T) {
	out := runAt(t, demoFile(t), formatsNow, "figures", "--format", "csv")
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil || strings.Count(out, "\n") != strings.Count(out, "\r\n") {
		t.Fatal(err)
	}
	if len(rows) != 1+7*12 {
		t.Errorf("%d rows of seven machines and twelve months", len(rows))
	}
	for _, row := range rows[1:] {
		if strings.ContainsAny(row[0][:1], "=+-@") {
			t.Errorf("a spreadsheet computes %q", row[0])
		}
		if _, err := time.Parse("2006-01", row[1]); err != nil {
			t.Error(err)
		}
		for i, cell := range row[2:] {
			var v float64
			if rows[0][i+2] != "currency" && cell != "" && json.Unmarshal([]byte(cell), &v) != nil {
				t.Errorf("%s of %s in %s is no number: %q", rows[0][i+2], row[0], row[1], cell)
			}
		}
	}
}

// TestMarkdownShowsWhatWasTyped: rendered, a text stands as it was typed and is no markup.
func TestMarkdownShowsWhatWasTyped(t *testing.T) {
	out := runAt(t, demoFile(t), formatsNow, "book", "--format", "markdown")
	var html bytes.Buffer
	md := goldmark.New(goldmark.WithExtensions(extension.GFM))
	if err := md.Convert([]byte(out), &html); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<h2>2026-11-25</h2>", "+cmd|' /C calc'!A0, seen; " +
		"&lt;b&gt;*so*&lt;/b&gt; \\ `twice`", "-Bea &quot;B&quot; | C_d_e"} {
		if !strings.Contains(html.String(), want) {
			t.Errorf("%q is not shown", want)
		}
	}
}

// TestCalendarIsRead: RFC 5545, read back by a calendar library; the lines are exact.
func TestCalendarIsRead(t *testing.T) {
	file := demoFile(t)
	uids := map[string]string{}
	for _, c := range []struct{ now, flag, kind string }{
		{formatsNow, "", ical.CompEvent}, {"2026-12-04T23:50:00Z", "", ical.CompEvent},
		{formatsNow, "--task", ical.CompToDo},
	} {
		args := slices.DeleteFunc([]string{"due", "--format", "ics", c.flag},
			func(s string) bool { return s == "" })
		out := runAt(t, file, c.now, args...)
		for _, l := range strings.SplitAfter(out, "\n") {
			if l != "" && !strings.HasSuffix(l, "\r\n") || len(strings.TrimSuffix(l, "\r\n")) > 75 {
				t.Errorf("the line %q is not one of RFC 5545, 3.1", l)
			}
		}
		cal, err := ical.NewDecoder(strings.NewReader(out)).Decode()
		if err != nil {
			t.Fatal(err)
		}
		if err := ical.NewEncoder(io.Discard).Encode(cal); err != nil {
			t.Errorf("what is wanted of a calendar is not in it: %v", err)
		}
		seen := map[string]bool{}
		for _, item := range cal.Children {
			checkItem(t, item, c.kind, c.now[:10])
			uid, err := item.Props.Text(ical.PropUID)
			title, _ := item.Props.Text(ical.PropSummary)
			if err != nil || uid == "" || seen[uid] {
				t.Errorf("%s: UID %q, %v", title, uid, err)
			}
			if was := uids[uid]; was != "" && was != title {
				t.Errorf("UID %s was %q and is %q", uid, was, title)
			}
			seen[uid], uids[uid] = true, title
		}
		if len(seen) < 20 {
			t.Errorf("only %d items", len(seen))
		}
	}
}

// checkItem wants an item of a kind that lies today or later and lasts a day at least.
func checkItem(t *testing.T, item *ical.Component, kind, today string) {
	t.Helper()
	end := ical.PropDateTimeEnd
	if kind == ical.CompToDo {
		end = ical.PropDue
	}
	title, err := item.Props.Text(ical.PropSummary)
	if item.Name != kind || err != nil || title == "" {
		t.Errorf("%s %q, %v", item.Name, title, err)
	}
	if note, err := item.Props.Text(ical.PropDescription); err != nil ||
		note != strings.TrimSpace(note) {
		t.Errorf("%s: note %q, %v", title, note, err)
	}
	from, err := item.Props.DateTime(ical.PropDateTimeStart, time.UTC)
	if err != nil {
		t.Error(err)
	}
	to, err := item.Props.DateTime(end, time.UTC)
	if err != nil || from.Format(time.DateOnly) < today || to.Sub(from) < 24*time.Hour {
		t.Errorf("%s: from %v to %v, %v", title, from, to, err)
	}
}

// TestBookHoldsToItsSchema: every line of the book is one of entry.schema.json, and every kind of
// entry is known to it with all its parts.
func TestBookHoldsToItsSchema(t *testing.T) {
	path := filepath.Join(root, "ui", "book", "entry.schema.json")
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	schema, err := c.Compile(path)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	dec := json.NewDecoder(strings.NewReader(runAt(t, demoFile(t), formatsNow, "book", "--json")))
	for dec.More() {
		var line map[string]any
		if err := dec.Decode(&line); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(line); err != nil {
			t.Errorf("%v: %v", line, err)
		}
		kinds[line["kind"].(string)]++
		line["colour"] = "red"
		if schema.Validate(line) == nil {
			t.Fatal("a key that no document names is let pass")
		}
	}
	for _, kind := range []string{"machine", "reading", "care", "swap", "stock", "finding", "strike",
		"begun", "walk", "closed", "text"} {
		if kinds[kind] == 0 {
			t.Errorf("the bench has no entry of the kind %s", kind)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Defs map[string]struct{ Properties map[string]any } `json:"$defs"`
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	documented(t, reflect.TypeFor[model.Entry](), doc.Defs["Entry"].Properties)
	fact := reflect.TypeFor[model.Fact]()
	for i := range fact.NumField() {
		if part := fact.Field(i).Type; part.Kind() == reflect.Pointer {
			documented(t, part.Elem(), doc.Defs[part.Elem().Name()].Properties)
		}
	}
}

// documented wants every key of a part of an entry in the schema.
func documented(t *testing.T, of reflect.Type, known map[string]any) {
	t.Helper()
	for i := range of.NumField() {
		f := of.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous {
			documented(t, f.Type, known)
		} else if known[name] == nil {
			t.Errorf("the schema does not know %s of %s", name, of.Name())
		}
	}
}
