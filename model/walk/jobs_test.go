package walk_test

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// rareJobs are those a keeper has a few times in a machine's life, and mostly when something went
// wrong: nobody knows them by heart. With each the answers that lead into its branches, and what
// the machine is set to for one.
var rareJobs = map[string][]map[string]string{
	"battery-check": nil, "chamber-heat": nil, "changer-heat": nil, "cold-look": nil,
	"crash-look": nil, "dryer-check": nil, "first-day": nil, "lay-up": nil,
	"heater-swap": {{"old-out": "screw rounded, or one seized"},
		{"set heater-kind": "cartridge, ohms known"}},
	"leak-clear": {{"cold-off": "the rest sits fast"}},
	"liner-swap": {{"comes": "held from below"}},
	"pack-move":  nil,
	"plate-swap": {{"surface": "rigid: glass or other"},
		{"surface": "rigid: glass or other", "edges": "chipped: gloves, glasses on"}},
	"stub-out": {{"lies": "stands out of the inlet"},
		{"lies": "stands out of the inlet", "draw": "came off, a piece is left"}},
	"unpack": {{"came": "from the cold"}},
}

// TestRareJobsInPages walks each of them page by page on every kind of machine it fits: well, and
// from each of its gates, those of the proofs it owes too, by each wrong answer there is. The
// session always comes to an end, with nothing left out, or stopped and closed.
func TestRareJobsInPages(t *testing.T) {
	lib := library(t)
	for id, branches := range rareJobs {
		p, missed := lib.Get(id), map[string]bool{}
		for _, kind := range machineKinds {
			m := machine(lib, kind...)
			if p == nil || !p.Fits(model.NewFeatureSet(m.Features...)) {
				continue
			}
			t.Run(id+", "+kind[0], func(t *testing.T) {
				for _, answers := range append(branches, nil) {
					m := *m
					m.Settings = maps.Clone(m.Settings)
					for k, v := range answers {
						if name, ok := strings.CutPrefix(k, "set "); ok {
							m.Settings[name] = v
						}
					}
					r := begin(t, lib, &m, id)
					r.Pace = walk.Pages
					missInPages(t, r, id, answers, missed)
				}
			})
		}
		gates := p.Steps
		for _, l := range p.Later {
			if l.When == "proof" {
				l.Name = id + "." + l.Name
				gates = append(gates, l.Step)
			}
		}
		for _, s := range gates {
			misses := s.Miss != nil || slices.ContainsFunc(s.Options, func(o model.Option) bool {
				return o.Miss != nil
			})
			if misses && s.Known == "" && !missed[s.Name] {
				t.Errorf("%s: nobody gave a wrong answer at %q", id, s.Name)
			}
		}
	}
}

// missInPages walks a session well in pages, row by row, and from each gate of a procedure, and of
// what it owes, a session beside it that misses the gate, once for each wrong answer.
func missInPages(t *testing.T, r *walktest.Run, id string, answers map[string]string,
	missed map[string]bool) {
	t.Helper()
	for range 3000 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskOver {
			break
		}
		if s := r.W.Step(); s != nil && p.Kind == walk.AskStep &&
			(p.Block.ID == id || strings.HasPrefix(s.Name, id+".")) {
			for _, wrong := range wrongAnswers(r, s) {
				if k := s.Name + "=" + wrong; !missed[k] {
					missed[k], missed[s.Name] = true, true
					wrongOnPage(t, fork(t, r), wrong)
				}
			}
			if a := answers[s.Name]; a != "" {
				pageSay(t, r, a)
				continue
			}
		}
		inPages(t, r)
	}
	ended(t, r, "answering well in pages")
}

// inPages answers what stands before the person well: of a page the row that comes next.
func inPages(t *testing.T, r *walktest.Run) {
	t.Helper()
	pg := r.W.Page(r.Context())
	next := -1
	if pg != nil {
		next = slices.IndexFunc(pg.Rows, func(x walk.Row) bool { return x.Now })
	}
	if next < 0 {
		if _, err := r.PageStep(); err != nil {
			t.Fatal(err)
		}
		return
	}
	r.Now = r.Now.Add(20 * time.Second)
	answer := ""
	if pg.Rows[next].Seen == "" {
		answer = walktest.Good(r.W, r.Context(), r.W.Prompt(r.Now))
	}
	rep, err := r.W.AnswerRow(r.Context(), next+1, answer)
	if err := r.Take(rep, err); err != nil || rep.Refusal != "" {
		t.Fatalf("%s: its row does not pass by %q: %s, %v", r.W.Position(), answer, rep.Refusal, err)
	}
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
}

// wrongOnPage gives a wrong answer at the row or the hold a session stands at, as often as it takes
// to be believed, and then good ones.
func wrongOnPage(t *testing.T, r *walktest.Run, wrong string) {
	t.Helper()
	at := r.W.Step()
	step, takesOut := at.Name, at.Set["strand"] == "clear"
	for range 6 {
		if p := r.W.Prompt(r.Now); p.Kind != walk.AskStep || p.Step.Name != step {
			break
		}
		pageSay(t, r, wrong)
	}
	for range 3000 {
		if r.W.Prompt(r.Now).Kind == walk.AskOver {
			break
		}
		inPages(t, r)
	}
	if l := r.W.Ledger(); takesOut && r.W.Ended && l.WithoutStub().Empty() {
		return // a stub that did not come out stays on record
	}
	ended(t, r, "the wrong answer "+wrong+" at "+step)
}

// pageSay types an answer at the row or the hold a session stands at.
func pageSay(t *testing.T, r *walktest.Run, answer string) {
	t.Helper()
	r.Now = r.Now.Add(20 * time.Second)
	rep, err := r.W.PageAnswer(r.Context(), answer)
	if err := r.Take(rep, err); err != nil {
		t.Fatal(err)
	}
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
}
