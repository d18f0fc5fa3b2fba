package sitting

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/model/plan"
)

// KnowHands is how many minutes of hands a session takes at most in which a machine is got to know, where nothing
// else is asked for.
const KnowHands = 45

// setUpHands is about how many of them are for set-up, opening and closing (from memory; the plan says it exactly).
const setUpHands = 15

// unknown gives those gauges that nobody knows and whose care would tell, in the order in which a machine is got to
// know: what guards a person first, then what lowers the risk most for a minute of hands. Renewals come only when
// nothing else is left to look at or to clean.
func unknown(gauges []model.Gauge) []model.Gauge {
	wanted := model.Preselect(gauges)
	var looks, renewals []model.Gauge
	for _, g := range gauges {
		switch {
		case g.Word != model.WordUnknown || !slices.Contains(wanted, g.Item):
		case g.Kind == model.Swap:
			renewals = append(renewals, g)
		default:
			looks = append(looks, g)
		}
	}
	worth := func(g model.Gauge) float64 { return life.Risk(&g) / max(1, g.Hands) }
	for _, list := range [][]model.Gauge{looks, renewals} {
		slices.SortStableFunc(list, func(x, y model.Gauge) int {
			return cmp.Or(cmp.Compare(guards(y), guards(x)), cmp.Compare(worth(y), worth(x)))
		})
	}
	if len(looks) > 0 {
		return looks
	}
	return renewals
}

// guards is 1 for what guards a person.
func guards(g model.Gauge) int {
	if model.GuardsPerson(g.Item) {
		return 1
	}
	return 0
}

// pressing orders ids for a session of limited time: what is known to be due, then what nobody knows in the order in
// which a machine is got to know, renewals last.
func pressing(ids []string, gauges []model.Gauge) []string {
	place := func(id string) int {
		i := slices.IndexFunc(gauges, func(g model.Gauge) bool { return g.Item == id })
		switch {
		case i < 0 || gauges[i].Word != model.WordUnknown:
			return 0
		case gauges[i].Kind != model.Swap:
			return 1 + slices.IndexFunc(unknown(gauges), func(g model.Gauge) bool { return g.Item == id })
		}
		return len(gauges) + 1
	}
	out := slices.Clone(ids)
	slices.SortStableFunc(out, func(x, y string) int { return cmp.Compare(place(x), place(y)) })
	return out
}

// UntilKnown is about how many sessions it takes until all a machine is kept by is known; 0 where it is.
func UntilKnown(gauges []model.Gauge) int {
	hands := 0.0
	wanted := model.Preselect(gauges)
	for _, g := range gauges {
		if g.Word == model.WordUnknown && slices.Contains(wanted, g.Item) {
			hands += max(1, g.Hands)
		}
	}
	return int(math.Ceil(hands / (KnowHands - setUpHands)))
}

// KnowText says what a session is that gets to know a machine, of about n until all is known.
func KnowText(n int) string {
	if n == 1 {
		return "Much is not known of this machine yet: looks and cleaning first. After this session all is known."
	}
	return fmt.Sprintf("Much is not known of this machine yet: looks and cleaning first, %d min of hands at most; about %d sessions until all is known.", KnowHands, n)
}

// know plans a session that does what is due and, in the minutes of hands left, gets to know the machine.
func (d Desk) know(m *model.Machine, ids []string, gauges []model.Gauge) (Chosen, error) {
	open := unknown(gauges)
	due := slices.DeleteFunc(slices.Clone(ids), func(id string) bool {
		return slices.ContainsFunc(gauges, func(g model.Gauge) bool { return g.Item == id && g.Word == model.WordUnknown })
	})
	var more []string
	for _, g := range open {
		more = append(more, g.Item)
	}
	p, kept, err := plan.FitHands(d.Lib.Get, model.NewFeatureSet(m.Features...), m.Settings, due, more, KnowHands, d.request(m))
	return Chosen{IDs: kept, Plan: name(p, m)}, err
}
