package walk_test

import (
	"strings"
	"testing"
)

// TestNumberAskedOncePutRight: a machine said to have five parts has four. The count cannot be
// passed, and two tries would call the machine not whole; the number is put right instead, here and
// for good.
func TestNumberAskedOncePutRight(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	r := begin(t, lib, m, "fans-blow")
	if _, _, ok := r.W.Correctable(); ok {
		t.Error("a number can be put right before any is asked for")
	}
	if rep, err := r.Say("set 4"); err != nil || len(rep.Facts) > 0 || rep.Refusal == "" {
		t.Errorf("set before any count: %+v, %v", rep, err)
	}
	reach(t, r, "plug-in", "whole")
	if name, is, ok := r.W.Correctable(); name != "whole-count" || is != 5 || !ok {
		t.Fatalf("%q %d %v can be put right, want whole-count 5", name, is, ok)
	}
	for text, want := range map[string]string{
		"set":     "Type the right number after the word set.",
		"set 5":   "It is 5 on record already.",
		"set x":   "Nothing is changed: type a whole number.",
		"set 100": "Nothing is changed: 100 is more than any machine has: type it again.",
	} {
		rep, err := r.Say(text)
		if err != nil || rep.Refusal != want || len(rep.Facts) > 0 {
			t.Errorf("%s: %q, %d facts, %v; want %q", text, rep.Refusal, len(rep.Facts), err, want)
		}
	}
	if rep, _ := r.Say("4"); rep.Refusal == "" {
		t.Fatal("4 passes where 5 are wanted")
	}
	rep, err := r.Say("set 4")
	if err != nil || rep.Refusal != "" ||
		rep.Note != "Parts in place is 4 from here on, and on record for this machine; it was 5." {
		t.Fatalf("%+v, %v", rep, err)
	}
	var kept string
	for _, f := range rep.Facts {
		if f.Machine != nil {
			kept = f.Machine.Settings["whole-count"]
		}
	}
	if kept != "4" || m.Settings["whole-count"] != "5" {
		t.Errorf("%q is kept for the machine, whose own map now says %q", kept,
			m.Settings["whole-count"])
	}
	if got, _ := r.W.Wanted(); got != 4 {
		t.Errorf("the gate wants %d", got)
	}
	say(t, r, "back")
	if got, _ := r.W.Wanted(); got != 5 {
		t.Errorf("taken back, the gate wants %d", got)
	}
	say(t, r, "set 4")
	if _, err := r.Say("4"); err != nil || r.W.Step().Name == "whole" {
		t.Errorf("4 does not pass: %v", err)
	}
	finish(t, r)
}

// TestANumberNobodyKnowsIsLeftOpen: what was answered with don't know is held against nothing, and
// says so; it is put on record at the machine. No plug counts as none: of a machine whose plugs
// nobody knows they are counted.
func TestANumberNobodyKnowsIsLeftOpen(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Settings["whole-count"], m.Settings["supplies"] = "", ""
	r := begin(t, lib, m, "fans-blow")
	reach(t, r, "unplug", "supplies")
	if rep := say(t, r, "0"); rep.Refusal == "" {
		t.Error("no plug at all feeds it")
	}
	if rep := say(t, r, "1"); !strings.Contains(rep.Note, "not on record") {
		t.Errorf("a count held against nothing passes with %q", rep.Note)
	}
	reach(t, r, "plug-in", "whole")
	if name, is, ok := r.W.Correctable(); name != "whole-count" || is != -1 || !ok {
		t.Fatalf("%q %d %v can be put on record", name, is, ok)
	}
	rep := say(t, r, "set 5")
	if rep.Note !=
		"Parts in place is 5 from here on, and on record for this machine; nobody had said it." {
		t.Errorf("%+v", rep)
	}
	if rep := say(t, r, "4"); rep.Refusal == "" {
		t.Error("4 passes where 5 are on record now")
	}
}
