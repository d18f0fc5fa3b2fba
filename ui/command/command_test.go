package command

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
)

// run runs one command line with a data file and a clock of its own.
func run(t *testing.T, file string, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	return runIn(t, time.UTC, file, args...)
}

// runIn runs one command line on a bench whose clock stands in a zone, at noon there.
func runIn(t *testing.T, zone *time.Location, file string, args ...string) (stdout, stderr string,
	code int) {
	t.Helper()
	clock, err := NewClock(func() time.Time { return time.Unix(0, 0).In(zone) }, "2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	env := map[string]string{"OILCAN_FILE": file, "LANG": "C.UTF-8", "HOME": t.TempDir(),
		"OILCAN_BY": "Ada"}
	code = Run(Deps{
		Clock: clock, Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs,
		Env: func(k string) string { return env[k] }, Version: "test",
	}, args)
	return out.String(), errs.String(), code
}

// TestEveryCommandHasHelp wants a line, an example that begins with the command, and help without
// an error for every command.
func TestEveryCommandHasHelp(t *testing.T) {
	var walk func(c *cobra.Command, words []string)
	count := 0
	walk = func(c *cobra.Command, words []string) {
		if c.Hidden {
			return
		}
		count++
		path := strings.Join(append([]string{"oilcan"}, words...), " ")
		if c.Short == "" || strings.HasSuffix(c.Short, ".") {
			t.Errorf("%s: its line is %q", path, c.Short)
		}
		if !strings.Contains(c.Example, path) {
			t.Errorf("%s: its example never shows it: %q", path, c.Example)
		}
		out, errs, code := run(t, "", append(words, "--help")...)
		if code != Done || errs != "" || !strings.Contains(out, "Usage:") ||
			!strings.Contains(out, "Examples:") {
			t.Errorf("%s --help gives %d, %q, %q", path, code, errs, out)
		}
		for _, sub := range c.Commands() {
			walk(sub, append(words[:len(words):len(words)], sub.Name()))
		}
	}
	walk(rootCommand(&app{}), nil)
	if count < 30 {
		t.Errorf("only %d commands were looked at", count)
	}
}

// TestErrorsAreOneSentence tries what a slip of the hand types, and wants one line on standard
// error, the code of misuse and nothing on standard output.
func TestErrorsAreOneSentence(t *testing.T) {
	file := t.TempDir() + "/bench.oilcan"
	if _, errs, code := run(t, file, "machine", "add", "Heron", "--features",
		"full"); code != Done {
		t.Fatal(errs)
	}
	for _, line := range []string{
		"x", "machine", "machine x", "machine add", "machine add a b", "machine add \x1b[2J",
		"machine add A --features \x1b[2J",
		"machine add A --bogus", "machine edit", "machine edit Heron", "machine edit x --duty home",
		"machine retire", "machine list x",
		"meter", "meter Heron", "meter Heron x=1", "meter Heron hours=\x1b[2J", "swap",
		"swap blade", "swap x Heron", "swap blade x",
		"done", "done rods-wipe", "done x Heron", "finding", "finding add",
		"finding add Heron \x1b[2J", "finding close", "finding close x --why y",
		"finding move", "finding move x", "finding move x 7d",
		"fail", "fail Heron", "fail Heron --why x", "fail Heron --why other", "fail x --why warping",
		"fail Heron --why smoke", "fail Heron --why other --note \x1b[2J", "figures x", "figures a b",
		"figures --format x", "drawer count blade --price x", "drawer count blade --price -1",
		"gauges x", "gauges a b", "due x", "due --within", "due --within x", "plan", "plan x",
		"plan Heron --only x", "plan Heron --minutes x",
		"walk", "walk x", "drawer x", "drawer count", "drawer count x=1", "drawer receive blade=x",
		"book x", "book --format x", "book --since x",
		"strike", "strike x", "strike x --why y", "procedures", "procedures x", "procedures show",
		"procedures show x", "procedures check",
		"procedures check /nowhere.toml", "backup", "restore", "restore /nowhere.oilcan",
		"completion", "completion x", "demo x",
		"gauges --at x", "gauges --at 2030-01-01", "gauges --by \x07", "gauges --json=x", "--bogus",
		"-x",
	} {
		t.Run(strings.ReplaceAll(line, "/", "|"), func(t *testing.T) {
			out, errs, code := run(t, file, strings.Split(line, " ")...)
			if code != Misuse {
				t.Errorf("exit code %d, want %d", code, Misuse)
			}
			if out != "" {
				t.Errorf("standard output is %q", out)
			}
			if strings.Count(errs, "\n") != 1 || !strings.HasPrefix(errs, "oilcan: ") ||
				strings.ContainsAny(errs, "\x1b\x07") || strings.Contains(errs, "Usage") {
				t.Errorf("standard error is %q", errs)
			}
		})
	}
}

