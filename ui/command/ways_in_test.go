package command

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench/oilcan/store"
	"bench/oilcan/store/storetest"
)

// desk is one operator's place: a data file, settings and procedures of its own.
type desk struct {
	t               *testing.T
	dir, home, file string
}

func newDesk(t *testing.T) *desk {
	t.Helper()
	d := &desk{t: t, dir: t.TempDir(), home: t.TempDir()}
	t.Chdir(d.dir) // "--file" takes the word behind it for a path
	d.file = filepath.Join(d.dir, "bench.oilcan")
	for _, line := range []string{
		"machine add Heron --features full --duty home --hours 1200 --changes 3400",
		"drawer count blade=20",
	} {
		if _, errs, code := d.run(strings.Split(line, " ")...); code != Done {
			t.Fatal(errs)
		}
	}
	return d
}

// run runs one command line with the desk's settings and procedures.
func (d *desk) run(args ...string) (stdout, stderr string, code int) {
	clock, err := NewClock(func() time.Time { return time.Unix(0, 0).UTC() }, "2026-11-25")
	if err != nil {
		d.t.Fatal(err)
	}
	var out, errs bytes.Buffer
	env := map[string]string{"OILCAN_FILE": d.file, "LANG": "C.UTF-8", "HOME": d.home}
	code = Run(Deps{Clock: clock, Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs,
		Env: func(k string) string { return env[k] }, Version: "test"}, args)
	return out.String(), errs.String(), code
}

// put writes a file of the desk.
func (d *desk) put(name string, data []byte) string {
	path := filepath.Join(d.home, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		d.t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		d.t.Fatal(err)
	}
	return path
}

// own puts a procedure file that is good but for one text in it.
func (d *desk) own(from, to string) {
	data, err := os.ReadFile(filepath.Join(library, "rods-wipe.toml"))
	if err != nil {
		d.t.Fatal(err)
	}
	changed := strings.Replace(string(data), from, to, 1)
	if changed == string(data) {
		d.t.Fatalf("%q is not in the procedure", from)
	}
	d.put(".config/oilcan/procedures/rods-wipe.toml", []byte(changed))
}

// library is the folder of the built-in procedures.
var library, _ = filepath.Abs("../../procedures/library")

// way is a way in: it brings a text, a date or a number to the program.
type way struct {
	name  string
	bring func(d *desk, x string)
}

func command(words ...string) func(*desk, string) {
	return func(d *desk, x string) {
		if strings.HasPrefix(x, "-") {
			return // typed like this it is a flag
		}
		args := make([]string, len(words))
		for i, w := range words {
			args[i] = strings.ReplaceAll(w, "X", x)
		}
		d.run(args...)
	}
}

// textWays are the ways for a text.
var textWays = []way{
	{"a name typed", command("machine", "add", "X", "--features", "full", "--duty", "home")},
	{"a name changed", command("machine", "edit", "Heron", "--name", "X")},
	{"a finding", command("finding", "add", "Heron", "X")},
	{"a stop", command("finding", "add", "Heron", "X", "--stop")},
	{"a reason", command("strike", "0000", "--why", "X")},
	{"a setting of a machine", command("machine", "edit", "Heron", "--set", "plug-tag=X")},
	{"a part", command("swap", "X", "Heron", "--worn")},
	{"a spare", command("drawer", "count", "X=3")},
	{"who", command("finding", "add", "Heron", "seen", "--by", "X")},
	{"a table", func(d *desk, x string) {
		csv := d.put("t.csv", []byte("at,machine,hours\n2026-11-20,"+x+",1300\n"))
		d.run("import", csv)
	}},
	{"settings", func(d *desk, x string) {
		d.put(".config/oilcan/config.toml", []byte("operator = "+strconv.Quote(x)+"\nbench = "+
			strconv.Quote(x)+"\n"))
		d.run("finding", "add", "Heron", "noted")
	}},
	{"a procedure's title", func(d *desk, x string) {
		d.own("title = \"", "title = "+strings.TrimSuffix(storetest.JSON(d.t, x), "\""))
		d.run("walk", "Heron", "--only", "rods-wipe")
	}},
	{"a member of a print file", func(d *desk, x string) {
		var z bytes.Buffer
		w := zip.NewWriter(&z)
		f, err := w.Create("plate" + x + ".gcode")
		if err != nil {
			d.t.Fatal(err)
		}
		_, _ = f.Write([]byte("T0\nG1 X10 E5 F600\nT1\nG1 X20 E5\n"))
		if err := w.Close(); err != nil {
			d.t.Fatal(err)
		}
		d.run("job", d.put("a.3mf", z.Bytes()), "--on", "Heron", "--book")
	}},
	{"the name of a print file", func(d *desk, x string) {
		if len(x) > 200 || strings.ContainsAny(x, "/\x00") {
			return // no file system has such a name
		}
		path := d.put("p"+x+".gcode", []byte("T0\nG1 X10 E5 F600\nT1\nG1 X20 E5\n"))
		d.run("job", path, "--on", "Heron", "--record")
	}},
	{"a backup restored", func(d *desk, x string) { d.crafted(`"plugtext"`, storetest.JSON(d.t, x)) }},
	{"a record taken in", func(d *desk, x string) { d.takenIn(`"plugtext"`, storetest.JSON(d.t, x)) }},
}

