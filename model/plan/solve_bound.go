package plan

import (
	"cmp"
	"slices"
)

// bounds gives, for a node, a value that no way on can undercut. It adds two bounds that concern
// different parts of the cost and are each consistent:
//
//   - the set-up distance: for each job still to do, the least value of the set-up actions from
//     here through the job and the longest chain of jobs that must follow it, to the goal. Between
//     two jobs of the chain any job that may stand there may change the state for nothing.
//   - the change-over: each job still to do, and the end, costs at least the change from the
//     cheapest job that can stand right before it. Each job stands right before only one, so a
//     price for leaving it may be taken off all its changes and be paid once; with the prices of
//     the assignment problem the bound is at the start as good as that problem's optimum.
type bounds struct {
	p      *problem
	chains []chain
	before []set    // by job, closed
	preds  [][]pred // by job, and last for the end
	price  []int32  // by row of change: for leaving it
	all    set
}

// pred is a job that can stand right before another, and the change-over less its price.
type pred struct {
	cost int32
	job  int
}

func newBounds(p *problem, before []set, row []int) *bounds {
	n := len(p.jobs)
	b := &bounds{p: p, before: before, all: firstJobs(n), preds: make([][]pred, n+1)}
	after := make([]set, n)
	for j := range n {
		for m := before[j]; !m.empty(); {
			i := m.next()
			after[i] = after[i].with(j)
		}
	}
	b.chains = chainsOf(p, before, after)
	b.price = prices(p, before, after, row)
	for i := range n {
		for j := range n {
			if canFollow(before, after, i, j) {
				b.preds[j] = append(b.preds[j], pred{int32(p.change[i+1][j]) - b.price[i+1], i})
			}
		}
		if after[i].empty() {
			b.preds[n] = append(b.preds[n], pred{-b.price[i+1], i})
		}
	}
	for j := range b.preds {
		slices.SortFunc(b.preds[j], func(a, b pred) int {
			return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.job, b.job))
		})
	}
	return b
}

// canFollow tells whether j can stand right after i.
func canFollow(before, after []set, i, j int) bool {
	return i != j && !after[j].has(i) && !after[i].meets(before[j])
}

// prices gives a price for leaving each row of change, one for rows that are equal.
func prices(p *problem, before, after []set, row []int) []int32 {
	n := len(p.jobs)
	cost := make([][]int32, n+1) // row 0 is the start, column n the end
	for i := range cost {
		cost[i] = make([]int32, n+1)
		for j := range cost[i] {
			cost[i][j] = impossible
			switch {
			case i == 0 && j < n && before[j].empty(), i > 0 && j < n &&
				canFollow(before, after, i-1, j):
				cost[i][j] = min(int32(p.change[i][j]), impossible)
			case i > 0 && j == n && after[i-1].empty(), n == 0:
				cost[i][j] = 0
			}
		}
	}
	u := rowPotentials(cost)
	for i, r := range row {
		u[i+1] = u[r]
	}
	return u
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
	if left.empty() {
		return v
	}
	sum := b.price[n.row] + b.enter(n, len(b.p.jobs), left)
	for m := left; !m.empty(); {
		j := m.next()
		sum += b.price[j+1] + b.enter(n, j, left)
	}
	return v + uint64(max(sum, 0))<<costShift
}

// enter is the least change-over into job j, or to the end, less the price of what is left for it.
func (b *bounds) enter(n *node, j int, left set) int32 {
	least := int32(impossible)
	if j < len(b.p.jobs) && b.before[j].in(n.done) {
		least = int32(b.p.change[n.row][j]) - b.price[n.row]
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
