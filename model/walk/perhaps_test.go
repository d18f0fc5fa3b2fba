package walk_test

import (
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// bins is care on paper pages, whose rows take out and bring back what is asked of it.
func bins(rows ...model.Step) *model.Procedure {
	for i := range rows {
		rows[i].Do, rows[i].Line = "Move what is in bin "+rows[i].Name+".", "bin "+rows[i].Name
		if rows[i].Gate == "" {
			rows[i].Gate, rows[i].Seen = model.Choice, []model.Seen{{Is: "done"}}
			rows[i].Options = []model.Option{{Is: "done"}}
		}
		rows[i].Ask = rows[i].Name
	}
	return &model.Procedure{ID: "bins", Title: "Move the bins", Kind: model.Care,
		Rung: []model.Placed{{Is: "proof"}}, HandsOn: 1, Steps: rows}
}

// brokenOff breaks a session off on the page of such care, after its first answers.
func brokenOff(t *testing.T, answered int, rows ...model.Step) *walktest.Run {
	t.Helper()
	lib := library(t)
	r := beginWith(t, lib, machine(lib, "full"), walk.Start{Title: "bins"}, bins(rows...))
	r.Pace = walk.Pages
	if err := r.Settle(); err != nil {
		t.Fatal(err)
	}
	for range answered {
		rep, err := r.W.PassLine(r.Context())
		take(t, r, rep, err)
	}
	pg := r.W.Page(r.Context())
	if pg == nil {
		t.Fatal("no page stands")
	}
	breakOff(t, r)
	return r
}

func breakOff(t *testing.T, r *walktest.Run) {
	t.Helper()
	rep, err := r.W.Resume(r.Context())
	take(t, r, rep, err)
}

// asked answers what is asked of the state until an item of the ledger is.
func asked(t *testing.T, r *walktest.Run, item string) {
	t.Helper()
	for range 60 {
		p := r.W.Prompt(r.Now)
		if p.Kind == walk.AskLedger && p.Item == item {
			return
		}
		if p.Kind != walk.AskState && p.Kind != walk.AskLedger {
			break
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	t.Fatalf("%s is not asked for", item)
}

func amounts(item string, n int) map[string]model.Amount {
	return map[string]model.Amount{item: {N: n}}
}

// TestACountAfterABrokenPageIsHeldToThePage: between what the book says before its rows and after
// them any number can be; what no row can have moved is taken only with a word, typed by itself or
// on the screen of the state.
func TestACountAfterABrokenPageIsHeldToThePage(t *testing.T) {
	most := 6
	out := func(n int) model.Step { return model.Step{Name: "out", Out: amounts("blade", n)} }
	back := model.Step{Name: "back", Back: amounts("blade", 2)}
	free := model.Step{Name: "free", Gate: model.Count, Min: new(int),
		Out: map[string]model.Amount{"blade": {Answer: true}}}
	upTo := free
	upTo.Max = &most
	for _, c := range []struct {
		name       string
		answered   int
		rows       []model.Step
		fit, wrong []string
	}{
		{"one taken out", 0, []model.Step{out(1), {Name: "look"}}, []string{"0", "1"},
			[]string{"2", "4"}},
		{"two rows of one page", 0, []model.Step{out(1), {Name: "out-2", Out: amounts("blade", 2)}},
			[]string{"0", "2", "3"}, []string{"4"}},
		{"out, then to be brought back", 1, []model.Step{out(4), back},
			[]string{"2", "3", "4", "1 back", "1 lost", "5 more"}, []string{"1", "5"}},
		{"how many is counted there", 0, []model.Step{free, {Name: "look"}},
			[]string{"0", "3 more"}, []string{"3"}},
		{"how many is limited there", 0, []model.Step{upTo, {Name: "look"}},
			[]string{"0", "3", "6"}, []string{"7"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := brokenOff(t, c.answered, c.rows...)
			asked(t, r, "blade")
			rows := r.W.StateRows()
			on := rows[slices.IndexFunc(rows, func(x walk.StateRow) bool {
				return x.Item == "blade"
			})]
			said := func(text string) string {
				one, err := r.W.Answer(r.Context(), text)
				if err != nil {
					t.Fatal(err)
				}
				all, err := r.W.AnswerStates(r.Context(),
					[]walk.StateAnswer{{Item: on.Item, Text: text}})
				if err != nil || all.Refusal != one.Refusal {
					t.Errorf("%q by itself: %q; on the screen of the state: %q, %v", text,
						one.Refusal, all.Refusal, err)
				}
				return one.Refusal
			}
			for _, text := range c.wrong {
				if why := said(text); !strings.Contains(why, "the book says") {
					t.Errorf("%q: %q", text, why)
				}
			}
			for _, text := range c.fit {
				if why := said(text); why != "" {
					t.Errorf("%q is refused: %s", text, why)
				}
			}
		})
	}
}

// TestWhatABrokenPageMovedIsAskedUntilItIsCounted: broken off again before it was counted, it is
// asked for again.
func TestWhatABrokenPageMovedIsAskedUntilItIsCounted(t *testing.T) {
	r := brokenOff(t, 0, model.Step{Name: "out", Out: amounts("blade", 1)},
		model.Step{Name: "look"})
	breakOff(t, r)
	asked(t, r, "blade")
	say(t, r, "1")
	breakOff(t, r)
	asked(t, r, "blade")
	if rep := say(t, r, "2"); rep.Refusal == "" {
		t.Error("once counted, another number passes still")
	}
	say(t, r, "1")
	for range 40 {
		if b, s := r.W.Block(), r.W.Step(); b != nil && b.ID == "bins" && s.Name == "look" {
			break
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
	if n := r.W.Ledger().Out["blade"]; n != 1 {
		t.Errorf("%d blades are out: the row that took it out, passed again, took it out a second time", n)
	}
}
