package plan

import "slices"

// chain is a set-up distance, shared by the jobs for which it is the same.
type chain struct {
	end   bool     // the distance to the goal, not through a job
	jobs  set      // through any of these
	known set      // used once these are done
	value []uint64 // by state

	base []uint64 // by state: the value from there on where the job can be done there
	free set      // jobs that may stand between and change the state for nothing
	late int      // jobs that come with it or after it
}

// backMove is a move, or a job's change of state, seen from its end.
type backMove struct {
	from   int32
	weight uint64
	job    int16 // -1 for an action
}

func backMoves(p *problem) [][]backMove {
	back := make([][]backMove, p.states)
	for s := range p.states {
		for _, m := range p.moves[s] {
			a := p.actions[m.action]
			back[m.to] = append(back[m.to], backMove{int32(s), pack(a.hands, a.waiting, 1, 0), -1})
		}
		for j := range p.jobs {
			if to := int(p.jobs[j].to[s]); to >= 0 && to != s {
				back[to] = append(back[to], backMove{int32(s), 0, int16(j)})
			}
		}
	}
	return back
}

type distances struct {
	p             *problem
	before, after []set
	next          []set // by job: those directly after it
	back          [][]backMove
	movers        set // jobs that change a state
	chains        []chain
	of            []int // by job: its chain
}

// chainsOf gives the distances to the goal and through each job. For job j, known is what is surely
// done whenever the distance is used: all that every direct predecessor of j is or has before it. A
// job outside known and not after j may still come first, and its change of state is free then.
// With that the bound is consistent: a node's children use every distance the node's was built on.
func chainsOf(p *problem, before, after []set) []chain {
	n := len(p.jobs)
	d := &distances{p: p, before: before, after: after, next: make([]set, n), of: make([]int, n)}
	d.back = backMoves(p)
	ends := firstJobs(n)
	for j := range n {
		for m := after[j]; !m.empty(); {
			if k := m.next(); !after[j].meets(before[k]) {
				d.next[j] = d.next[j].with(k)
			}
		}
		if !after[j].empty() {
			ends = ends.without(j)
		}
		if slices.ContainsFunc(d.back, func(ms []backMove) bool {
			return slices.ContainsFunc(ms, func(m backMove) bool { return int(m.job) == j })
		}) {
			d.movers = d.movers.with(j)
		}
	}
	d.addEnd(ends)
	for _, j := range d.backward() {
		d.add(j)
	}
	return d.chains
}

// backward gives the jobs so that each comes after all that follow it.
func (d *distances) backward() []int {
	order := make([]int, len(d.p.jobs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return d.after[a].len() - d.after[b].len() })
	return order
}

// addEnd adds the distance to the goal.
func (d *distances) addEnd(ends set) {
	base := make([]uint64, d.p.states)
	for s := range base {
		base[s] = never
		if d.p.goal[s] {
			base[s] = 0
		}
	}
	known := d.common(ends)
	c := chain{end: true, known: known, base: base, free: d.movers.minus(known)}
	c.value = d.spread(&c)
	d.chains = append(d.chains, c)
}

// add adds the distance through job j, sharing an equal one.
func (d *distances) add(j int) {
	base := make([]uint64, d.p.states)
	for s := range base {
		base[s] = never
		to := d.p.jobs[j].to[s]
		if to < 0 {
			continue
		}
		if d.next[j].empty() {
			base[s] = d.chains[0].value[to]
			continue
		}
		base[s] = 0
		for m := d.next[j]; !m.empty(); {
			base[s] = max(base[s], d.chains[d.of[m.next()]].value[to])
		}
	}
	var direct set
	for m := d.before[j]; !m.empty(); {
		if i := m.next(); d.next[i].has(j) {
			direct = direct.with(i)
		}
	}
	c := chain{jobs: set{}.with(j), known: d.common(direct), base: base, late: d.after[j].len() + 1}
	c.free = d.movers.minus(d.after[j]).minus(c.known).without(j)
	for i := range d.chains {
		k := &d.chains[i]
		if !k.end && k.known == c.known && k.late == c.late && k.free == c.free &&
			slices.Equal(k.base, base) {
			k.jobs = k.jobs.or(c.jobs)
			d.of[j] = i
			return
		}
	}
	c.value = d.spread(&c)
	d.of[j] = len(d.chains)
	d.chains = append(d.chains, c)
}

// common is what all the jobs of a set are or have before them; nothing for no jobs.
func (d *distances) common(jobs set) set {
	if jobs.empty() {
		return set{}
	}
	c := firstJobs(len(d.p.jobs))
	for m := jobs; !m.empty(); {
		i := m.next()
		c = c.and(d.before[i].with(i))
	}
	return c
}

// spread carries the base values backward over all moves (Dijkstra 1959).
func (d *distances) spread(c *chain) []uint64 {
	value := slices.Clone(c.base)
	var open heap
	for s, v := range value {
		if v != never {
			open.push(entry{f: v, node: int32(s)})
		}
	}
	for len(open) > 0 {
		e := open.pop()
		if e.f != value[e.node] {
			continue
		}
		for _, m := range d.back[e.node] {
			w := e.f
			if m.job >= 0 {
				if !c.free.has(int(m.job)) {
					continue
				}
			} else {
				w += m.weight + uint64(c.late)
			}
			if w < value[m.from] {
				value[m.from] = w
				open.push(entry{f: w, node: m.from})
			}
		}
	}
	return value
}
