package walk

import (
	"slices"

	"bench/oilcan/model"
)

// Steps of close-out that name the state a machine is handed back in, what it may not do then,
// whether it may print while it waits for a part and what it may not do meanwhile, and who signs.
const (
	handBackState = "ready"
	stepLimit     = "limit"
	stepUntil     = "until"
	stepLimitPart = "limit-part"
	signature     = "sign"
)

// saidAnew closes the reminders that what is written now takes the place of: the same step says
// the same once more, the state a machine is handed back in is named anew, or the codes of its error
// list are gone. What keeps a machine
// from being used stands until it is closed by name.
func saidAnew(c Context, facts []model.Fact) (out []model.Fact) {
	if c.Machine == nil {
		return nil
	}
	for _, f := range c.Machine.Findings {
		replaced := slices.ContainsFunc(facts, func(x model.Fact) bool { return replaces(x, f.Found) })
		settled := slices.ContainsFunc(facts, func(x model.Fact) bool {
			return x.Settled != nil && x.Settled.Finding == f.ID
		})
		if f.Step != "" && !f.Holds() && replaced && !settled {
			out = append(out, model.Fact{Kind: model.KindSettled,
				Settled: &model.Settled{Finding: f.ID, Why: "said anew in the session"}})
		}
	}
	return out
}

// replaces tells whether a fact says anew what a reminder says.
func replaces(x model.Fact, f model.Found) bool {
	if n := x.Finding; n != nil {
		return n.Procedure == f.Procedure && n.Step == f.Step && n.Kind == f.Kind && n.Text == f.Text
	}
	if x.Walk == nil || f.Kind != model.FoundNote {
		return false
	}
	return (x.Walk.What == Passed || x.Walk.What == Missed) &&
		stepIs(x.Walk.ID, x.Walk.Step, model.CloseOut, handBackState) &&
		stepIs(f.Procedure, f.Step, model.CloseOut, handBackState) ||
		codesGone(x.Walk) && (stepIs(f.Procedure, f.Step, model.AsFound, stepErrors) ||
			stepIs(f.Procedure, f.Step, model.AsFound, stepCode) ||
			stepIs(f.Procedure, f.Step, model.AsFound, stepMeans) ||
			stepIs(f.Procedure, f.Step, model.CloseOut, codes))
}

// codesGone tells that the error list was read without codes, or that what they named is put right.
func codesGone(x *model.Walked) bool {
	return x.What == Passed && !x.Auto && (stepIs(x.ID, x.Step, model.CloseOut, codes) ||
		stepIs(x.ID, x.Step, model.AsFound, stepErrors) && x.Answer == saysNone)
}

func stepIs(id, step, wantID, wantStep string) bool { return id == wantID && step == wantStep }

// doneHere tells whether this session did care of one of these ids, all of it.
func (at *progress) doneHere(ids []string) bool {
	return slices.ContainsFunc(at.Blocks, func(b *Block) bool {
		return b.Status == Done && slices.Contains(ids, b.ID)
	})
}
