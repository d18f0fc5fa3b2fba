package plan

import (
	"cmp"
	"fmt"
	"slices"

	"bench/oilcan/model"
)

// quarter is the unit of minutes in the search.
const quarter = 0.25

// problem makes the ordering problem: goal to end in, moves by state.
func (m *session) problem(goal model.Condition, moves [][]move) *problem {
	p := &problem{states: stateCount, start: m.state, goal: make([]bool, stateCount), moves: moves,
		stone: m.stone()}
	end := want(goal, m.fs)
	for s := range stateCount {
		p.goal[s] = end.meets(s)
	}
	rank := m.ranks()
	for i, q := range m.procs {
		p.jobs = append(p.jobs, job{rank: rank[q.ID], before: m.prec.before[i], to: m.to[i]})
	}
	for _, q := range m.setups {
		a := action{rank: rank[q.ID], hands: uint32(q.HandsOn / quarter),
			waiting: uint32(q.Waiting / quarter)}
		if m.by == byMinutes {
			a.hands, a.waiting = a.hands+a.waiting, 0
		}
		p.actions = append(p.actions, a)
	}
	p.change = append(p.change, m.pickups(nil))
	for i := range m.procs {
		p.change = append(p.change, m.pickups(m.tools[i]))
	}
	return p
}

// ranks numbers all ids in their order, those that take the power away first: of orders that cost
// the same a machine is dark before it is opened.
func (m *session) ranks() map[string]int {
	all := slices.Concat(m.procs, m.setups)
	slices.SortFunc(all, func(a, b *model.Procedure) int {
		return cmp.Or(cmp.Compare(lights(a), lights(b)), cmp.Compare(a.ID, b.ID))
	})
	rank := map[string]int{}
	for i, q := range all {
		rank[q.ID] = i
	}
	return rank
}

// lights is 0 for what takes the power away, 1 for all else.
func lights(p *model.Procedure) int {
	if c := p.Change; c != nil && c.Variable == model.Power &&
		(c.To == model.Unplugged || c.From == model.On) {
		return 0
	}
	return 1
}

// pickups gives what going on to each procedure costs with these things in the hand: a quarter
// minute for each tool or supply not among them. An order by minutes alone does not ask.
func (m *session) pickups(have map[string]bool) []uint32 {
	row := make([]uint32, len(m.procs))
	if m.by != byCost {
		return row
	}
	for j := range row {
		row[j] = uint32(missing(m.tools[j], have))
	}
	return row
}

func missing(need, have map[string]bool) int {
	n := 0
	for name := range need {
		if !have[name] {
			n++
		}
	}
	return n
}

// toolsOf is what a resolved procedure has in the hand: tools and supplies by name.
func toolsOf(p *model.Procedure) map[string]bool {
	t := map[string]bool{}
	for _, x := range p.Tools {
		t[x.Name] = true
	}
	for _, x := range p.Supplies {
		t[x.Part] = true
	}
	return t
}

// after gives the state after a procedure by the state before it, -1 where it must not be done.
func (m *session) after(p *model.Procedure) []int16 {
	require, behind := want(m.needs(p), m.fs), left(p)
	to := make([]int16, stateCount)
	for s := range to {
		to[s] = -1
		if !require.meets(s) || emergency(s) || overBlocks(s) {
			continue
		}
		if e := behind.put(s); e&3 != 0 || s&3 == 0 {
			to[s] = int16(e) // else it would bring power: that is for set-up actions
		}
	}
	return to
}

// needs is all that must hold for a procedure: what its file requires and what the interlocks add.
func (m *session) needs(p *model.Procedure) model.Condition {
	c := p.Require.Clone()
	for v, value := range guard(p, m.fs) {
		if c[v] == "" || model.Meets(v, value, c[v]) {
			c[v] = value
		}
	}
	return c
}