// TestLooksMakeNoFile looks at a bench that was never written.
func TestLooksMakeNoFile(t *testing.T) {
	for _, line := range []string{"", "gauges", "due", "drawer", "finding list", "machine list",
		"book", "procedures list", "gauges --json"} {
		file := t.TempDir() + "/bench.oilcan"
		var args []string
		if line != "" {
			args = strings.Split(line, " ")
		}
		if _, errs, code := run(t, file, args...); code != Done {
			t.Errorf("%q gives %d, %q", line, code, errs)
		}
		a := &app{Deps: Deps{Env: func(string) string { return file }}}
		if a.exists() {
			t.Errorf("%q makes a data file", line)
		}
	}
}

func TestClock(t *testing.T) {
	zone := time.FixedZone("two east", 2*3600)
	real := func() time.Time { return time.Date(2026, 1, 2, 3, 4, 5, 0, zone) }
	tests := []struct {
		name, pin string
		want      time.Time
		pinned    bool
	}{
		{"real", "", real(), false},
		{"a day is its noon", "2026-11-25", time.Date(2026, 11, 25, 12, 0, 0, 0, zone), true},
		{"an instant", "2026-11-25T09:14:00Z", time.Date(2026, 11, 25, 11, 14, 0, 0, zone), true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, err := NewClock(real, tt.pin)
			if err != nil {
				t.Fatal(err)
			}
			if !c.Now().Equal(tt.want) {
				t.Errorf("now is %v, want %v", c.Now(), tt.want)
			}
			if moved := c.Move(time.Minute); moved != tt.pinned {
				t.Errorf("moved: %v", moved)
			}
			want := tt.want
			if tt.pinned {
				want = want.Add(time.Minute)
			}
			if !c.Now().Equal(want) {
				t.Errorf("after a minute it is %v, want %v", c.Now(), want)
			}
		})
	}
	if _, err := NewClock(real, "noon"); err == nil {
		t.Error("noon is taken for a time")
	}
}

// TestDaysAreThoseOfTheBench wants every day as the clock on the bench has it, in whatever zone the
// process runs and the journal is written: at noon thirteen hours east of Greenwich it is still the
// day before there.
func TestDaysAreThoseOfTheBench(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	east := time.FixedZone("east", 13*60*60)
	do := func(args ...string) string {
		t.Helper()
		out, errs, code := runIn(t, east, file, args...)
		if code != Done {
			t.Fatalf("%v gives %d: %s", args, code, errs)
		}
		return out
	}
	do("machine", "add", "Heron", "--start", "enclosed-changer", "--hours", "1200", "--bought",
		"2026-11-20")
	do("finding", "add", "Heron", "belt frays at the idler", "--again", "2026-12-05")
	do("machine", "edit", "Heron", "--bought", "2026-11-21")
	do("machine", "edit", "Heron", "--out-of-use")
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"machine", "list"}, []string{"out of use since 2026-11-25"}},
		{[]string{"gauges", "Heron"}, []string{"out of use since 2026-11-25"}},
		{[]string{"finding", "list"}, []string{"2026-11-25", "look again 2026-12-05"}},
		{[]string{"book", "Heron"}, []string{"2026-11-25 12:00", "look again 2026-12-05",
			"bought new 2026-11-21"}},
	} {
		out := do(c.args...)
		for _, want := range c.want {
			if !strings.Contains(out, want) {
				t.Errorf("%v does not say %q:\n%s", c.args, want, out)
			}
		}
	}
}
