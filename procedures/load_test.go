package procedures

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// small is a sound file with a given id and more lines for its head.
func small(id, head string) string {
	return "id = \"" + id + "\"\ntitle = \"Wipe the rod\"\npurpose = \"A clean rod glides.\"\nkind = \"care\"\nhandson = 1\n" + head + `
[require]
power = "unplugged"

[[step]]
name = "wipe"
do = "Wipe the rod."
gate = "confirm"
`
}

// parsed puts sound files into a library of their own.
func parsed(t *testing.T, files map[string]string) *Library {
	t.Helper()
	l := newLibrary()
	for id, text := range files {
		p, tree, problems := parse(id+".toml", []byte(text), true)
		if len(problems) > 0 {
			t.Fatalf("%s: %v", id, problems)
		}
		l.put(p, tree)
	}
	return l
}

// says tells whether a problem with this text in it is among them.
func says(ps []Problem, file, text string) bool {
	for _, p := range ps {
		if p.File == file && strings.Contains(p.Text, text) {
			return true
		}
	}
	return false
}

func TestOwnFiles(t *testing.T) {
	builtin, _ := Load("")
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	// replaces a built-in
	write("camera-clean.toml", small("camera-clean", "rung = \"airing\"\n"))
	write("shelf-dust.toml", small("shelf-dust", "rung = \"dust\"\n")) // adds one
	write("fans-blow.toml", small("fans-blow", "rung = \"dsut\"\n"))   // broken form
	// broken meaning
	write("rods-wipe.toml", small("rods-wipe", "rung = \"oil\"\nafter = [\"no\"]"))
	write("cover-off.toml", strings.Replace(small("cover-off", ""), `"care"`, `"setup"`, 1))
	write("desk-power.toml", small("desk-power", "rung = \"dust\"\nowns = [\"power\"]\n"))
	write("needs-broken.toml", small("needs-broken", "rung = \"dust\"\nafter = [\"broken-one\"]\n"))
	write("broken-one.toml", small("broken-one", "rung = \"dust\"\nafter = [\"nowhere-known\"]\n"))
	write("notes.txt", "not a procedure")
	write("cut-short.toml", "id = \"cut")
	if err := os.Mkdir(filepath.Join(dir, "folder.toml"), 0o700); err != nil {
		t.Fatal(err)
	}
	l, problems := Load(dir)
	for _, id := range []string{"camera-clean", "shelf-dust"} {
		if p := l.Get(id); p == nil || !p.Yours || p.Title != "Wipe the rod" {
			t.Errorf("%s is not the own file: %+v", id, p)
		}
	}
	for _, id := range []string{"fans-blow", "rods-wipe", "cover-off"} {
		if !reflect.DeepEqual(l.Get(id), builtin.Get(id)) {
			t.Errorf("%s: the built-in did not stay", id)
		}
	}
	for _, id := range []string{"desk-power", "needs-broken", "broken-one"} {
		if l.Get(id) != nil {
			t.Errorf("%s was taken in", id)
		}
	}
	for _, want := range [][2]string{
		{"fans-blow.toml", `unknown rung "dsut"`},
		{"rods-wipe.toml", `unknown procedure "no"`},
		{"cover-off.toml", "own files cannot be set-up actions"},
		{"desk-power.toml", "may not own power"},
		{"broken-one.toml", `unknown procedure "nowhere-known"`},
		{"needs-broken.toml", `unknown procedure "broken-one"`},
		{"cut-short.toml", "cannot be read"},
	} {
		if !says(problems, want[0], want[1]) {
			t.Errorf("no problem %q of %s in %v", want[1], want[0], problems)
		}
	}
	for _, p := range problems {
		if p.File == "notes.txt" || p.File == "camera-clean.toml" || p.File == "shelf-dust.toml" ||
			strings.Contains(p.String(), dir) {
			t.Errorf("unwanted problem: %v", p)
		}
	}
}

// checkFile checks one file alone.
func checkFile(l *Library, name, text string) []Problem {
	return l.CheckFiles([]Source{{Name: name, Data: []byte(text)}})[0]
}

func TestCheckFile(t *testing.T) {
	l, _ := Load("")
	before := l.Get("camera-clean")
	problems := checkFile(l, "camera-clean.toml", small("camera-clean", "rung = \"airing\"\n"))
	if len(problems) > 0 || l.Get("camera-clean") != before {
		t.Errorf("sound file: %v, library changed: %v", problems, l.Get("camera-clean") != before)
	}
	for name, tc := range map[string]struct{ file, text, want string }{
		"form": {"a.toml", "id = 3", `"id" in the file`},
		"meaning": {"b.toml", small("b", "rung = \"dust\"\nafter = [\"no\"]\n"),
			"unknown procedure"},
		"no proof more": {"self-check.toml", small("self-check", "rung = \"dust\"\n"),
			`as its proof`},
		"set-up action": {"heat.toml", small("heat", "rung = \"dust\"\n"), "id of a set-up action"},
		"nothing":       {"c.toml", "", `no "id"`},
	} {
		if problems := checkFile(l, tc.file, tc.text); !says(problems, tc.file, tc.want) {
			t.Errorf("%s: %v, want %q", name, problems, tc.want)
		}
	}
}

