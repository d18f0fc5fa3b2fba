package action

import (
	"time"

	"bench/oilcan/model"
)

// NewMachine gives the actions that add a machine with all that was told of it: its description and
// readings as one, each last time as one of its own, so that it can be struck alone. at is when it
// is told: where no day was told with a last time, that is when it counts from. fact has its id
// already.
func NewMachine(fact model.MachineFact, readings []model.Reading, lasts []Last,
	procs []*model.Procedure, at, now time.Time) ([]model.Action, error) {
	facts, err := Readings(&model.Machine{}, readings, at, now)
	if err != nil {
		return nil, err
	}
	facts = append([]model.Fact{{Kind: model.KindMachine, Machine: &fact}}, facts...)
	out := []model.Action{{At: at, Machine: fact.ID, Facts: facts}}
	for _, l := range lasts {
		told, err := l.Facts(procs, fact)
		if err != nil {
			return nil, err
		}
		if err := Beyond(l, told, readings); err != nil {
			return nil, err
		}
		if l.Value != nil || l.Unknown {
			l.At = at
		}
		out = append(out, model.Action{At: l.At, Machine: fact.ID, Facts: told})
	}
	return out, nil
}
