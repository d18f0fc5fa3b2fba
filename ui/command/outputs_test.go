package command

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/figures"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/symptom"
	shelf "bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/demo"
)

type (
	// bookLines are those of the book, an object a line.
	bookLines struct{}
	// fileRow is a file that was written.
	fileRow struct {
		File string `json:"file"` // its path
	}
	// restoredRow is a backup put in place.
	restoredRow struct {
		File   string `json:"file"`   // the data file
		Before string `json:"before"` // what lay there before; "" for nothing
	}
	// newRow is a procedure file begun.
	newRow struct {
		ID   string `json:"id"`
		File string `json:"file"`
	}
	// handedRow is the record of a machine, written to a file.
	handedRow struct {
		File    string `json:"file"`
		Entries int    `json:"entries"` // written
	}
	// takenRow is a record taken in.
	takenRow struct {
		File    string `json:"file"`
		Entries int    `json:"entries"` // new
		Known   int    `json:"known"`   // on record already
	}
	// readingsRow is a table of readings taken in.
	readingsRow struct {
		File     string `json:"file"`
		Lines    int    `json:"lines"`
		Readings int    `json:"readings"` // new
		Known    int    `json:"known"`    // lines on record already
	}
	// calculatorRow is a calculator.
	calculatorRow struct {
		ID      string `json:"id"`
		Group   string `json:"group"`
		Title   string `json:"title"`
		Purpose string `json:"purpose"`
	}
	// changesRow is what job --changes counts in a file.
	changesRow struct {
		File    string `json:"file"`
		Changes int64  `json:"changes"`        // of filament
		ByHand  int64  `json:"manual_changes"` // of them
		Service int64  `json:"service_calls"`
	}
)

// mixed are rows of several types in one list.
type mixed []any

// writes is a command, and what it writes with --json: the types of it, and command lines that
// bring it, run one after the other on the invented bench; or why it writes none.
type writes struct {
	words string
	of    []any
	lines []string
	none  string
}

// outputs are what every command writes. TEMP is a folder, FINDING the first finding that was
// added.
var outputs = []writes{
	{words: "", of: []any{[]gaugeRow{}}, lines: []string{""}},
	{words: "machine", none: "holds commands"},
	{words: "machine add", of: []any{[]model.Entry{}},
		lines: []string{"Stint --features full --hours 12"}},
	{words: "machine edit", of: []any{[]model.Entry{}},
		lines: []string{"Stint --duty production", "Stint --duty production"}},
	{words: "machine list", of: []any{[]machineRow{}}, lines: []string{"", "--all"}},
	{words: "machine hand-over", of: []any{handedRow{}}, lines: []string{"Heron TEMP/heron.jsonl"}},
	{words: "machine take-in", of: []any{takenRow{}}, lines: []string{"TEMP/heron.jsonl"}},
	{words: "machine retire", of: []any{[]model.Entry{}}, lines: []string{"Stint"}},
	{words: "meter", of: []any{[]model.Entry{}}, lines: []string{"Dunlin hours=2825"}},
	{words: "swap", of: []any{[]model.Entry{}},
		lines: []string{"blade Heron --worn", "wiper Heron --lost"}},
	{words: "done", of: []any{[]model.Entry{}}, lines: []string{"rods-wipe Heron"}},
	{words: "fail", of: []any{[]model.Entry{}}, lines: []string{"Heron --why warping --note tall"}},
	{words: "finding", none: "holds commands"},
	{words: "finding add", of: []any{[]model.Entry{}},
		lines: []string{"Heron squeal --again 7d", "Wigeon brown-plug --stop"}},
	{words: "finding list", of: []any{[]findingRow{}}, lines: []string{""}},
	{words: "finding move", of: []any{[]model.Entry{}}, lines: []string{"FINDING 9d"}},
	{words: "finding close", of: []any{[]model.Entry{}}, lines: []string{"FINDING --why oiled"}},
	{words: "gauges", of: []any{[]gaugeRow{}}, lines: []string{"", "Heron"}},
	{words: "due", of: []any{mixed{dueRow{}, standsRow{}}},
		lines: []string{"", "--within 60d --all"}},
	{words: "plan", of: []any{plan.Plan{}},
		lines: []string{"Heron", "Plover --minutes 30", "Plover --leave unplugged"}},
	{words: "walk", none: "is talked to"},
	{words: "sheet", none: "is a page"},
	{words: "job", of: []any{jobRow{}, []jobRow{}, []changesRow{}, []bookedRow{}},
		lines: []string{"TEMP/a.gcode --on Heron", "TEMP/a.gcode TEMP/b.gcode",
			"TEMP/a.gcode --changes",
			"TEMP/a.gcode --on Heron --book", ""}},
	{words: "symptom", of: []any{[]symptom.Symptom{}, symptomJSON{}},
		lines: []string{"", "ringing Heron", "scorch-smell Heron", "ringing"}},
	{words: "measure", of: []any{[]calculatorRow{}, []runJSON{}, measureJSON{}},
		lines: []string{"", "belt span=150 tone=110", "--on Heron"}},
	{words: "drawer", of: []any{[]stockRow{}}, lines: []string{""}},
	{words: "drawer count", of: []any{[]model.Entry{}}, lines: []string{"blade=3 --price 2.40"}},
	{words: "drawer receive", of: []any{[]model.Entry{}}, lines: []string{"blade=5"}},
	{words: "book", of: []any{bookLines{}}, lines: []string{"", "Heron --since 30d"}},
	{words: "figures", of: []any{[]figures.Figures{}}, lines: []string{"", "Teal"}},
	{words: "strike", of: []any{[]model.Entry{}}, lines: []string{"FINDING --why no"}},
	{words: "procedures", none: "holds commands"},
	{words: "procedures list", of: []any{[]model.Procedure{}}, lines: []string{""}},
	{words: "procedures show", of: []any{model.Procedure{}},
		lines: []string{"dry-filament", "belts-reset", "switch-on"}},
	{words: "procedures new", of: []any{newRow{}}, lines: []string{"hinge-oil"}},
	{words: "procedures check", of: []any{[]fileReport{}}, lines: []string{"TEMP/bad.toml"}},
	{words: "import", of: []any{readingsRow{}, takenRow{}},
		lines: []string{"TEMP/readings.csv", "TEMP/heron.jsonl"}},
	{words: "backup", of: []any{fileRow{}}, lines: []string{"TEMP/b.oilcan"}},
	{words: "restore", of: []any{restoredRow{}}, lines: []string{"TEMP/b.oilcan"}},
	{words: "check", of: []any{checkReport{}}, lines: []string{""}},
	{words: "demo", of: []any{fileRow{}}, lines: []string{"--print"}},
	{words: "completion", none: "is a script"},
}

