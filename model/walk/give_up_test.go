package walk_test

import (
	"slices"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// A session given up before its first step leaves no tag; one in which anything was done, or over
// what is out, does.
func TestGivenUpUntouched(t *testing.T) {
	lib := library(t)
	tagged := func(steps int, cover string) bool {
		r := begin(t, lib, machine(lib, "full"), "fans-blow")
		for range steps {
			if _, err := r.Step(); err != nil {
				t.Fatal(err)
			}
		}
		for cover != "" && r.W.Prompt(r.Now).Kind == walk.AskState {
			text := model.Values[r.W.Prompt(r.Now).Variable][0]
			switch r.W.Prompt(r.Now).Variable {
			case model.Heat:
				text = "20"
			case model.Power:
				text = "unplugged"
				if tag := r.W.Begun.Settings["plug-tag"]; tag != "" {
					text = tag
				}
			case model.Cover:
				text = cover
			}
			if rep, err := r.Say(text); err != nil || rep.Refusal != "" {
				t.Fatal(err, rep.Refusal)
			}
		}
		rep, err := r.W.GiveUp(r.Context(), "no time")
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(rep.Facts, func(f model.Fact) bool {
			return f.Closed != nil && f.Closed.GivenUp
		}) {
			t.Fatal("it is not given up")
		}
		return slices.ContainsFunc(rep.Facts, func(f model.Fact) bool { return f.Tag != nil })
	}
	if tagged(0, "") {
		t.Error("given up at once it leaves a tag")
	}
	if tagged(0, "on") {
		t.Error("given up with the state said, and nothing out, it leaves a tag")
	}
	if !tagged(0, "off") {
		t.Error("given up over a cover that is off it leaves none")
	}
	if !tagged(14, "") {
		t.Error("given up after its first steps it leaves none")
	}
}
