package walk

import (
	"slices"

	"bench/oilcan/model"
)

// effective appends entries to those that count, and leaves out what is taken back: each back takes
// the latest gate, and all that followed it. The back itself stays, so that what is written next
// follows on it.
func effective(counts []*model.Entry, entries []model.Entry) []*model.Entry {
	out := slices.Clone(counts)
	for i := range entries {
		e := &entries[i]
		if e.Walk != nil && e.Walk.What == Back {
			if gate := lastGate(out); gate >= 0 {
				out = out[:gate]
			}
		}
		out = append(out, e)
	}
	return out
}

// lastGate is the index of the first entry of the action that holds the latest gate a person
// answered after the latest boundary, or -1. A wait begins and passes by itself: taking that back
// would lead nowhere. A stop is a boundary, because it is cleared by name and not by a key.
func lastGate(entries []*model.Entry) int {
	for i := len(entries) - 1; i >= 0; i-- {
		x := entries[i].Walk
		if x == nil {
			if entries[i].Fact.Begun != nil {
				return -1
			}
			continue
		}
		switch {
		case x.What == Resumed, x.What == Missed && x.Then == model.ThenStop:
			return -1
		case x.What == Said && x.Variable == "", x.Auto:
			continue
		case slices.Contains([]model.What{Passed, Missed, Skipped, LeftOut, Said, Counted, Cut,
			Ended, Found, Corrected, Early, Lacking, Lacked}, x.What):
			for i > 0 && entries[i-1].Action == entries[i].Action {
				i--
			}
			return i
		}
	}
	return -1
}

// CanBack tells whether there is an answer to take back.
func (w *Walk) CanBack() bool { return lastGate(w.entries) >= 0 }

// back takes the latest gate back; dated facts that went with it or followed from it are struck.
// What was done while a wait ran goes together with the gate before the wait, once that has run
// out: the wait passes by itself, and it would lead nowhere.
func (w *Walk) back(c Context) (Reply, error) {
	i := lastGate(w.entries)
	if i < 0 {
		return refuse("There is nothing to go back to since the state was last asked or a stop was found."), nil
	}
	x := model.Walked{What: Back, Why: "taken back"}
	var facts []model.Fact
	for before := i; w.ranOutSince(i); i = before {
		if before = lastGate(w.entries[:i]); before < 0 {
			break
		}
		facts = append(facts, w.walked(x))
	}
	if w.stillHot(i) {
		x.Variable, x.Answer = model.Heat, "hot"
	}
	facts = append(facts, w.walked(x))
	for _, action := range datedActions(w.entries[i:]) {
		facts = append(facts,
			model.Fact{Kind: model.KindStrike,
				Strike: &model.Strike{Action: action, Why: "taken back in the session"}})
	}
	return w.complete(c, Reply{Facts: facts})
}

// ranOutSince tells whether what an action did was done while a wait ran that has passed by itself
// since.
func (w *Walk) ranOutSince(i int) bool {
	meanwhile := []model.What{Early, Lacking, Lacked}
	now := w.entries[i]
	did := slices.ContainsFunc(w.entries[i:], func(e *model.Entry) bool {
		return e.Action == now.Action && e.Walk != nil && slices.Contains(meanwhile, e.Walk.What)
	})
	return did && slices.ContainsFunc(w.entries[i:], func(e *model.Entry) bool {
		return e.Walk != nil && e.Walk.What == Passed && e.Walk.Auto && e.Walk.Answer == ranOut
	})
}

// datedActions names the actions that wrote dated facts, strikes apart: what one took back stays
// so.
func datedActions(entries []*model.Entry) []string {
	var out []string
	for _, e := range entries {
		if model.ClassOf(e.Kind) == model.Dated && e.Kind != model.KindStrike &&
			!slices.Contains(out, e.Action) {
			out = append(out, e.Action)
		}
	}
	return out
}
