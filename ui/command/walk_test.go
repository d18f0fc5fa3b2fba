package command

import (
	"bytes"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

var walkNow = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// benchRun runs one command line on a data file with a pinned clock.
func benchRun(t *testing.T, file, stdin string, args ...string) (out, errs string, code int) {
	t.Helper()
	clock, err := NewClock(time.Now, walkNow.Format(time.RFC3339))
	if err != nil {
		t.Fatal(err)
	}
	var o, e bytes.Buffer
	code = Run(Deps{Clock: clock, Stdin: strings.NewReader(stdin), Stdout: &o, Stderr: &e,
		Env: func(k string) string {
			return map[string]string{"OILCAN_FILE": file, "XDG_CONFIG_HOME": filepath.Dir(file),
				"TERM": "dumb"}[k]
		}}, args)
	return o.String(), e.String(), code
}

// settings of the machine under test, so that nothing is asked before the session.
var walkSettings = []string{"plug-tag=H1", "supplies=1", "slots=4", "whole-count=5"}

// addHeron makes a full machine with its settings known.
func addHeron(t *testing.T, file string, lib *procedures.Library) *model.Machine {
	t.Helper()
	fs, err := model.ParseFeatures([]string{"full"})
	if err != nil {
		t.Fatal(err)
	}
	m := &model.Machine{MachineFact: model.MachineFact{Name: "Heron", Features: fs,
		Duty: model.Home, Settings: map[string]string{}}}
	args := []string{"machine", "edit", "Heron"}
	set := func(k, v string) {
		m.Settings[k] = v
		args = append(args, "--set", k+"="+v)
	}
	for _, p := range append(lib.All(), lib.SetUps()...) {
		for _, s := range p.Settings {
			switch {
			case s.Default != "":
				set(s.Name, s.Default)
			case len(s.Options) > 0:
				set(s.Name, s.Options[0])
			case s.Number:
				set(s.Name, "5")
			}
		}
	}
	for _, kv := range walkSettings {
		k, v, _ := strings.Cut(kv, "=")
		set(k, v)
	}
	if _, errs, code := benchRun(t, file, "", "machine", "add", "Heron", "--features", "full",
		"--hours", "100", "--changes", "100"); code != 0 {
		t.Fatal(errs)
	}
	if _, errs, code := benchRun(t, file, "", args...); code != 0 {
		t.Fatal(errs)
	}
	return m
}

// goodAnswers walks the same session in memory and gives what was said.
func goodAnswers(t *testing.T, lib *procedures.Library, m *model.Machine, ids ...string) []string {
	t.Helper()
	fs := model.NewFeatureSet(m.Features...)
	p, all, err := plan.Assemble(lib.Get, fs, m.Settings, ids, plan.Request{SetUps: lib.SetUps()})
	if err != nil {
		t.Fatal(err)
	}
	s := walk.Start{Title: "care session", Ask: p.SetUpActions > 0}
	for _, id := range all {
		s.Items = append(s.Items, lib.Get(id).For(fs, m.Settings))
	}
	for _, q := range lib.SetUps() {
		s.SetUps = append(s.SetUps, q.For(fs, m.Settings))
	}
	r := &walktest.Run{M: m, Get: lib.Get, Now: walkNow}
	if err := r.Begin(s); err != nil {
		t.Fatal(err)
	}
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	return r.Told
}

func TestWalkAWholeSessionFromAScript(t *testing.T) {
	lib, _ := procedures.Load("")
	file := filepath.Join(t.TempDir(), "b.oilcan")
	m := addHeron(t, file, lib)
	ids := []string{"desiccant-look", "fans-blow", "blade-check", "rods-wipe", "layer-lens-clean",
		"belts-reset", "first-layer"}
	answers := goodAnswers(t, lib, m, ids...)
	out, errs, code := benchRun(t, file, strings.Join(answers, "\n")+"\n", "walk", "Heron",
		"--only", strings.Join(ids, ","))
	if code != 0 || !strings.Contains(out, "closed 2026-11-25") {
		t.Fatalf("exit %d, %s\n%s", code, errs, tail(out, 40))
	}
	if out, _, code := benchRun(t, file, "", "check"); code != 0 ||
		!strings.Contains(out, "nothing is wrong") {
		t.Errorf("check says %s", out)
	}
	if out, _, _ := benchRun(t, file, "", "gauges", "Heron"); !strings.Contains(out, "fresh") {
		t.Errorf("no gauge was set back:\n%s", out)
	}
}

// TestTheBookOfASession: a session walked is shown whole by any entry of it, as text, Markdown, a
// table and JSON lines.
func TestTheBookOfASession(t *testing.T) {
	lib, _ := procedures.Load("")
	file := filepath.Join(t.TempDir(), "b.oilcan")
	m := addHeron(t, file, lib)
	answers := goodAnswers(t, lib, m, "rods-wipe")
	if _, errs, code := benchRun(t, file, strings.Join(answers, "\n")+"\n", "walk", "Heron",
		"--only", "rods-wipe"); code != 0 {
		t.Fatal(errs)
	}
	steps, _, _ := benchRun(t, file, "", "book", "--steps")
	lines := strings.Split(strings.TrimSpace(steps), "\n")
	id := regexp.MustCompile(`:\d\d  (\w{6}) .*Wipe the motion rods: `).FindStringSubmatch(steps)[1]
	for format, want := range map[string][]string{
		"text": {"Heron: Wipe the motion rods\n", "\nState\n", "\nWipe the motion rods\n",
			"at the start", "known: ",
			"no certified one"},
		"markdown": {"# Heron: Wipe the motion rods", "## Wipe the motion rods",
			"no certified one"},
		"csv":  {"at,machine,kind,", ",walk,", ",closed,"},
		"json": {`"kind":"begun"`, `"kind":"walk"`, `"kind":"closed"`, `"kind":"text"`},
	} {
		out, errs, code := benchRun(t, file, "", "book", "--session", id, "--format", format)
		if code != 0 || strings.Contains(out, "added, home duty") {
			t.Errorf("%s: exit %d, %s", format, code, errs)
		}
		for _, w := range want {
			if !strings.Contains(out, w) {
				t.Errorf("%s: %q is not in %.300s", format, w, out)
			}
		}
		if n := strings.Count(out, "\r\n"); format == "csv" && (n < 60 || n > len(lines)) {
			t.Errorf("%d rows of the session, and %d lines of the book", n, len(lines))
		}
	}
}

// TestWorkWhileItCools: a line that begins with # is taken while a wait runs; what was laid out
// there is not asked again.
func TestWorkWhileItCools(t *testing.T) {
	lib, _ := procedures.Load("")
	file := filepath.Join(t.TempDir(), "b.oilcan")
	m := addHeron(t, file, lib)
	answers := goodAnswers(t, lib, m, "rods-wipe")
	laid := slices.Index(answers, "all there")
	cold := laid
	for answers[cold-1] == "23" {
		cold--
	}
	answers = slices.Insert(slices.Delete(answers, laid, laid+1), cold, "#7",
		"#1 something is missing", "padded mat", "here", "#1")
	out, errs, code := benchRun(t, file, strings.Join(answers, "\n")+"\n", "walk", "Heron",
		"--only", "rods-wipe")
	if code != 0 || !strings.Contains(out, "closed 2026-11-25") {
		t.Fatalf("exit %d, %s\n%s", code, errs, tail(out, 40))
	}
	for _, want := range []string{"meanwhile (#N as written | #N ANSWER)",
		"not passed: What can be done meanwhile is 1 to 1.",
		"Without padded mat this cannot be done: Wipe the motion rods"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q", want)
		}
	}
	if strings.Contains(out, "By the list (") {
		t.Error("what was laid out while it cooled is asked again")
	}
}

