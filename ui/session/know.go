package session

import (
	"fmt"
	"math"
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/model/plan"
)

// KnowHands is how many minutes of hands a session takes at most in which a machine is got to know,
// where nothing else is asked for.
const KnowHands = 45

// setUpHands is about how many of them are for set-up, opening and closing (from memory; the plan
// says it exactly).
const setUpHands = 15

// unknown gives those gauges that nobody knows and whose care would tell. Renewals come only when
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
	if len(looks) > 0 {
		return looks
	}
	return renewals
}

// gains is what doing some procedures is worth: the drop in the chance that something is past its
// band. A renewal that nobody knows the last time of is told by its look.
func gains(f *life.Forecaster, gauges []model.Gauge, ids []string) []plan.Gain {
	var out []plan.Gain
	for i := range gauges {
		g := &gauges[i]
		done := []string{g.Item}
		if g.Word == model.WordUnknown && g.Look != "" {
			done = append(done, g.Look)
		}
		if slices.ContainsFunc(done, func(id string) bool { return slices.Contains(ids, id) }) {
			out = append(out, plan.Gain{Done: done, Chance: f.Drop(g),
				Guards: slices.ContainsFunc(done, model.GuardsPerson)})
		}
	}
	return out
}

// told leaves out renewals that nobody knows the last time of while there is anything left to look
// at or to clean.
func told(ids []string, gauges []model.Gauge) []string {
	open := unknown(gauges)
	return slices.DeleteFunc(slices.Clone(ids), func(id string) bool {
		same := func(g model.Gauge) bool { return g.Item == id }
		i := slices.IndexFunc(gauges, same)
		return i >= 0 && gauges[i].Word == model.WordUnknown && !slices.ContainsFunc(open, same)
	})
}

// UntilKnown is about how many sessions it takes until all a machine is kept by is known; 0 where
// it is.
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
	return fmt.Sprintf("Much is not known of this machine yet: looks and cleaning first, %d min of hands at most; about %s until all is known.", KnowHands, model.Counted(n, "session"))
}

// know plans a session that does what is due and, in the minutes of hands left, gets to know the
// machine.
func (d Desk) know(f *life.Forecaster, m *model.Machine, ids []string, gauges []model.Gauge,
	r plan.Request) (Chosen, error) {
	t := plan.Time{Minutes: KnowHands, Hands: true}
	for _, id := range told(ids, gauges) {
		if slices.ContainsFunc(gauges, func(g model.Gauge) bool {
			return g.Item == id && g.Word == model.WordUnknown
		}) {
			t.May = append(t.May, id)
		} else {
			t.Must = append(t.Must, id)
		}
	}
	return d.fit(f, m, t, gauges, r)
}

// fit plans what is worth most in the minutes there are.
func (d Desk) fit(f *life.Forecaster, m *model.Machine, t plan.Time, gauges []model.Gauge,
	r plan.Request) (Chosen, error) {
	t.Gains = gains(f, gauges, slices.Concat(t.Must, t.May))
	p, err := plan.FitTime(d.Lib.Get, model.NewFeatureSet(m.Features...), m.Settings, t, r)
	if err != nil {
		return Chosen{}, err
	}
	return Chosen{IDs: p.Fit.Kept, Plan: name(p, m)}, nil
}
