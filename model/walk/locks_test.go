package walk_test

import (
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

const locksIn = "in:" + model.ItemLocks

// packed packs a machine with three locks in and sends it on its way.
func packed(t *testing.T) *walktest.Run {
	t.Helper()
	lib := library(t)
	m := machine(lib, "full")
	m.Settings["transport-locks"] = "3"
	r := begin(t, lib, m, "pack-move")
	reach(t, r, "pack-move", "packed")
	return r
}

// TestNoSessionForgetsTransportLocks: from the first lock on packing cannot be left out; sent away,
// the machine is stopped, unpacking is due, and the locks stay on its book.
func TestNoSessionForgetsTransportLocks(t *testing.T) {
	r := packed(t)
	if rep := say(t, r, "leave no time"); rep.Refusal == "" {
		t.Fatal("packing is left out with the locks in, and the session goes on to the plug")
	}
	stopAt(t, r, "goes, packed and tagged")
	due := false
	for range 300 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Kind == walk.AskZero || p.Kind == walk.AskLedger && p.Item == locksIn {
			t.Fatalf("the locks are asked for as it goes: %s", p.Question)
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	for _, e := range r.J.Entries {
		due = due || e.Due != nil && e.Due.Procedure == "unpack"
	}
	if n := r.W.End.Ledger.Inside[model.ItemLocks]; n != 3 || !due {
		t.Errorf("%d locks on its book, unpacking due: %t", n, due)
	}
}

// TestNoPowerOverTransportLocks: whatever became of the stop, no plug goes in before the locks are
// counted out; unpacking counts them, and asks nothing of them before.
func TestNoPowerOverTransportLocks(t *testing.T) {
	lib := library(t)
	for id, want := range map[string]walk.PromptKind{"unpack": walk.AskStep,
		"self-check": walk.AskZero} {
		m := machine(lib, "full")
		m.Settings["transport-locks"] = "3"
		m.Ledger = model.Ledger{Inside: map[string]int{model.ItemLocks: 3}}
		r := begin(t, lib, m, id)
		asked := walk.PromptKind("")
		for range 400 {
			p := r.W.Prompt(r.Now)
			if p.Kind == walk.AskOver {
				break
			}
			if asked == "" && (p.Item == locksIn || p.Step != nil && p.Step.Name == "locks") {
				asked = p.Kind
			}
			if r.W.Believed[model.Power] == model.On && asked == "" {
				t.Fatalf("%s: power is on over three locks", id)
			}
			if p.Kind == walk.AskState && p.Variable == model.Power && len(r.W.Blocks) == 0 {
				say(t, r, "H1")
				continue
			}
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		if asked != want || r.W.Ledger().Inside[model.ItemLocks] != 0 {
			t.Errorf("%s: the locks are asked for by %q, want %q; left %v", id, asked, want,
				r.W.Ledger().Inside)
		}
	}
}