// TestWalkCutOffAndResumed ends the answers at several places; each time the session is begun,
// resumable, and comes to its end.
func TestWalkCutOffAndResumed(t *testing.T) {
	lib, _ := procedures.Load("")
	file := filepath.Join(t.TempDir(), "b.oilcan")
	m := addHeron(t, file, lib)
	answers := goodAnswers(t, lib, m, "belts-reset")
	cut := len(answers) / 2
	out, _, code := benchRun(t, file, strings.Join(answers[:cut], "\n")+"\n", "walk", "Heron",
		"--only", "belts-reset")
	if code != 1 || !strings.Contains(out, "stays begun") {
		t.Fatalf("exit %d\n%s", code, tail(out, 10))
	}
	if _, errs, code := benchRun(t, file, "", "walk", "Heron"); code != 2 ||
		!strings.Contains(errs, "has a begun session") {
		t.Errorf("a second session on one machine: exit %d, %s", code, errs)
	}
	out, _, code = benchRun(t, file, "", "walk", "Heron", "--resume")
	if code != 1 || !strings.Contains(out, "Power: on, off, or the tag id") {
		t.Errorf("resume does not ask the state first: exit %d\n%s", code, tail(out, 10))
	}
	out, errs, code := benchRun(t, file, "", "walk", "Heron", "--give-up", "no time")
	if code != 0 {
		t.Fatalf("give up: exit %d %s %s", code, out, errs)
	}
	if out, _, _ := benchRun(t, file, "", "check"); !strings.Contains(out, "nothing is wrong") {
		t.Errorf("check says %s", out)
	}
}

