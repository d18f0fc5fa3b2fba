package walk

import (
	"strings"

	"bench/oilcan/model"
)

// knowing is what need not be asked or read again: what answers made known, and the cautions that
// stood in full.
type knowing struct {
	known map[string]known // what answers made known, one of model.KnownNames
	stood map[string]stood // by caution: how the machine stood when it was read in full
	whole map[string]bool  // cautions that stood in full in this session
	open  *openPage        // the page that came up last
}

// unlearn makes unknown what an event changes.
func (kn *knowing) unlearn(event string) {
	for _, name := range stale[event] {
		delete(kn.known, name)
	}
}

// staleByAccess forgets what opening or closing a cover, a lid or a door changes: from its first
// step on.
func (kn *knowing) staleByAccess(v model.Variable, to string) {
	event, ok := map[model.Variable]string{model.Cover: "opening-head",
		model.Changer: "opening-changer", model.Top: "opening-chamber", model.Door: "opening-chamber"}[v]
	switch {
	case !ok:
	case v == model.Door && to == model.Shut: // a door that shuts touches nothing the head runs by
	case to == model.Values[v][0]:
		kn.unlearn("closing")
	default:
		kn.unlearn("opening")
		kn.unlearn(event)
	}
}

func (kn *knowing) staleByItem(s *model.Step, item string) {
	_, out := s.Out[item]
	_, in := s.In[item]
	if out || in {
		kn.unlearn("moved")
	}
	switch {
	case strings.HasPrefix(item, "block"):
		kn.unlearn("block")
	case strings.HasSuffix(item, "plate"):
		kn.unlearn("plate")
	case in && strings.HasPrefix(item, "wipe"):
		kn.unlearn("solvent")
	}
}

// staleByState forgets what a change of the machine's state makes unknown.
func (kn *knowing) staleByState(v model.Variable, to, from string) {
	if to == from {
		return
	}
	switch v {
	case model.Power:
		if to == model.On || to != model.Unplugged && (from == model.Unplugged || from == "") {
			kn.unlearn("power")
		}
	case model.Heat:
		if to != model.Cold {
			kn.unlearn("heat")
		}
	case model.Bed:
		kn.unlearn("motion")
	case model.Cover, model.Changer, model.Top, model.Door:
		if to != model.Values[v][0] {
			kn.staleByAccess(v, to)
		}
	}
}
