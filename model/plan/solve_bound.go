package plan

import "slices"

// bounds gives, for a node, a value that no way on can undercut. It adds two bounds that concern
// different parts of the cost and are each consistent:
//
//   - the set-up distance: for each job still to do, the least value of the set-up actions from
//     here through the job and the longest chain of jobs that must follow it, to the goal. Between
//     two jobs of the chain any job that may stand there may change the state for nothing.
//   - the change-over: each job still to do costs at least the change from the cheapest job that
//     can stand right before it.
type bounds struct {
	p      *problem
	chains []chain
	before []set // by job, closed
	preds  [][]pred
	row    []int
	all    set
}

// pred is a job that can stand right before another.
type pred struct {
	cost uint32
	job  int
}

func newBounds(p *problem, before []set, row []int) *bounds {
	n := len(p.jobs)
	b := &bounds{p: p, before: before, row: row, all: firstJobs(n)}
	after := make([]set, n)
	for j := range n {
		for m := before[j]; !m.empty(); {
			i := m.next()
			after[i] = after[i].with(j)
		}
	}
	b.preds = immediate(p, before, after)
	b.chains = chainsOf(p, before, after)
	return b
}

// rest is the bound of a node: never where it cannot be finished.
func (b *bounds) rest(n *node) uint64 {
	left := b.all.minus(n.done)
	v := uint64(0)
	for i := range b.chains {
		c := &b.chains[i]
		if (c.end || c.jobs.meets(left)) && c.known.in(n.done) {
			v = max(v, c.value[n.state])
		}
	}
	if v == never {
		return never
	}
	var sum uint32
	for m := left; !m.empty(); {
		j := m.next()
		sum += b.enter(n, j, left)
	}
	return v + uint64(sum)<<costShift
}

// enter is the least change-over into job j.
func (b *bounds) enter(n *node, j int, left set) uint32 {
	least := ^uint32(0)
	if b.before[j].in(n.done) {
		least = b.p.change[n.row][j]
	}
	for _, q := range b.preds[j] {
		if q.cost >= least {
			break
		}
		if left.has(q.job) {
			return q.cost
		}
	}
	return least
}

// immediate gives for each job those that can stand right before it, cheapest first.
func immediate(p *problem, before, after []set) [][]pred {
	out := make([][]pred, len(p.jobs))
	for j := range p.jobs {
		for i := range p.jobs {
			if i == j || after[j].has(i) || after[i].meets(before[j]) {
				continue
			}
			out[j] = append(out[j], pred{p.change[i+1][j], i})
		}
		slices.SortFunc(out[j], func(a, b pred) int {
			if a.cost != b.cost {
				return int(a.cost) - int(b.cost)
			}
			return a.job - b.job
		})
	}
	return out
}
