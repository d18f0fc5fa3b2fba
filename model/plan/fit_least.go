package plan

import (
	"math"

	"bench/oilcan/model"
)

// least tells what the set-up actions of a session take at least, whatever the order, of any set of
// its jobs. Sets that need the machine alike share one search.
type least struct {
	p      *problem   // states that can be met only
	before []set      // by job: those that come before it by themselves
	after  []set      // and behind it
	can    [][]uint64 // by job: bits of the states in which it can be done
	dark   set        // jobs that can be done with the plug out only
	stays  []bool     // by job: it leaves the machine as it stands
	unread int        // the state to start from where nothing is measured stone cold
	extra  uint32     // what the way out of an emergency takes
	// by state: may it end here where no set-up action is taken; nil where one must be
	asIs   []bool
	unplug []bool // by action: it pulls the plug
	known  map[leastKey]uint32
}

type leastKey struct {
	jobs set
	pull bool
}

// tooLong is of what no order does.
const tooLong = math.MaxUint32 / 4

// newLeast prepares the jobs of a session, measured in minutes or in hands alone. cold tells that
// nobody read the heat and the machine stood off: that is believed only for what is measured stone
// cold.
func newLeast(m *session, r Request, by measure, cold bool) (*least, error) {
	way, after, err := m.wayOut()
	if err != nil {
		return nil, err
	}
	m.state, m.by = after, by
	goal := m.goal()
	l := &least{before: m.prec.direct, after: make([]set, len(m.procs)),
		known: map[leastKey]uint32{}}
	unread := m.state
	if cold {
		unread = put(m.state, model.Heat, model.Assumed()[model.Heat])
	}
	_, moves := m.within(m.state, unread)
	p := m.problem(goal, moves)
	for _, i := range way {
		l.extra += p.actions[i].hands
	}
	for _, q := range m.setups {
		l.unplug = append(l.unplug, pullsPlug(q.Change))
	}
	var number []int
	l.p, number = reachable(p, unread)
	l.unread = number[unread]
	if len(way) == 0 {
		l.asIs = make([]bool, l.p.states)
		end := want(m.asIs(goal, r.Power), m.fs)
		for s, n := range number {
			if n >= 0 {
				l.asIs[n] = end.meets(s)
			}
		}
	}
	l.index()
	for j := range p.jobs {
		dark := true
		for s, n := range number {
			dark = dark && (n < 0 || p.jobs[j].to[s] < 0 || s&3 == 3)
		}
		if dark {
			l.dark = l.dark.with(j)
		}
	}
	return l, nil
}

// index works out what reduce asks for.
func (l *least) index() {
	for j := range l.p.jobs {
		for rest := l.before[j]; !rest.empty(); {
			i := rest.next()
			l.after[i] = l.after[i].with(j)
		}
		can, stays := make([]uint64, (l.p.states+63)/64), true
		for s, to := range l.p.jobs[j].to {
			if to >= 0 {
				can[s>>6] |= 1 << (s & 63)
				stays = stays && int(to) == s
			}
		}
		l.can, l.stays = append(l.can, can), append(l.stays, stays)
	}
}

// setUp gives what the set-up actions of the jobs take at least, tooLong where no order does them
// all; with pull the plug may be pulled.
func (l *least) setUp(jobs set, pull bool) uint32 {
	key := leastKey{jobs, pull}
	if v, ok := l.known[key]; ok {
		return v
	}
	few := l.reduce(jobs, set{})
	fewKey := leastKey{few, pull}
	v, ok := l.known[fewKey]
	if !ok {
		at := l.unread
		if few.meets(l.p.stone) {
			at = l.p.start
		}
		v = l.search(at, few, pull, nil)
		l.known[fewKey] = v
	}
	l.known[key] = v
	return v
}

// relaxed gives what the jobs need at least whatever else is done: any other job may change the
// state for nothing.
func (l *least) relaxed(jobs set, pull bool) uint32 {
	free := func(state int16, f func(to int16)) {
		for j := range l.p.jobs {
			if to := l.p.jobs[j].to[state]; to >= 0 && to != state {
				f(to)
			}
		}
	}
	return min(l.search(l.unread, jobs, pull, free), l.search(l.p.start, jobs, pull, free))
}