func tail(s string, n int) string {
	lines := strings.Split(strings.TrimRight(s, "\n"), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}

// TestNoCareOnAStoppedMachine: after a stop there is no session until the finding is closed by
// name.
func TestNoCareOnAStoppedMachine(t *testing.T) {
	lib, _ := procedures.Load("")
	file := filepath.Join(t.TempDir(), "b.oilcan")
	addHeron(t, file, lib)
	// at the first step of the session an open fault is told of: said what it leads to, it stops,
	// and is closed without power
	answers := "on\nhot\nloaded\non\non\nmounted\nlow\nclosed\nyes\nnever mind\nyes\ny\nH1\n"
	out, _, _ := benchRun(t, file, answers, "walk", "Heron", "--only", "fans-blow")
	if !strings.Contains(out, "not taken: nothing is on record of it") {
		t.Errorf("it stops without asking whether that is meant:\n%s", tail(out, 30))
	}
	if !strings.Contains(out, "STOP") {
		t.Fatalf("an open fault does not stop:\n%s", tail(out, 20))
	}
	benchRun(t, file, "", "walk", "Heron", "--give-up", "left")
	out, errs, code := benchRun(t, file, "on\n", "walk", "Heron", "--only", "self-check")
	if code == 0 || !strings.Contains(errs, "is stopped") {
		t.Errorf("care on a stopped machine: exit %d %s\n%s", code, errs, tail(out, 10))
	}
	if out, _, _ := benchRun(t, file, "", "machine", "list"); !strings.Contains(out,
		"tag stopped") {
		t.Errorf("giving up took the stop away: %s", out)
	}
}

// TestWalkTellsFromPaper: a session on paper is told with what was read, a row not done with its
// reason, a procedure at its own time; how the machine stands is asked behind it, and wrong input
// gets a sentence and writes nothing.
func TestWalkTellsFromPaper(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.oilcan")
	lib, _ := procedures.Load("")
	addHeron(t, file, lib)
	for when, want := range map[string]string{
		"":                                   "is no from and to",
		"yesterday":                          "is no from and to",
		"yesterday 16:00 to 14:00":           "as 2026-11-24 16:00 to 2026-11-25 14:00",
		"2026-11-20 9:00 to 2026-11-24 9:00": "more than a day",
		"2026-11-20 to 2026-11-24":           "write the times",
		"today 08:00 to 2026-11-26 9:00":     "lies in the future",
		"yesterday 14:00 to half three":      "write the times",
	} {
		if out, errs, code := benchRun(t, file, "", "walk", "Heron", "--paper",
			when); code != Misuse ||
			!strings.Contains(errs, want) {
			t.Errorf("--paper %q gives %d %q, not %q", when, code, errs+out, want)
		}
	}
	says := "ok\nno\n99\n98\nnot read\n12\nok\n" +
		"at 12:00\nat 14:40\n#99 ok\n#2 skip no torch at hand\nok\n"
	out, errs, code := benchRun(t, file, says, "walk", "Heron", "--paper",
		"yesterday 14:00 to 16:10", "--only", "belt-tone")
	if code != No {
		t.Fatalf("%d %s%s", code, out, errs)
	}
	for _, want := range []string{"(told from paper), 0 of ", "Row 1 wants what was: no or yes",
		"is not within the session, 2026-11-24 14:00 to 2026-11-24 16:10", "done 2026-11-24 14:40",
		"No row of this sheet has the number 99", "resume carries it on"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
	book, _, _ := benchRun(t, file, "", "book", "Heron")
	if !regexp.MustCompile(`2026-11-24 14:00  \w{6} +Heron  hours 99\n`).MatchString(book) {
		t.Errorf("the book has no reading of then:\n%s", book)
	}
	if out, _, _ := benchRun(t, file, "", "walk", "Heron", "--give-up",
		"lost the sheet"); !strings.Contains(
		out, "given up and what was told of it stays on record; nothing is out") {
		t.Errorf("given up it says %s", out)
	}
}