// contradiction says where a file requires what an interlock forbids.
func (m *session) contradiction(p *model.Procedure) error {
	if stoneCold(p) && heats(p) {
		return fmt.Errorf("%s is measured stone cold and heats: mend its rung or what it leaves",
			p.ID)
	}
	g := guard(p, m.fs)
	for _, v := range model.Variables {
		if w := p.Require[v]; w != "" && g[v] != "" && !model.Meets(v, g[v], w) &&
			!model.Meets(v, w, g[v]) {
			return fmt.Errorf("%s requires %s %s, and for what it does an interlock wants %s %s: mend its require", p.ID, v, w, v, g[v])
		}
	}
	return nil
}

// left gives the values a procedure leaves behind. What only an answer leaves is not left.
func left(p *model.Procedure) pattern {
	var b pattern
	for _, l := range p.Leave {
		if l.Only.Step == "" {
			b = b.then(l.Variable, l.Is)
		}
	}
	return b
}

// deed is a set-up action of the session in bits: what must hold, and what holds after it.
type deed struct {
	action            int // its place among the set-up actions
	require, from, to pattern
	on, off, heats    bool
	free              bool // it lifts the gantry off its blocks
}

func (m *session) deeds() []deed {
	var out []deed
	for i, q := range m.setups {
		if IsCut(q.ID) {
			continue // only the way out takes it
		}
		c := q.Change
		d := deed{action: i, require: want(q.Require, m.fs), heats: c.Variable == model.Heat && c.To == model.Hot,
			on:   c.Variable == model.Power && c.To == model.On,
			off:  c.Variable == model.Power && c.To == model.Off,
			free: q.ID == GantryFree}
		d.from.mask, d.from.is, _ = bitsOf(c.Variable, c.From)
		if unloads(c) {
			d.from.mask = headEmpty // a stub comes out as all of it does
		}
		d.to = pattern{}.then(c.Variable, c.To).over(left(q))
		if d.on {
			d.to = d.to.then(model.Sensor, "proved") // it runs the owed proofs of the sensor
		}
		out = append(out, d)
	}
	return out
}

// within lists the states that set-up actions and the procedures' own changes can lead to from
// some, and gives by state the set-up actions possible in those: few of all there are.
func (m *session) within(from ...int) ([]int, [][]move) {
	var list []int
	deeds, moves, seen := m.deeds(), make([][]move, stateCount), make([]bool, stateCount)
	meet := func(s int) {
		if !seen[s] {
			seen[s] = true
			list = append(list, s)
		}
	}
	for _, s := range from {
		meet(s)
	}
	for i := 0; i < len(list); i++ {
		s := list[i]
		moves[s] = m.movesIn(s, deeds)
		for _, mv := range moves[s] {
			meet(mv.to)
		}
		for k := range m.procs {
			if to := m.to[k][s]; to >= 0 {
				meet(int(to))
			}
		}
	}
	return list, moves
}

// moves gives the set-up actions possible in each state the session can come to.
func (m *session) moves() [][]move {
	_, moves := m.within(m.state)
	return moves
}

func (m *session) movesIn(s int, deeds []deed) []move {
	var out []move
	for i := range deeds {
		d := &deeds[i]
		to, ok, heats := s, false, false
		switch {
		case overBlocks(s):
			to, ok = d.freed(s)
			ok = ok && hasGantry(m.fs) // without one no such state can be met
		case d.from.meets(s) && !d.free:
			to, ok = m.act(s, d)
			// switching on proves an unproved sensor, with heat
			ok, heats = ok && to != s, d.heats || d.on && s&unproved != 0
		}
		if ok {
			out = append(out, move{d.action, to, heats})
		}
	}
	return out
}

// act gives the state a set-up action leads to, and whether it may be taken at all.
func (m *session) act(s int, d *deed) (int, bool) {
	if emergency(s) || !d.require.meets(s) || d.on && (m.locked || m.unplugged) {
		return s, false
	}
	to := d.to.put(s)
	if d.on && emergency(to) {
		return s, false
	}
	if d.on && s&low != 0 && hasGantry(m.fs) {
		to = put(to, model.Power, OverBlocks)
	}
	return to, true
}