// dateWays are the ways for a date.
var dateWays = []way{
	{"a date typed", command("swap", "blade", "Heron", "--worn", "--at", "X")},
	{"last done", command("done", "rods-wipe", "Heron", "--at", "X")},
	{"meters", command("meter", "Heron", "hours=1300", "--at", "X")},
	{"a table", func(d *desk, x string) {
		d.run("import", d.put("t.csv", []byte("at,machine,hours\n"+x+",Heron,1300\n")))
	}},
	{"a backup restored", func(d *desk, x string) {
		if len(x) == len(time.DateOnly) {
			x += "T12:00:00Z"
		}
		d.crafted(`"at":"2026-11-25T12:00:00Z"`, `"at":`+storetest.JSON(d.t, x))
	}},
	{"a record taken in", func(d *desk, x string) {
		if len(x) == len(time.DateOnly) {
			x += "T12:00:00Z"
		}
		d.takenIn(`"at":"2026-11-25T12:00:00Z"`, `"at":`+storetest.JSON(d.t, x))
	}},
}

// numberWays are the ways for a number.
var numberWays = []way{
	{"meters", command("meter", "Heron", "hours=X")},
	{"a count", command("drawer", "count", "blade=X")},
	{"a band", command("machine", "edit", "Heron", "--band", "blade-check=X-3500")},
	{"a machine", command("machine", "add", "Teal", "--features", "full", "--hours", "X")},
	{"a table", func(d *desk, x string) {
		d.run("import", d.put("t.csv", []byte("at,machine,hours\n2026-11-20,Heron,"+x+"\n")))
	}},
	{"a backup restored", func(d *desk, x string) { d.crafted(`"value":1200`, `"value":`+x) }},
	{"a record taken in", func(d *desk, x string) { d.takenIn(`"value":1200`, `"value":`+x) }},
}

// crafted restores a file in which a text of the journal was changed and its sums made right.
func (d *desk) crafted(from, to string) {
	other := newDesk(d.t)
	if _, errs, code := other.run("machine", "edit", "Heron", "--set", "plug-tag=plugtext"); code != Done {
		d.t.Fatal(errs)
	}
	storetest.Craft(d.t, other.file, map[string]string{from: to})
	if st, err := store.Open(other.file, func() time.Time { return time.Now() }); err == nil {
		_ = st.Rebuild() // so that nothing but the rules speaks against it
	}
	d.run("restore", other.file)
}

// takenIn takes in the record of a machine of another bench in which a text was changed.
func (d *desk) takenIn(from, to string) {
	other, path := newDesk(d.t), filepath.Join(d.home, "record.jsonl")
	_ = os.Remove(path)
	for _, args := range [][]string{{"machine", "edit", "Heron", "--set", "plug-tag=plugtext"},
		{"machine", "hand-over", "Heron", path}} {
		if _, errs, code := other.run(args...); code != Done {
			d.t.Fatal(errs)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(data), from) {
		d.t.Fatalf("%v: %s is not in %s", err, from, data)
	}
	changed := strings.Replace(string(data), from, to, 1)
	d.put("record.jsonl", []byte(strings.ReplaceAll(changed, `"Heron"`, `"Teal"`)))
	d.run("machine", "take-in", path)
}

// TestEveryWayIn: what no rule allows gets into the data file by no way, and what a way lets in, cleaned
// or changed, is such that a backup of it can be restored: restoring judges every entry and text by the
// one list of rules.
func TestEveryWayIn(t *testing.T) {
	texts := []string{"\x1b[31m", "\x1b]52;c;QUJD\x07", "\u009b2J", "a\rb", "\u202e\u200b", "--file",
		strings.Repeat("x", 40_000)}
	dates := []string{"1970-01-01", "1989-12-31", "2200-01-01", "9999-12-31T00:00:00Z", "0000-00-00",
		"2026-02-30", "now-ish", ""}
	numbers := []string{"NaN", "Inf", "-1", "1e999", "0x10", "", "1,2,3"}
	for _, g := range []struct {
		what   string
		ways   []way
		values []string
	}{{"text", textWays, texts}, {"date", dateWays, dates}, {"number", numberWays, numbers}} {
		for _, w := range g.ways {
			t.Run(g.what+" by "+w.name, func(t *testing.T) {
				d := newDesk(t)
				for _, x := range g.values {
					w.bring(d, x)
				}
				copied := filepath.Join(d.dir, "copy.db")
				if out, errs, code := d.run("backup", copied); code != Done {
					t.Fatalf("%s%s", out, errs)
				}
				d.file = filepath.Join(d.dir, "again.oilcan")
				if out, errs, code := d.run("restore", copied); code != Done {
					t.Errorf("something came in that cannot be restored: %s%s", out, errs)
				}
				d.nothingBad(g.what, g.values)
			})
		}
	}
}

// nothingBad looks in the journal for the values themselves.
func (d *desk) nothingBad(what string, values []string) {
	out, _, _ := d.run("book", "--json", "--steps")
	for _, x := range values {
		bad := strings.Trim(storetest.JSON(d.t, x), `"`)
		switch {
		case what == "number" || x == "" || x == "--file": // judged by the restore
		case what == "text" && (x == "\u202e\u200b" || strings.HasPrefix(x, "xxx")):
		case strings.Contains(out, `:"`+bad):
			d.t.Errorf("%.40q is in the journal", x)
		}
	}
	if what == "text" && strings.Contains(out, strings.Repeat("x", 17_000)) {
		d.t.Error("a flood is in the journal")
	}
}