// TestOutputsHoldToTheSchema: every command is in the table above, and what it writes with --json
// is what output.schema.json says, no key more.
func TestOutputsHoldToTheSchema(t *testing.T) {
	for _, v := range verbs {
		if !slices.ContainsFunc(outputs, func(o writes) bool {
			return o.words == v.words
		}) {
			t.Errorf("oilcan %s: say in outputs what it writes with --json", v.words)
		}
	}
	temp := t.TempDir()
	file := filepath.Join(temp, "bench.oilcan")
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	benchOf(t, file, now)
	for name, text := range map[string]string{
		"a.gcode":      "M83\nG28\nG1 X10 Y10 Z0.2 E1 F1200\nT1\nG1 X60 E9\n",
		"b.gcode":      "M83\nG1 X10 E1 F1200\n",
		"bad.toml":     "id = \"x\"\n",
		"readings.csv": "at,machine,hours\n2026-11-25,Dunlin,2826\n",
	} {
		if err := os.WriteFile(filepath.Join(temp, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	finding := ""
	for _, o := range outputs {
		for _, line := range o.lines {
			words := o.words + " " + strings.NewReplacer("TEMP", temp, "FINDING", finding).Replace(
				line)
			out, errs, code := runDemo(t, file, append(strings.Fields(words), "--json")...)
			if code != Done && code != No {
				t.Errorf("oilcan %s: %d, %s", words, code, errs)
				continue
			}
			if id := regexp.MustCompile(`"id": "(\w+)"`).FindStringSubmatch(
				out); o.words == "finding add" &&
				id != nil && finding == "" {
				finding = id[1]
			}
			held(t, o.words, words, out)
		}
	}
}

// runDemo is run by a program that can make a demo; this one is empty.
func runDemo(t *testing.T, file string, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	clock, err := NewClock(time.Now, "2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	env := map[string]string{"OILCAN_FILE": file, "LANG": "C.UTF-8", "HOME": t.TempDir()}
	code = Run(Deps{Clock: clock, Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs,
		Env: func(k string) string { return env[k] }, Version: "test",
		TempDir:  func() (string, error) { return t.TempDir(), nil },
		MakeDemo: func(string, *shelf.Library, time.Time) error { return nil },
	}, args)
	return out.String(), errs.String(), code
}

// held validates what a command wrote.
func held(t *testing.T, words, line, out string) {
	t.Helper()
	schema := compiled(t, words)
	dec := json.NewDecoder(strings.NewReader(out))
	n := 0
	for ; ; n++ {
		var v any
		err := dec.Decode(&v)
		if err == io.EOF {
			break
		} else if err != nil {
			t.Errorf("oilcan %s: %v in %.200s", line, err, out)
			return
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("oilcan %s: %v", line, err)
			return
		}
	}
	if n == 0 {
		t.Errorf("oilcan %s writes nothing", line)
	}
}

// benchOf writes the invented bench.
func benchOf(t *testing.T, file string, now time.Time) {
	t.Helper()
	st, err := store.Open(file, func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	lib, _ := shelf.Load("")
	if _, err := st.AppendAll(demo.Actions(lib.All(), now, 7)); err != nil {
		t.Fatal(err)
	}
}
