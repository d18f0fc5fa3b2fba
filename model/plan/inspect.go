package plan

import (
	"slices"

	"bench/oilcan/model"
)

// looking are the rungs of care that only looks or measures, on a machine that is dark.
var looking = []model.Rung{"opening", "before-opening", "inspect", "stone-cold"}

// Inspects tells whether a resolved procedure may be done on a machine that is stopped, so that the
// cause can be found: it only looks or measures, cold and unplugged, renews and wets nothing, and
// needs neither power nor heat nor motors, before it or after it. What has to be unloaded first
// waits too.
func Inspects(p *model.Procedure) bool {
	r := p.Require
	switch {
	case p.Kind != model.Look && !(p.Kind == model.Care && slices.Contains(looking, rungOf(p))):
		return false
	case len(p.Owns)+len(p.Proof) > 0, r[model.Power] == model.On, r[model.Filament] != "":
		return false
	case heats(p), leaves(p, model.Vapour) == model.Drying:
		return false
	}
	return !slices.ContainsFunc(p.Steps, func(s model.Step) bool {
		return len(s.Drives)+len(s.Renewed) > 0 || s.Set[string(model.Vapour)] != "" ||
			s.Set[model.FlagOil] != ""
	})
}

// WithinReach plans what of a request can be come to on a machine to which nothing brings power;
// what cannot, because a bed stands high or filament holds the tubes, is left for another day and
// said in Left. Errors are those of Make, where not even nothing can be planned.
func WithinReach(r Request) (*Plan, error) {
	var keep []*model.Procedure
	var left []Left
	for _, p := range r.Procedures {
		one := r
		one.Procedures = append(slices.Clone(keep), p)
		if _, err := Make(one); err != nil {
			left = append(left, Left{ID: p.ID, Why: p.Title +
				" is left for another day: nothing brings the machine there without power."})
			continue
		}
		keep = one.Procedures
	}
	r.Procedures = keep
	p, err := Make(r)
	if err != nil {
		return nil, err
	}
	p.Left = append(p.Left, left...)
	return p, nil
}

// bookends are the ids of what opens and closes such a session: a machine whose power is locked is
// not read under power.
func (r Request) bookends() []string {
	if r.Locked {
		return Bookends[1:]
	}
	return Bookends
}
