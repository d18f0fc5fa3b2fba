package plan

import (
	"math"
	"slices"

	"bench/oilcan/model"
)

// Work that names a wait is done in it, and counts once: the waiting of a session is what is left
// of its waits. A procedure's minutes are spread evenly over its steps, as they are where a session
// says what is left of it. What could go into a wait and stands before it for no reason goes behind
// where the wait begins: the filler goes into the wait, not before it.

// waitNames are the waits of set-up actions as files name them, by variable and value.
var waitNames = map[[2]string]string{{"heat", model.Cold}: "cool", {"vapour", model.Clear}: "air"}

// waitOf names the wait in a resolved procedure or set-up action, "" where it has none that other
// work goes into.
func waitOf(p *model.Procedure) string {
	switch {
	case p.Waiting == 0:
		return ""
	case p.Change != nil:
		return waitNames[[2]string{string(p.Change.Variable), p.Change.To}]
	}
	for i := range p.Steps {
		if s := &p.Steps[i]; s.Gate == model.Wait && !s.Attended &&
			slices.Contains(model.WaitNames, s.Name) {
			return s.Name
		}
	}
	return ""
}

// fillOf is how many minutes of a resolved procedure's hands go into a wait: of its steps up to the
// first that stands alone, those that name it. A multiple of a quarter minute, never more than
// there is.
func fillOf(p *model.Procedure, wait string) float64 {
	if p.Change != nil || wait == "" {
		return 0
	}
	steps, fills, open := 0, 0, true
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Only.Step != "" {
			continue // only an answer brings it
		}
		steps++
		open = open && s.Rank() != model.Hold
		if open && s.Untouching() && slices.Contains(s.Meanwhile, wait) {
			fills++
		}
	}
	if fills == 0 {
		return 0
	}
	return quarter * math.Floor(p.HandsOn*float64(fills)/float64(steps)/quarter)
}

// filled is how many minutes of a sequence are done in its waits: each in the first wait before it
// that it names and that has room.
func (m *session) filled(seq []Item) float64 {
	type wait struct {
		name string
		room float64
	}
	var waits []wait
	sum := 0.0
	for _, it := range seq {
		p := m.find(it.ID)
		for i := range waits {
			if n := min(fillOf(p, waits[i].name), waits[i].room); n > 0 {
				waits[i].room, sum = waits[i].room-n, sum+n
				break
			}
		}
		if name := waitOf(p); name != "" {
			waits = append(waits, wait{name, p.Waiting})
		}
	}
	return sum
}

// intoWaits puts what could go into a wait behind where the wait begins, where that keeps the order
// of the files and costs nothing: it needs no state and leaves none, so that to the search both
// places are the same.
func (m *session) intoWaits(p *Plan) {
	for i := 0; i < len(p.Sequence); i++ {
		q := m.find(p.Sequence[i].ID)
		if q.Change != nil || len(q.Require)+len(q.Leave) > 0 || q.Kind == model.Bookend ||
			stoneCold(q) {
			continue
		}
		for j := i + 1; j < len(p.Sequence); j++ {
			w := m.find(p.Sequence[j].ID)
			if fillOf(q, waitOf(w)) == 0 {
				continue
			}
			seq := slices.Insert(slices.Clone(p.Sequence), j+1, p.Sequence[i])
			seq = slices.Delete(seq, i, i+1)
			if m.ordered(seq) && (m.by != byCost || m.pickupsOf(seq) <= p.ToolPickups) {
				p.Sequence = seq
				i--
			}
			break
		}
	}
}

// job is the number of a procedure, -1 for a set-up action.
func (m *session) job(id string) int {
	return slices.IndexFunc(m.procs, func(p *model.Procedure) bool { return p.ID == id })
}

// ordered tells whether a sequence keeps to the precedence.
func (m *session) ordered(seq []Item) bool {
	var done set
	for _, it := range seq {
		if i := m.job(it.ID); i >= 0 {
			if !m.prec.before[i].in(done) {
				return false
			}
			done = done.with(i)
		}
	}
	return true
}

// pickupsOf counts the tools picked up along a sequence.
func (m *session) pickupsOf(seq []Item) int {
	var have map[string]bool
	n := 0
	for _, it := range seq {
		if i := m.job(it.ID); i >= 0 {
			n += missing(m.tools[i], have)
			have = m.tools[i]
		}
	}
	return n
}

// coolFills gives by job the quarter minutes of its hands that go into the cooling down, where a
// session begins hot and so every one that pulls the plug cools down first: as many as there is
// room for, the first in their order.
func (m *session) coolFills() []uint32 {
	out := make([]uint32, len(m.procs))
	mask, hot, _ := bitsOf(model.Heat, model.Hot)
	if m.state&mask != hot || m.state&3 != 0 || m.locked {
		return out
	}
	room := math.Inf(1)
	for _, q := range m.setups {
		if waitOf(q) == "cool" {
			room = min(room, q.Waiting)
		}
	}
	for i, p := range m.procs {
		if n := fillOf(p, "cool"); n <= room {
			out[i], room = uint32(n/quarter), room-n
		}
	}
	return out
}
