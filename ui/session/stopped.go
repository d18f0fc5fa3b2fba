package session

import (
	"fmt"
	"slices"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/plan"
	"bench/oilcan/model/walk"
)

// Inspections are the ids of what may be done on a stopped machine, cold and unplugged, so that the
// cause is found.
func (d Desk) Inspections(m *model.Machine) []string {
	var out []string
	for _, p := range d.Lib.All() {
		if p.Fits(model.NewFeatureSet(m.Features...)) && d.inspects(m, p.ID) {
			out = append(out, p.ID)
		}
	}
	return out
}

// FirstInspections are those of them that look where most stops come from: what a session takes
// where nothing is chosen.
func (d Desk) FirstInspections(m *model.Machine) []string {
	return slices.DeleteFunc(d.Inspections(m), func(id string) bool {
		return !model.FindsStops(id)
	})
}

func (d Desk) inspections(m *model.Machine, all bool) []string {
	if all {
		return d.Inspections(m)
	}
	return d.FirstInspections(m)
}

func (d Desk) inspects(m *model.Machine, id string) bool {
	p := d.Lib.Get(id)
	return p != nil && plan.Inspects(p.For(model.NewFeatureSet(m.Features...), m.Settings))
}

// CanBegin tells in a sentence why no session of these procedures may begin on a machine: it is
// stopped, and one of them is more than a look at it, cold and unplugged.
func (d Desk) CanBegin(m *model.Machine, ids []string) error {
	if !m.Stopped() {
		return nil
	}
	for _, id := range ids {
		p := d.Lib.Get(id)
		if p != nil && p.Kind == model.Bookend && p.Require[model.Power] != model.On ||
			d.inspects(m, id) {
			continue
		}
		return fmt.Errorf("%s is stopped (%s): put it right, then close its stop finding by name; until then the rest waits: %s; "+
			"its plan lists what may be looked at, cold and unplugged", m.Name, strings.TrimSuffix(
			m.Tag.Why, "."), title(d.Lib, id))
	}
	return nil
}

// standsStopped is how a stopped machine is taken to stand until its state is asked: off, not
// unplugged, what can fall at rest, and nothing in the tubes; what is otherwise is left for another
// day then.
func standsStopped(start model.Condition) {
	start[model.Power], start[model.Bed], start[model.Filament] = model.Off, model.Low, model.Unloaded
}

// StoppedText says what the plan of a stopped machine is, "" for any other.
func StoppedText(m *model.Machine) string {
	if !m.Stopped() {
		return ""
	}
	return "Stopped: " + strings.TrimSuffix(m.Tag.Why, ".") +
		". It may be looked at for the cause, cold and unplugged: mains, cables and heat first; what " +
		"filament in the tubes or a bed that stands high keeps out of reach is left. The stop stands until its finding is closed by name."
}

// StillOpen says what a machine's book still has out, inside or loose, which no word settles; ""
// where it has nothing.
func StillOpen(m *model.Machine) string {
	l := walk.LedgerLine(walk.Due(m))
	if l == "" {
		return ""
	}
	return "Still on its book: " + l + ". It is not ready before a care session has closed that."
}
