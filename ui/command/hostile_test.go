package command

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"bench/oilcan/model"
	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
)

// hostile is what no terminal may be given: the clipboard (OSC 52), a colour, a C1 introducer,
// marks that turn the direction, have no width or cannot be seen.
const hostile = "\x1b]52;c;QUJD\x07\x1b[35;5mred\u009b31m\u0085\u202eabc\u2066\u200b\u200d\ufeff\u00ad\x7f\r"

// obeyed is the first rune of an output that a terminal would obey or hide, 0 for none.
func obeyed(s string) rune {
	for _, r := range strings.ReplaceAll(s, "\r\n", "\n") { // CR LF ends the rows of some formats
		if r != '\n' && r != '\t' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) ||
			r == 0x2028 || r == 0x2029 {
			return r
		}
	}
	return 0
}

// craftedBench is a data file in which every text a person could have typed, and every word the
// program would have set, is hostile. The machine's name still begins with Heron.
func craftedBench(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	for _, line := range []string{
		"machine add Heron --features full --duty home --hours 1200 --changes 3400 --set plug-tag=plugtext --band blade-check=2000-3500",
		"swap blade Heron --worn", "done rods-wipe Heron",
		"finding add Heron seentext --again 2026-12-20",
		"finding add Heron --stop stoptext", "symptom ringing Heron --not-cured belts-reset",
		"drawer count blade=1 --minimum 2",
	} {
		if _, errs, code := run(t, file, strings.Split(line, " ")...); code != Done {
			t.Fatalf("%s: %s", line, errs)
		}
	}
	begunOn(t, file)
	h := storetest.JSON(t, hostile)
	bare := strings.Trim(h, `"`)
	storetest.Craft(t, file, map[string]string{
		`"Heron"`: `"Heron` + bare + `"`, `"home"`: h, `"plugtext"`: h, `"seentext"`: h,
		`"stoptext"`: h, `"kind":"note"`: `"kind":` + h,
		`"kind":"stopped"`: `"kind":` + h, `"Ada"`: h, `"titletext"`: h, `"step 3 of 9"`: h,
		`"filetext"`: h, `"blade"`: `"blade` + bare + `"`,
		`"worn"`: h, `"end":"unknown"`: `"end":` + h,
		`"stock":{"part":"blade"`: `"stock":{"part":"blade"`,
		`"rods-wipe"`:             `"rods-wipe` + bare + `"`, `"not cured"`: h,
		`"blade-check":{`: `"blade-check` + bare + `":{`,
	})
	return file
}

