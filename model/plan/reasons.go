package plan

import (
	"cmp"

	"bench/oilcan/model"
)

// fixedReasons are said of set-up actions that serve safety rather than one procedure, by variable,
// from and to; a file's own why goes before.
var fixedReasons = map[[3]string]string{
	{"heat", "cold", "hot"}:            "heat before the plug",
	{"heat", "hot", "cold"}:            "hands in only below 45 °C",
	{"bed", "high", "low"}:             "so that nothing can drop",
	{"power", "on", "off"}:             "hands in only without power",
	{"power", "off", "unplugged"}:      "hands in only without power",
	{"bed", "low", "high"}:             "blocks out before anything moves",
	{"vapour", "drying", "clear"}:      "vapour out before anything closes",
	{"filament", "loaded", "unloaded"}: "while the head is hot",
	{"filament", "loaded", "parted"}:   "no heat only to unload",
}

// reasons says of each item, in a few words, why it stands where it stands.
func (m *session) reasons(p *Plan) {
	for i := range p.Sequence {
		it := &p.Sequence[i]
		own := m.find(it.ID).Why
		if it.Kind == model.BlockCare {
			it.Why = own
			continue
		}
		c := it.Change
		if why, ok := fixedReasons[[3]string{string(c.Variable), c.From, c.To}]; ok {
			it.Why = cmp.Or(own, why)
			continue
		}
		if c.Variable == model.Power {
			// plugging in is for the sake of power
			c = &model.Change{Variable: model.Power, To: "on"}
		}
		next := m.wants(p.Sequence[i+1:], *c)
		switch {
		case c.Variable == model.Power && next != "":
			it.Why = "power for " + next
		case c.Variable == model.Power:
			it.Why = "power as it was"
		case closing(c) && next != "":
			it.Why = "closed before " + next
		case closing(c):
			it.Why = "what was opened is closed"
		case next != "":
			it.Why = "opens the way for " + next
		default:
			it.Why = own
		}
	}
}

// wants names the first that needs what a change brought, before the change is undone: a procedure,
// or a set-up action that could not be done without it. Power is for the sake of the first
// procedure.
func (m *session) wants(rest []Item, c model.Change) string {
	for _, it := range rest {
		if it.Kind == model.BlockSetUp &&
			(c.Variable == model.Power || it.Change.Variable == c.Variable) {
			if c.Variable == model.Power {
				continue
			}
			break
		}
		p := m.find(it.ID)
		if w := p.Require[c.Variable]; w != "" && model.Meets(c.Variable, c.To, w) {
			return p.Called()
		}
	}
	return ""
}