// TestTooManyWays: a file that branches beyond counting is refused, not run for ever.
func TestTooManyWays(t *testing.T) {
	text := small("x", "rung = \"dust\"\nneeds_any = [\"self-check\"]\n")
	for i, f := range model.Features {
		text += fmt.Sprintf(
			"\n[[step]]\nname = \"s%d\"\ndo = \"Look.\"\ngate = \"choice\"\nonly = [%q]\n"+
				"options = [\"a\", { is = \"b\", miss = { then = \"part\", step = \"end\", say = \"Wait.\" } }]\n", i, f)
	}
	text += "\n[[step]]\nname = \"end\"\ndo = \"Look.\"\ngate = \"confirm\"\n"
	if problems := checkFile(newLibrary(), "x.toml", text); !says(problems, "x.toml",
		"branches in too many ways") {
		t.Error(problems)
	}
}

func TestOwnFolder(t *testing.T) {
	want, _ := Load("")
	got, problems := Load(filepath.Join(t.TempDir(), "not-there"))
	if len(problems) != 0 || len(got.All()) != len(want.All()) {
		t.Errorf("a folder that is not there: %v", problems)
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if got, problems = Load(file); len(problems) != 1 || len(got.All()) != len(want.All()) {
		t.Errorf("a file in place of the folder: %v", problems)
	}
	dir := t.TempDir()
	big := filepath.Join(dir, "big.toml")
	if err := os.WriteFile(big, []byte(strings.Repeat("# big\n", maxFileSize/6+1)),
		0o600); err != nil {
		t.Fatal(err)
	}
	if _, problems = Load(dir); !says(problems, "big.toml", "larger than") {
		t.Errorf("a file too large: %v", problems)
	}
}

// TestManyTablesAreNotRead: a file of as many tables or values as fit is refused before it is
// decoded, which would take seconds of each command.
func TestManyTablesAreNotRead(t *testing.T) {
	for name, part := range map[string]string{"tables": "[[step]]\n", "others": "[a%d]\n",
		"values": "k%d = 1\n", "inline": "x%d={a=1}\n"} {
		var b strings.Builder
		for i := 0; b.Len() < maxFileSize-20; i++ {
			b.WriteString(strings.ReplaceAll(part, "%d", strconv.Itoa(i)))
		}
		if _, _, problems := parse(name+".toml", []byte(b.String()), true); len(problems) != 1 ||
			!says(problems, name+".toml", "tables and values") {
			t.Errorf("%s: %d problems, the first %v", name, len(problems), problems[0])
		}
	}
}

func TestCircleIsNamedWhole(t *testing.T) {
	for _, tc := range []struct {
		name  string
		files map[string]string
		want  string
	}{
		{"by after", map[string]string{
			"fans-blow":    small("fans-blow", "rung = \"dust\"\nafter = [\"camera-clean\"]\n"),
			"camera-clean": small("camera-clean", "rung = \"dust\"\nafter = [\"rods-wipe\"]\n"),
			"rods-wipe":    small("rods-wipe", "rung = \"dust\"\nafter = [\"fans-blow\"]\n"),
		}, "camera-clean -> fans-blow -> rods-wipe -> camera-clean"},
		{"by rung and after", map[string]string{
			"fans-blow":    small("fans-blow", "rung = \"dust\"\nafter = [\"belts-reset\"]\n"),
			"belts-reset":  small("belts-reset", "rung = \"belts\"\n"),
			"camera-clean": small("camera-clean", "rung = \"dust\"\n"),
		}, "belts-reset -> fans-blow -> belts-reset"},
		{"only on some machines", map[string]string{
			"rods-wipe": small("rods-wipe",
				"rung = [{ is = \"solvent\", only = [\"bush-polymer\"] }, { is = \"oil\" }]\nafter = [\"rails-grease\"]\n"),
			"rails-grease": small("rails-grease", "rung = \"oil\"\n"),
		}, "rails-grease -> rods-wipe -> rails-grease"},
		{"none", map[string]string{
			"fans-blow":   small("fans-blow", "rung = \"dust\"\n"),
			"belts-reset": small("belts-reset", "rung = \"belts\"\nafter = [\"fans-blow\"]\n"),
		}, ""},
	} {
		var circles []string
		for _, p := range parsed(t, tc.files).CheckAll() {
			if strings.Contains(p.Text, "circle") {
				circles = append(circles, p.Text)
			}
		}
		switch {
		case tc.want == "" && len(circles) > 0:
			t.Errorf("%s: %v", tc.name, circles)
		case tc.want != "" &&
			(len(circles) != 1 || !strings.Contains(circles[0], ": "+tc.want+";")):
			t.Errorf("%s: %v, want %s once", tc.name, circles, tc.want)
		}
	}
}

func TestFilesMustAgree(t *testing.T) {
	ask := func(q string) string { return "\n[[setting]]\nname = \"rods\"\nask = \"" + q + "\"\n" }
	measure := func(unit string) string {
		return "\n[[step]]\nname = \"gap\"\ndo = \"Read it.\"\ngate = \"measure\"\nquantity = \"gap\"\nunit = \"" + unit + "\"\n"
	}
	head := "rung = \"dust\"\n"
	l := parsed(t, map[string]string{
		"fans-blow":    small("fans-blow", head) + ask("How many rods?") + measure("mm"),
		"camera-clean": small("camera-clean", head) + ask("Which rods?") + measure("cm"),
		"rods-wipe": small("rods-wipe", head) +
			"\n[[step]]\nname = \"b\"\ndo = \"Look.\"\ngate = \"confirm\"\nmiss = { then = \"due\", procedures = [\"heat\", \"rods-wipe\"], say = \"Again.\" }\n",
		"heat":        strings.Replace(small("heat", ""), `"care"`, `"setup"`, 1),
		"belts-reset": small("belts-reset", head+"proof = [\"fans-blow\"]\n"),
		"blade-check": small("blade-check", head), "blade-check-look": small("blade-check-look",
			head),
	})
	ps := l.CheckAll()
	for _, want := range [][2]string{
		{"fans-blow.toml", `setting "rods" is also asked by camera-clean`},
		{"camera-clean.toml", `"gap" is measured in cm here and in mm by fans-blow`},
		{"rods-wipe.toml", `"heat" is a set-up action`},
		{"belts-reset.toml", `"fans-blow" is no proof`},
		{"blade-check.toml", `write counts_as = ["blade-check-look"]`},
	} {
		if !says(ps, want[0], want[1]) {
			t.Errorf("no problem %q of %s in %v", want[1], want[0], ps)
		}
	}
	if says(ps, "rods-wipe.toml", "names itself") {
		t.Error("a miss may make its own procedure due again")
	}
}

func TestPairsOfSetUps(t *testing.T) {
	l, _ := Load("")
	off, on := *l.Get("cover-off"), *l.Get("cover-on")
	if len(off.Steps) == 0 || len(on.Steps) == 0 {
		t.Fatal("the pair is not in the library")
	}
	alone := newLibrary()
	alone.put(&off, nil)
	if !says(alone.Check(&off), off.File, "not shown to come back") {
		t.Error("cover-off without its counterpart leaves nothing out")
	}
	alone.put(&on, nil)
	if ps := alone.Check(&off); len(ps) > 0 {
		t.Errorf("cover-off with its counterpart: %v", ps)
	}
}

func TestSetUpsInOrder(t *testing.T) {
	l, _ := Load("")
	var got []string
	for _, p := range l.SetUps() {
		got = append(got, p.ID)
	}
	var want []string
	for _, s := range setUpTable {
		want = append(want, s.id)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("set-up actions %v, want %v", got, want)
	}
	for _, p := range l.All() {
		if p.Kind == model.SetUp {
			t.Errorf("%s is among the care", p.ID)
		}
	}
}

// TestRoundTrip: what a file says comes through the stored text unchanged.
func TestRoundTrip(t *testing.T) {
	l, _ := Load("")
	for _, p := range append(append([]*model.Procedure{parseGood(t)}, l.All()...), l.SetUps()...) {
		hash, data := model.Text(p)
		q, err := model.ReadText(data)
		if err != nil {
			t.Fatal(err)
		}
		q.File = p.File
		if again, _ := model.Text(q); again != hash || !reflect.DeepEqual(p, q) {
			t.Errorf("%s comes back changed", p.ID)
		}
	}
}

func TestGoodFileIsClean(t *testing.T) {
	l, _ := Load("")
	data, err := os.ReadFile(goodFile)
	if err != nil {
		t.Fatal(err)
	}
	p, tree, problems := parse("every-gate.toml", data, true)
	l.put(p, tree)
	for _, pr := range append(problems, l.Check(p)...) {
		t.Error(pr)
	}
}

func TestProblemString(t *testing.T) {
	if got := (Problem{"a.toml", 3, "wrong"}).String(); got != "a.toml:3: wrong" {
		t.Error(got)
	}
	if got := (Problem{File: "a.toml", Text: "wrong"}).String(); got != "a.toml: wrong" {
		t.Error(got)
	}
}