// begunOn begins a session on Heron, leaves it at a step, and books a print.
func begunOn(t *testing.T, file string) {
	t.Helper()
	now := time.Date(2026, 11, 25, 11, 0, 0, 0, time.UTC)
	st, err := store.Open(file, func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	b, err := st.Bench()
	if err != nil {
		t.Fatal(err)
	}
	m, err := model.FindMachine(b, "Heron")
	if err != nil {
		t.Fatal(err)
	}
	es, err := st.Append(model.Action{Machine: m.ID, By: "Ada", Ordinal: 1,
		Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "titletext"}}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range []model.Action{
		{Machine: m.ID, By: "Ada", Session: es[0].Session, Ordinal: 2,
			Facts: []model.Fact{{Kind: model.KindWalk,
				Walk: &model.Walked{What: "paused", Position: "step 3 of 9"}}}},
		{Machine: m.ID, By: "Ada",
			Facts: []model.Fact{{Kind: model.KindBooked,
				Booked: &model.PrintJob{File: "filetext",
					Need: map[model.Meter]float64{model.Changes: 3}}}}},
	} {
		if _, err := st.Append(a); err != nil {
			t.Fatal(err)
		}
	}
}

// hostileLines are command lines on a crafted bench: every command, most with --json too.
var hostileLines = []string{
	"", "machine list", "machine list --all", "machine edit Heron --duty home",
	"machine edit Heron --features +wiper", "machine edit Heron --in-use",
	"machine edit Heron --clear-tag --why x", "machine retire Heron", "machine add Heron",
	"machine edit Heron --care starter", "machine edit Heron --name Heron2",
	"meter Heron hours=1300", "meter Heron hours=1", "meter Heron hours=1 --correct",
	"swap blade Heron --worn", "done rods-wipe Heron", "done rods-wipe Heron Heron",
	"finding list", "finding list Heron", "finding add Heron seen", "finding add Heron x --stop",
	"finding close x --why y", "finding move x 7d",
	"gauges", "gauges Heron --all", "due", "due --within 90d", "due --check", "plan Heron",
	"plan Heron --only rods-wipe", "walk Heron", "walk Heron --resume",
	"walk Heron --give-up tired", "job", "job --on Heron", "job ZIP", "job ZIP --on Heron",
	"job ZIP --on Heron --record", "job ZIP --on Heron --book", "job ZIP --changes", "job BADZIP",
	"symptom", "symptom ringing Heron", "symptom ringing", "symptom smoke Heron",
	"symptom smoke Heron --tag", "symptom ringing Heron --cured belts-reset",
	"drawer", "drawer count blade=2", "drawer receive blade=1", "book", "book Heron --steps",
	"sheet", "sheet Heron", "sheet Heron --format markdown", "plan Heron --sheet",
	"machine hand-over Heron FOLDER/h", "machine take-in CSV",
	"book --format csv", "book --format markdown", "due --format ics",
	"strike x --why y", "strike ENTRY --why y",
	"procedures list", "procedures show rods-wipe", "procedures check FOLDER/x.toml",
	"procedures check OWN", "procedures new hinge-oil --out FOLDER",
	"procedures new hinge-oil --out FOLDER/no/x.toml",
	"import CSV", "import BADCSV", "backup FOLDER/copy", "backup FOLDER/no/copy",
	"restore FOLDER/none", "restore FILE", "check", "demo", "completion bash",
	"__complete gauges ", "__complete machine edit ", "__complete finding close ", "__complete finding move ",
	"__complete swap blade ", "walk Heron HOSTILE", "gauges HOSTILE", "HOSTILE", "--HOSTILE",
	"done HOSTILE Heron", "swap HOSTILE Heron", "symptom HOSTILE Heron",
	"finding add Heron HOSTILE", "--file FOLDER/none gauges",
}

// TestNothingStoredReachesATerminalRaw runs every command on a crafted bench, from a folder with a
// crafted name: nothing a terminal would obey or hide is written, JSON stays whole.
func TestNothingStoredReachesATerminalRaw(t *testing.T) {
	file := craftedBench(t)
	for _, line := range hostileLines {
		for _, format := range []string{"", "--json"} {
			copied, words := hostilePlace(t, file, strings.TrimSpace(line+" "+format))
			out, errs, _ := run(t, copied, words...)
			if r := obeyed(out + errs); r != 0 {
				t.Errorf("%s %s: %U reaches the terminal:\n%q\n%q", line, format, r, out, errs)
			}
			if format != "" && strings.HasPrefix(out, "{") || strings.HasPrefix(out, "[") {
				for d := json.NewDecoder(strings.NewReader(out)); d.More(); {
					var v any
					if err := d.Decode(&v); err != nil {
						t.Errorf("%s %s: %v in %q", line, format, err, out)
						break
					}
				}
			}
		}
	}
}

// What programs read is what is on record, to the last character.
func TestJSONLosesNothing(t *testing.T) {
	out, _, _ := run(t, craftedBench(t), "machine", "list", "--json")
	var rows []struct{ Name, Duty string }
	if err := json.Unmarshal([]byte(out), &rows); err != nil || len(rows) != 1 {
		t.Fatalf("%v: %q", err, out)
	}
	if rows[0].Duty != hostile || rows[0].Name != "Heron"+hostile {
		t.Errorf("%q", rows)
	}
	if !strings.Contains(out, `\u009b`) || !strings.Contains(out, `\u202e`) ||
		!strings.Contains(out, `\u200b`) {
		t.Errorf("%q", out)
	}
}

// hostilePlace copies a data file into a folder of a hostile name, with what the words of a line
// name.
func hostilePlace(t *testing.T, file, line string) (copied string, words []string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "at"+strings.ReplaceAll(hostile, "\x00", ""))
	if err := os.Mkdir(dir, 0o700); err != nil {
		storetest.Lacks(t, "a file system that takes such a name", err)
	}
	put := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	copied = put("bench.oilcan", data)
	var z bytes.Buffer
	w := zip.NewWriter(&z)
	for _, name := range []string{"plate" + hostile + ".gcode", "x.gcode"} {
		f, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = f.Write([]byte("T0\nG1 X10 E5 F600\nT1\nG1 X20 E5\nT0 ;" + hostile + "\n"))
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	entry := "none"
	if strings.Contains(line, "ENTRY") {
		out, _, _ := run(t, file, "book", "--json")
		var e struct{ ID string }
		for d := json.NewDecoder(strings.NewReader(out)); d.More(); {
			if err := d.Decode(&e); err != nil {
				t.Fatal(err)
			}
		}
		entry = e.ID
	}
	put("x.toml", []byte("id = \""+"x"+"\"\ntitle = \"a\u009b\u202e\"\nkind = \"\\u001b\"\n"))
	names := map[string]string{"ZIP": put("a.3mf", z.Bytes()),
		"BADZIP": put("b.zip", z.Bytes()[:z.Len()/2]), "FILE": file, "ENTRY": entry,
		"HOSTILE": hostile,
		"CSV": put("a.csv",
			[]byte("at,machine,hours\n2026-11-25,Heron,1300\n")), "BADCSV": put("b.csv", []byte("at,machine,hours\n2026-11-25,"+hostile+",1\n")), "OWN": put("x"+hostile+".toml", []byte("id = 3"))}
	for _, word := range strings.Split(line, " ") {
		if to, ok := names[word]; ok {
			word = to
		}
		word = strings.ReplaceAll(word, "--HOSTILE", "--"+hostile)
		words = append(words, strings.ReplaceAll(word, "FOLDER", dir))
	}
	if line == "" {
		words = nil
	}
	return copied, words
}
