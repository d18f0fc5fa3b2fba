package walk_test

import (
	"maps"
	"slices"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// shop is the machine as it stands in the workshop, by the test's own account of what the person
// did and said. It reads the entries alone and shares nothing with what the walk believes.
type shop struct {
	power   string            // as last said or done, "" where nobody said
	vapour  bool              // solvent or gas was used and not aired out
	solvent time.Time         // last use
	has     map[string]int    // out of the machine, and with "in:" before it in it
	flags   map[string]string // loose, wet, parted, lost
	typed   map[string]int    // numbers typed, by block and step
	before  []shop            // to go back to
	heat    warmth
	word    bool      // blocks stand by a word alone, which another answer takes back
	dark    time.Time // the plug is out since then, zero where it is not or nobody knows
}

// parts are the steps by which leads and connectors are parted that no flag tells of.
var parts = []string{"cover-off/lift", "changer-off/lead", "fan-swap/part"}

// partsConnectors tells whether a step parts connectors.
func partsConnectors(id string, s model.Step) bool {
	_, plugs := s.Out["hot-end plugs"]
	return plugs || s.Set["sensor-plug"] == "parted" || slices.Contains(parts, id+"/"+s.Name)
}

// warmth is what the machine's heaters and metal do, by the test's own account.
type warmth struct {
	hot     bool // heated, and nothing read as cold since
	targets bool // a heater may have a target
	session bool // it was hot in this session
	word    bool // it is hot by a word alone, which can be taken back
}

func (h *warmth) rise() { *h = warmth{hot: true, targets: true, session: true} }

// said takes a word for it.
func (h *warmth) said() {
	word := !h.hot || h.word
	h.rise()
	h.word = word
}

// shows are the quantities that tell how hot the machine is, or what it was asked for.
var shows = []string{"hot end temperature", "hot end temperature at work", "bed temperature",
	"warmest of bed and hot end",
	"block temperature, cold", "chamber temperature", "changer temperature", "brushing temperature",
	"softening temperature",
	"pull temperature", "hot end target", "tuning temperature", "block by probe at 60 °C", "idle reading"}

// answered takes what the answer at a step says of heat: a step that heats has heated, whatever was
// answered.
func (h *warmth) answered(s model.Step, x *model.Walked) {
	if slices.Contains(s.Drives, "heat") {
		h.rise()
	}
	if s.Unit == "°C" && x.Number != nil && slices.Contains(shows, s.Quantity) {
		if *x.Number > 45 {
			h.rise()
		} else {
			h.hot = false
		}
	}
	if s.Known == "targets-zero" && x.What == walk.Passed && x.Answer != "one is set" {
		h.targets = false
	}
}

func newShop() shop {
	return shop{has: map[string]int{}, flags: map[string]string{}, typed: map[string]int{}}
}

func (p shop) copy() shop {
	p.has, p.flags, p.typed = maps.Clone(p.has), maps.Clone(p.flags), maps.Clone(p.typed)
	return p
}

// holds is the first thing out, in or loose that may not be, strands apart; "" for none.
func (p shop) holds(may func(item string) bool) string {
	for _, k := range slices.Sorted(maps.Keys(p.has)) {
		if p.has[k] != 0 && !may(k) {
			return k
		}
	}
	for _, k := range slices.Sorted(maps.Keys(p.flags)) {
		if k != "strand" && !may(k) {
			return k
		}
	}
	return ""
}

// take takes what answers wrote, one action after the other. Going back is going back to before the
// latest gate answered, one action, though more than one may be answered before the machine is
// looked at.
func (p shop) take(w *walk.Walk, entries []model.Entry) shop {
	for n := 0; len(entries) > 0; entries = entries[n:] {
		n = slices.IndexFunc(entries, func(e model.Entry) bool {
			return e.Action != entries[0].Action
		})
		if n < 0 {
			n = len(entries)
		}
		p = p.act(w, entries[:n])
	}
	return p
}

// act takes what one action wrote.
func (p shop) act(w *walk.Walk, entries []model.Entry) shop {
	gate := slices.ContainsFunc(entries, func(e model.Entry) bool {
		return e.Walk != nil && answered(e.Walk)
	})
	next := p.copy()
	if gate {
		next.before = append(slices.Clip(p.before), p)
	}
	for _, e := range entries {
		if x := e.Walk; x != nil {
			next.fact(w, e.At, x)
		}
	}
	return next
}

func answered(x *model.Walked) bool {
	return !x.Auto && slices.Contains([]model.What{walk.Passed, walk.Missed, walk.Skipped,
		walk.LeftOut, walk.Said, walk.Counted, walk.Cut, walk.Ended, walk.Found, walk.Corrected,
		walk.Early, walk.Lacking, walk.Lacked}, x.What)
}

func (p *shop) fact(w *walk.Walk, at time.Time, x *model.Walked) {
	switch x.What {
	case walk.Back:
		if n := len(p.before); n > 0 {
			solvent, heat := p.solvent, p.heat
			*p = p.before[n-1].copy()
			p.solvent = solvent // what was wiped was wiped
			if heat.hot && !heat.word {
				p.heat = heat // and what is hot stays hot
			}
		}
	case walk.Resumed:
		p.before, p.dark = nil, time.Time{}
		// who knows what was set in the break
		p.heat.targets = p.heat.targets || p.heat.session && p.power == "on"
	case walk.Said:
		p.said(w, at, x)
	case walk.Skipped:
		if s, ok := stepOf(w, x.ID, x.Step); ok {
			p.heat.answered(s, x)
		}
	case walk.Counted:
		p.counted(x)
	case walk.Found:
		delete(p.flags, "lost-piece")
	case walk.Passed:
		p.passed(w, at, x, x.Undone)
	case walk.Missed:
		if s, ok := stepOf(w, x.ID, x.Step); ok {
			p.heat.answered(s, x)
		}
		if x.Then == "stop" {
			p.before = nil
		} else if slices.Contains([]model.Then{"note", "due", "add", "part"}, x.Then) {
			p.passed(w, at, x, x.Undone)
		}
	}
}

// stands takes that bed or gantry stand on blocks: one at least, two under a gantry, until they are
// counted.
func (p *shop) stands(w *walk.Walk) {
	n := 1
	if w.Features()["bedslinger"] {
		n = 2
	}
	p.word = p.word || p.has["in:blocks"] == 0
	p.has["in:blocks"] = max(p.has["in:blocks"], n)
}

// said takes how the person says that the machine stands.
func (p *shop) said(w *walk.Walk, at time.Time, x *model.Walked) {
	switch {
	case x.Variable == model.Power:
		if !x.Until.IsZero() {
			at = x.Until // since when, where it is told
		}
		p.powered(x.Answer, at)
	case x.Variable == model.Heat && x.Answer == "hot":
		p.heat.said()
	case x.Variable == model.Heat:
		p.heat.hot = false
	case x.Variable == model.Bed && x.Item != "":
		p.stands(w)
	}
}

// powered takes the power; a heater without it has no target.
func (p *shop) powered(is string, at time.Time) {
	p.power, p.dark = is, time.Time{}
	if is == "unplugged" {
		p.dark = at
	}
	if is != "on" {
		p.heat.targets = false
	}
}

func (p *shop) counted(x *model.Walked) {
	if flag, ok := cut(x.Item, "flag:"); ok {
		if x.Answer == "clear" {
			delete(p.flags, flag)
		}
		return
	}
	if x.Number != nil {
		p.has[x.Item] = int(*x.Number)
		p.word = p.word && x.Item != "in:blocks"
	}
}

func cut(s, prefix string) (string, bool) {
	if len(s) < len(prefix) || s[:len(prefix)] != prefix {
		return s, false
	}
	return s[len(prefix):], true
}

// passed carries out what a step says is done by passing it.
func (p *shop) passed(w *walk.Walk, at time.Time, x *model.Walked, undone bool) {
	s, ok := stepOf(w, x.ID, x.Step)
	if !ok {
		return
	}
	p.heat.answered(s, x)
	if x.Number != nil {
		p.typed[x.ID+"/"+x.Step] = int(*x.Number)
	}
	switch x.Answer {
	case "on both blocks", "stands on a block":
		p.stands(w)
	case "free", "on its stops", "lies at the bottom", "hangs":
		if p.word {
			delete(p.has, "in:blocks")
		}
	}
	n := func(a model.Amount) int {
		switch {
		case a.Count != "":
			return p.typed[x.ID+"/"+a.Count]
		case a.Answer:
			return p.typed[x.ID+"/"+x.Step]
		}
		return a.N
	}
	for item, a := range s.Out {
		p.has[item] = max(p.has[item], n(a))
	}
	for item, a := range s.In {
		p.word = p.word && item != "blocks"
		p.has["in:"+item] = max(p.has["in:"+item], n(a))
	}
	if s.Clock == "airing" && s.Gate == model.Wait && x.ID == "air" {
		p.vapour = false // how long it aired is looked at apart
	}
	if usesSolvent(s) {
		p.vapour, p.solvent = true, at
	}
	if undone {
		return
	}
	for item, a := range s.Back {
		p.has[item] = max(0, p.has[item]-n(a))
	}
	for item, a := range s.Taken {
		p.has["in:"+item] = max(0, p.has["in:"+item]-n(a))
	}
	for name, val := range s.Set {
		switch {
		case name == "vapour" || name == "sensor" || name == "filament":
		case val == "" || val == "clear" || val == "dry":
			delete(p.flags, name)
		default:
			p.flags[name] = val
		}
	}
	if s.Gate == model.State && s.Variable == model.Power {
		p.powered(s.Value, at)
	}
}
