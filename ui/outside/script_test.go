package outside

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"bench/oilcan/model"
	"bench/oilcan/store"
)

// TestScripts runs the program from outside, with a home, a clock and a data file of its own for
// each script.
func TestScripts(t *testing.T) {
	bin, err := built()
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			home := filepath.Join(e.WorkDir, "home")
			e.Setenv("PATH", filepath.Dir(bin)+string(filepath.ListSeparator)+e.Getenv("PATH"))
			e.Setenv("HOME", home)
			e.Setenv("TMPDIR", e.WorkDir)
			for k, v := range map[string]string{"TZ": "UTC", "LANG": "C.UTF-8",
				"TERM": "xterm-256color", "USER": "ada",
				"OILCAN_NOW": "2026-11-25T09:14:00Z", "OILCAN_BY": "Ada", "OILCAN_FILE": filepath.Join(e.WorkDir, "bench.oilcan")} {
				e.Setenv(k, v)
			}
			return os.MkdirAll(home, 0o755)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "grab": grab, "cmpe": cmpe, "cmpids": cmpIDs, "mark": mark,
		},
	})
}

// exits runs a command and wants its exit code: exits 2 oilcan foo.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	default:
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d\n%s%s", got, want, ts.ReadFile("stdout"),
			ts.ReadFile("stderr"))
	}
}

// grab puts the first group of a pattern in the last standard output into a variable: grab ID
// 'strike (\w+)'.
func grab(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: grab name pattern")
	}
	m := regexp.MustCompile("(?m)" + args[1]).FindStringSubmatch(ts.ReadFile("stdout"))
	if len(m) < 2 {
		ts.Fatalf("nothing matches %s", args[1])
	}
	ts.Setenv(args[0], m[1])
}

// cmpe compares the last standard error with exactly one line.
func cmpe(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: cmpe line")
	}
	if got := ts.ReadFile("stderr"); got != args[0]+"\n" {
		ts.Fatalf("standard error is\n%swant\n%s", got, args[0])
	}
}

// shortID is an entry's id as it is printed.
var shortID = regexp.MustCompile(`(\d\d:\d\d  |struck )[0-9a-hjkmnp-tv-z]{6}`)

// cmpIDs compares the last standard output with a file in which entry ids are written ID.
func cmpIDs(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: cmpids file")
	}
	got := shortID.ReplaceAllString(ts.ReadFile("stdout"), "${1}ID")
	if want := ts.ReadFile(args[0]); got != want {
		ts.Fatalf("standard output is\n%swant\n%s", got, want)
	}
}

// mark tags a machine as a session that ends does, with a finding where a kind of one is named:
// mark Heron limits 'left with limits' limits.
func mark(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: mark machine tag why [finding]")
	}
	now := func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }
	st, err := store.Open(ts.Getenv("OILCAN_FILE"), now)
	ts.Check(err)
	b, err := st.Bench()
	ts.Check(err)
	m, err := model.FindMachine(b, args[0])
	ts.Check(err)
	facts := []model.Fact{{Kind: model.KindTag, Tag: &model.TagMove{Kind: model.TagKind(args[1]),
		Why: args[2]}}}
	if len(args) > 3 {
		facts = append(facts,
			model.Fact{Kind: model.KindFinding,
				Finding: &model.Found{Kind: model.FindingKind(args[3]), Text: args[2]}})
	}
	_, err = st.Append(model.Action{At: now(), By: "Ada", Machine: m.ID, Facts: facts})
	ts.Check(err)
}
