package walk_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// TestAnOldLostPieceIsAListOfOne: what an earlier session left missing is beside what this one
// counts as lost.
func TestAnOldLostPieceIsAListOfOne(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "cover-off", "lift")
	older := *r.J.Entries[0].Fact.Begun
	older.Ledger.Flags = map[string]string{"lost-piece": "blade"}
	r.J.Entries[0].Fact.Begun = &older
	w, err := walk.Load(r.J.Entries, r.J.Text)
	if err != nil {
		t.Fatal(err)
	}
	r.W = w
	resume(t, r, map[model.Variable]string{model.Cover: "off"})
	if p := settledAt(t, r, walk.AskFind); p.Item != "blade" {
		t.Errorf("it asks for %q", p.Item)
	}
	say(t, r, "found")
	for r.W.Prompt(r.Now).Item != "cover screws" {
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	say(t, r, "0 lost")
	settledAt(t, r, walk.AskFind)
	say(t, r, "found")
	if n := r.W.Ledger().Out["cover screws"]; n != 1 {
		t.Errorf("%d cover screws out", n)
	}
	finish(t, r)
}

// TestTwoPiecesMissingAreTwo: the one found does not make the other one found, nor is any forgotten
// by a stop.
func TestTwoPiecesMissingAreTwo(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Ledger = model.Ledger{Flags: map[string]string{"lost-piece": model.JoinLost(
		[]string{"blade", "clip"})}}
	r := beginWith(t, lib, m, walk.Start{Title: "closing", Ask: true, Closing: true},
		lib.Get("close-out"))
	if p := settledAt(t, r, walk.AskFind); p.Item != "blade" ||
		!strings.Contains(p.Question, "1 more") {
		t.Errorf("it asks for %q: %s", p.Item, p.Question)
	}
	say(t, r, "found")
	if p := settledAt(t, r, walk.AskFind); p.Item != "clip" {
		t.Errorf("it asks for %q", p.Item)
	}
	say(t, r, "not found")
	if err := r.Finish(); err != nil {
		t.Fatal(err)
	}
	if got := r.W.End.Ledger.LostPieces(); !slices.Equal(got, []string{"clip"}) {
		t.Errorf("the book has %q missing", got)
	}
}

// TestStillLostIsAskedOfEach: on a machine that stays locked, each is asked for by itself.
func TestStillLostIsAskedOfEach(t *testing.T) {
	lib := library(t)
	m := machine(lib, "full")
	m.Tag = &model.Tag{Kind: "stopped"}
	m.Ledger = model.Ledger{Flags: map[string]string{"lost-piece": model.JoinLost(
		[]string{"blade", "clip"})}}
	r := beginWith(t, lib, m, walk.Start{Title: "closing", Ask: true, Closing: true, Locked: true},
		lib.Get("close-out"))
	var asked []string
	for range 40 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Kind == walk.AskLedger && strings.HasPrefix(p.Item, "flag:lost-piece") {
			asked = append(asked, p.Question)
			if strings.Contains(p.Question, "clip") {
				say(t, r, "found")
				continue
			}
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if len(asked) != 2 {
		t.Errorf("asked %q", asked)
	}
	if got := r.W.Ledger().LostPieces(); !slices.Equal(got, []string{"blade"}) {
		t.Errorf("the book has %q missing", got)
	}
}

// TestLeftOverIsNotMissing: what lies in the tray is in the hand; its place is what is looked for.
func TestLeftOverIsNotMissing(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "fans-blow")
	reach(t, r, "close-out", "inside")
	say(t, r, "something left over")
	if line := walk.LedgerLine(r.W.Ledger()); strings.Contains(line, "missing") ||
		strings.Contains(line, "lost") {
		t.Error(line)
	}
	p := settledAt(t, r, walk.AskFind)
	if strings.Contains(p.Question, "missing") || !slices.Contains(p.Options, "in place") {
		t.Errorf("it asks %q: %q", p.Question, p.Options)
	}
	say(t, r, "in place")
	if len(r.W.Ledger().LostPieces()) > 0 {
		t.Error("in place, and still left over")
	}
	finish(t, r)
}

// TestACountThatClosesIsNotToldByTheLine: the line of what is out and in tells the number until it
// is to be counted, and what is missing then is said in one sentence.
func TestACountThatClosesIsNotToldByTheLine(t *testing.T) {
	lib := library(t)
	r := begin(t, lib, machine(lib, "full"), "rods-wipe")
	reach(t, r, "rods-wipe", "wipes")
	say(t, r, "5")
	reach(t, r, "rods-wipe", "carry-out")
	in := r.W.Ledger().Inside["wipes"]
	if in < 2 {
		t.Fatalf("%d wipes inside", in)
	}
	if all, shown := walk.LedgerLine(r.W.Ledger()), r.W.LedgerShown(r.W.Step()); !strings.Contains(all, fmt.Sprint(in)) || strings.Contains(shown, fmt.Sprint(in)) || !strings.Contains(shown, "wipes") {
		t.Errorf("%q stands as %q over the count of it", all, shown)
	}
	say(t, r, "1")
	say(t, r, "1")
	p := r.W.Prompt(r.Now)
	if p.Kind != walk.AskFind ||
		p.Question != "A wipe is still inside: find it before anything closes. Found?" {
		t.Errorf("%s: %q", p.Kind, p.Question)
	}
	if l := walk.LedgerLine(r.W.Ledger()); !strings.Contains(l,
		"missing: a wipe is still inside") || strings.Contains(l, "find it") {
		t.Errorf("the book says %q", l)
	}
}