// reduce leaves out each job that can be done right beside another one wherever that stands: it
// leaves nothing, asks no more of the machine, nothing more comes before it and nothing more behind
// it, not of those either that may join. Such a job changes no sum.
func (l *least) reduce(jobs, join set) set {
	all := jobs.or(join)
	for rest := jobs; !rest.empty(); {
		b := rest.next()
		before, after := l.before[b].and(all), l.after[b].and(all)
		for as := jobs.without(b); !as.empty(); {
			a := as.next()
			if before.without(a).in(l.before[a]) && after.without(a).in(l.after[a]) &&
				l.beside(b, a) {
				jobs = jobs.without(b)
				break
			}
		}
	}
	return jobs
}

// beside tells whether b can be done wherever a can, and neither leaves anything.
func (l *least) beside(b, a int) bool {
	if !l.stays[a] || !l.stays[b] || l.p.stone.has(b) {
		return false
	}
	for i, w := range l.can[a] {
		if w&^l.can[b][i] != 0 {
			return false
		}
	}
	return true
}

// spot is how a machine stands and what is done.
type spot struct {
	done  set
	state int16
}

// search finds the least: nothing where work alone does it, on the machine as it stands. free,
// where it is not nil, gives more ways from a state that cost nothing.
func (l *least) search(from int, jobs set, pull bool,
	free func(state int16, f func(to int16))) uint32 {
	work := func(at spot, f func(to spot, more uint32)) {
		l.work(at, jobs, f)
		if free != nil {
			free(at.state, func(to int16) { f(spot{at.done, to}, 0) })
		}
	}
	if l.asIs != nil && l.cheapest(from, jobs, l.asIs, work) < tooLong {
		return 0
	}
	return l.cheapest(from, jobs, l.p.goal, func(at spot, f func(to spot, more uint32)) {
		l.act(at, jobs, pull, f)
		work(at, f)
	})
}

// cheapest is Dijkstra's method over what is done and how the machine stands, to where all is done
// and the goal met; next gives the ways on. What can be done without a change is done at once.
func (l *least) cheapest(from int, jobs set, goal []bool,
	next func(at spot, f func(to spot, more uint32))) uint32 {
	var spots []spot
	var cost []uint32
	var queue heap
	number := map[spot]int32{}
	reach := func(at spot, c uint32) {
		at = l.settle(at, jobs)
		i, ok := number[at]
		if !ok {
			i = int32(len(spots))
			number[at] = i
			spots, cost = append(spots, at), append(cost, tooLong)
		}
		if c < cost[i] {
			cost[i] = c
			queue.push(entry{f: uint64(c), depth: uint16(at.done.len()), node: i})
		}
	}
	reach(spot{state: int16(from)}, l.extra)
	for len(queue) > 0 {
		e := queue.pop()
		at, c := spots[e.node], cost[e.node]
		if uint64(c) != e.f {
			continue
		}
		if at.done == jobs && goal[at.state] {
			return c
		}
		next(at, func(to spot, more uint32) { reach(to, c+more) })
	}
	return tooLong
}

// settle does everything that can be done as the machine stands and never changes it. What may
// leave something is not done at once though it leaves nothing here: it may save a set-up action
// where the machine stands otherwise.
func (l *least) settle(at spot, jobs set) spot {
	for again := true; again; {
		again = false
		for rest := jobs.minus(at.done); !rest.empty(); {
			j := rest.next()
			if l.stays[j] && l.p.jobs[j].to[at.state] >= 0 && l.before[j].and(jobs).in(at.done) {
				at.done, again = at.done.with(j), true
			}
		}
	}
	return at
}

// act calls f for each set-up action.
func (l *least) act(at spot, jobs set, pull bool, f func(to spot, more uint32)) {
	cold := jobs.minus(at.done).meets(l.p.stone)
	for _, m := range l.p.moves[at.state] {
		if cold && m.heats || !pull && l.unplug[m.action] {
			continue
		}
		f(spot{at.done, int16(m.to)}, l.p.actions[m.action].hands)
	}
}

// work calls f for each job that can be done next.
func (l *least) work(at spot, jobs set, f func(to spot, more uint32)) {
	for left := jobs.minus(at.done); !left.empty(); {
		j := left.next()
		if to := l.p.jobs[j].to[at.state]; to >= 0 && l.before[j].and(jobs).in(at.done) {
			f(spot{at.done.with(j), to}, 0)
		}
	}
}