// freed gives the state a set-up action leads to from power over the blocks of a gantry: it is
// lifted off them, or switched off again.
func (d *deed) freed(s int) (int, bool) {
	switch {
	case d.free && d.require.meets(put(s, model.Power, model.On)):
		return d.to.put(put(s, model.Power, model.On)), true
	case d.off && d.require.meets(s):
		return d.to.put(s), true
	}
	return s, false
}

func (m *session) plan(way []int, sol *solution, goal model.Condition) *Plan {
	p := &Plan{Optimal: sol.optimal, Bound: float64(sol.bound) * quarter, Start: m.start,
		Goal: goal, Left: m.left,
		Precedence: m.prec.pairs(), Sequence: []Item{}}
	for _, i := range way {
		q := m.setups[i]
		p.SetUpActions++
		p.Sequence = append(p.Sequence, Item{Kind: model.BlockSetUp, ID: q.ID, Change: q.Change,
			HandsOn: q.HandsOn, Waiting: q.Waiting})
		p.HandsOn += q.HandsOn
		p.Waiting += q.Waiting
		p.Cost += q.HandsOn
		p.Bound += q.HandsOn
	}
	var have map[string]bool
	for _, st := range sol.steps {
		q, kind := (*model.Procedure)(nil), model.BlockCare
		if st.setup {
			q, kind = m.setups[st.index], model.BlockSetUp
			p.SetUpActions++
			p.Cost += q.HandsOn
		} else {
			q = m.procs[st.index]
			p.ToolPickups += missing(m.tools[st.index], have)
			have = m.tools[st.index]
		}
		p.Sequence = append(p.Sequence,
			Item{Kind: kind, ID: q.ID, Change: q.Change, HandsOn: q.HandsOn, Waiting: q.Waiting})
		p.HandsOn += q.HandsOn
		p.Waiting += q.Waiting
	}
	p.Cost += float64(p.ToolPickups) * quarter
	p.Sequence = m.paperLast(p.Sequence)
	m.intoWaits(p)
	p.Filled = m.filled(p.Sequence)
	m.reasons(p)
	l := m.layOut(p)
	p.Tools, p.Supplies = l.Tools, l.Supplies
	return p
}

// paperLast moves the bookend that closes the session behind the set-up actions at the end: it
// counts the machine whole and says how it is handed back. That costs nothing, since it neither
// needs nor changes a state; to the search both places are the same.
func (m *session) paperLast(seq []Item) []Item {
	var rest, last []Item
	for _, it := range seq {
		if closesSession(m.find(it.ID)) {
			last = append(last, it)
		} else {
			rest = append(rest, it)
		}
	}
	return append(rest, last...)
}

// closesSession tells whether a resolved procedure is the bookend at the end.
func closesSession(p *model.Procedure) bool {
	return p.Kind == model.Bookend && rungOf(p) == model.RungPaper && len(p.Require) == 0 &&
		len(p.Leave) == 0
}

// find gives the resolved procedure or set-up action of a plan's item.
func (m *session) find(id string) *model.Procedure {
	return cmp.Or(model.ByID(m.procs, id), model.ByID(m.setups, id))
}

// verify has the finished plan checked by the interlocks.
func (m *session) verify(p *Plan, goal model.Condition) error {
	var seq []*model.Procedure
	for _, it := range p.Sequence {
		seq = append(seq, m.find(it.ID))
	}
	if err := Verify(m.fs, seq, m.start); err != nil {
		return err
	}
	if m.loose {
		if err := VerifyWayOut(seq, m.start); err != nil {
			return err
		}
	}
	if err := VerifyOrder(seq); err != nil {
		return err
	}
	if m.unplugged {
		return VerifyUnplugged(m.fs, seq, m.start)
	}
	return VerifyClosed(m.fs, seq, m.start, goal, m.locked)
}
