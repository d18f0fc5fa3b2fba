package walk_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
	"bench/oilcan/procedures"
)

// TestEveryWayThroughEveryProcedure takes each answer that is not the first of its choice and does
// not end its procedure, then each option of each setting, in turn, on every kind of machine the
// procedure fits: every branch is walked to its end, and every step of every file stands before a
// person in one of them.
func TestEveryWayThroughEveryProcedure(t *testing.T) {
	lib := library(t)
	seen := map[string]bool{} // id/step that stood before a person
	full, plated := machine(lib, "full"), machine(lib, "full")
	plated.Settings["gear-plate"] = "plate, 2 mm key"
	threeDeep(t, lib, full, seen, map[string]string{"look": "film", "inspect": "film",
		"last-resort": "alcohol on a tip"}, "layer-lens-clean", "rods-wipe")
	threeDeep(t, lib, full, seen,
		map[string]string{"surface": "glass", "look-rigid": "chipped or cracked"}, "plate-wash")
	threeDeep(t, lib, full, seen, map[string]string{"surface": "rigid: glass or other",
		"edges": "chipped: gloves, glasses on"}, "plate-swap")
	threeDeep(t, lib, full, seen, map[string]string{"peel": "stuck in plastic",
		"warm-peel": "still stuck"}, "sock-check")
	threeDeep(t, lib, full, seen,
		map[string]string{"judge": "torn", "change": "old one, it still holds"}, "sock-check")
	threeDeep(t, lib, plated, seen, map[string]string{"plate-lift": "a screw is rounded"},
		"gears-blow")
	threeDeep(t, lib, full, seen, map[string]string{"draw": "will not come"}, "blade-check")
	threeDeep(t, lib, full, seen, map[string]string{"lies": "stands out of the inlet",
		"draw": "came off, a piece is left"}, "stub-out")
	threeDeep(t, lib, full, seen, map[string]string{"ready": "waiting for part",
		"until": "prints, with a limit"}, "close-out", "electrical-glance")
	for _, p := range lib.All() {
		given := map[string]bool{} // step=answer that was walked already
		for i, kind := range machineKinds {
			m := machine(lib, kind...)
			if !p.Fits(model.NewFeatureSet(m.Features...)) {
				continue
			}
			t.Run(fmt.Sprintf("%s, machine %d", p.ID, i+1), func(t *testing.T) {
				for _, set := range settingsOf(p) {
					with := *m
					with.Settings = map[string]string{}
					for k, v := range m.Settings {
						with.Settings[k] = v
					}
					if name, v, ok := strings.Cut(set, "="); ok {
						with.Settings[name] = v
					}
					ways := given
					if set != "" { // a setting is walked well only
						ways = nil
					}
					ids := []string{p.ID}
					if p.ID == "close-out" {
						// its paper is whole only behind some work
						ids = append(ids, "electrical-glance")
					}
					everyWay(t, begin(t, lib, &with, ids...), p.ID, ways, seen)
				}
			})
		}
		for _, s := range p.Steps {
			if !seen[p.ID+"/"+s.Name] && s.Gate != model.Wait && s.Known == "" {
				// a wait that runs meanwhile asks nobody, nor does what is known
				t.Errorf("%s: nobody is ever asked %q", p.ID, s.Name)
			}
		}
	}
}

// threeDeep walks a branch of the first procedure that lies more than one answer deep, and adds its
// steps to those seen.
func threeDeep(t *testing.T, lib *procedures.Library, m *model.Machine, seen map[string]bool,
	answers map[string]string, ids ...string) {
	t.Helper()
	r := begin(t, lib, m, ids...)
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Kind == walk.AskStep && p.Block.ID == ids[0] {
			seen[p.Block.ID+"/"+p.Step.Name] = true
			if a := answers[p.Step.Name]; a != "" {
				say(t, r, a)
				continue
			}
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	ended(t, r, fmt.Sprint(answers))
}

// settingsOf lists the settings of a procedure with each of their options, "name=option"; the first
// is none, for the machine as it is.
func settingsOf(p *model.Procedure) []string {
	out := []string{""}
	for _, s := range p.Settings {
		for _, o := range s.Options {
			if o != s.Default {
				out = append(out, s.Name+"="+o)
			}
		}
	}
	return out
}

// everyWay walks a procedure and answers all well: then a file closes by its own steps whatever it
// opened. From each step with another answer it walks a session beside it that gives that answer,
// where it was not given before. Without given there are none.
func everyWay(t *testing.T, r *walktest.Run, id string, given, stood map[string]bool) {
	t.Helper()
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if p.Kind == walk.AskZero && p.Item != "in:blocks" {
			// a gantry only switched off has them asked back
			t.Fatalf("all well, and %s is asked back in %s", p.Item, id)
		}
		if stands(p, id, stood) && given != nil {
			for _, o := range passing(p.Step) {
				if k := p.Step.Name + "=" + o; !given[k] {
					given[k] = true
					otherwise(t, fork(t, r), id, o, stood)
				}
			}
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	for _, e := range r.J.Entries {
		// so did what was done while a wait ran, and the paper behind the work
		if x := e.Walk; x != nil && x.What == walk.Passed && x.How != model.AsKnown {
			stood[x.ID+"/"+x.Step] = true
		}
	}
	ended(t, r, "answering well")
}

// otherwise gives an answer at the step a session stands at, as often as that is asked, and good
// ones everywhere else.
func otherwise(t *testing.T, r *walktest.Run, id, answer string, stood map[string]bool) {
	t.Helper()
	at, times := r.W.Step().Name, 0
	for range 2000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if stands(p, id, stood) && p.Step.Name == at && times < 8 {
			times++
			say(t, r, answer) // again and again: most redos give way after their tries
			continue
		}
		if _, err := r.Step(); err != nil {
			t.Fatalf("%s = %s: %v", at, answer, err)
		}
	}
	ended(t, r, at+" = "+answer)
}

// stands tells whether a step of a procedure stands before a person, or one that is decided when it
// is laid out, and adds it to those seen.
func stands(p walk.Prompt, id string, stood map[string]bool) bool {
	if p.Kind != walk.AskStep || p.Block.ID != id && p.Step.Known != "blow-with" {
		return false
	}
	stood[p.Block.ID+"/"+p.Step.Name] = true
	return true
}

// passing are the answers of a choice with which its procedure goes on, at once, in the end or at a
// step that puts back what is out, the first left out.
func passing(s *model.Step) []string {
	var out []string
	for i, o := range s.Options {
		if i > 0 && (o.Miss == nil || o.Miss.Step != "" ||
			slices.Contains([]model.Then{"note", "due"}, o.Miss.Then)) {
			out = append(out, o.Is)
		}
	}
	return out
}

// ended requires that the session has closed, with nothing out, in, loose or parted, or was
// stopped.
func ended(t *testing.T, r *walktest.Run, after string) {
	t.Helper()
	if !r.W.Ended {
		t.Fatalf("after %q it does not end: %s", after, r.W.Position())
	}
	if l := r.W.Ledger(); !l.Empty() && r.W.Stopped == "" {
		t.Fatalf("after %q it closed with %s", after, walk.LedgerLine(l))
	}
}
