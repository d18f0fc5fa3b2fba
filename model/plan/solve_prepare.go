package plan

import "slices"

// newSearch closes the precedence, reduces the states to those that can be met, and makes the
// bounds.
func newSearch(p *problem) *search {
	p, _ = reachable(p)
	n := len(p.jobs)
	s := &search{p: p, all: firstJobs(n), row: make([]int, n), index: newTable()}
	s.prec = make([]set, n)
	for j := range p.jobs {
		s.prec[j] = p.jobs[j].before
	}
	for j := range n {
		s.row[j] = j + 1
		for i := range j {
			if slices.Equal(p.change[i+1], p.change[j+1]) {
				s.row[j] = i + 1
				break
			}
		}
	}
	inOrder(p, s.row, s.prec)
	s.b = newBounds(p, s.prec, s.row)
	return s
}

// reachable renumbers the states, keeping those that some sequence from the start or from another
// state can meet; it gives the new numbers too, -1 for those not kept.
func reachable(p *problem, also ...int) (*problem, []int) {
	number := make([]int, p.states)
	for i := range number {
		number[i] = -1
	}
	number[p.start] = 0
	met := []int{p.start}
	meet := func(s int) {
		if number[s] < 0 {
			number[s] = len(met)
			met = append(met, s)
		}
	}
	for _, s := range also {
		meet(s)
	}
	for i := 0; i < len(met); i++ {
		for _, m := range p.moves[met[i]] {
			meet(m.to)
		}
		for j := range p.jobs {
			if to := p.jobs[j].to[met[i]]; to >= 0 {
				meet(int(to))
			}
		}
	}
	q := *p
	q.states, q.start = len(met), 0
	q.goal, q.moves, q.jobs = make([]bool, len(met)), make([][]move, len(met)), slices.Clone(p.jobs)
	for j := range q.jobs {
		q.jobs[j].to = make([]int16, len(met))
	}
	for i, s := range met {
		q.goal[i] = p.goal[s]
		for _, m := range p.moves[s] {
			q.moves[i] = append(q.moves[i], move{m.action, number[m.to], m.heats})
		}
		for j := range q.jobs {
			q.jobs[j].to[i] = -1
			if to := p.jobs[j].to[s]; to >= 0 {
				q.jobs[j].to[i] = int16(number[to])
			}
		}
	}
	return &q, number
}

// inOrder puts jobs that can be exchanged for each other without any difference into the order of
// their names: of the sequences that differ only in such an exchange it is the one sought.
func inOrder(p *problem, row []int, prec []set) {
	n := len(p.jobs)
	after := make([]set, n)
	for j := range n {
		for m := prec[j]; !m.empty(); {
			i := m.next()
			after[i] = after[i].with(j)
		}
	}
	same := func(i, j int) bool {
		if row[i] != row[j] || prec[i] != prec[j] || after[i] != after[j] {
			return false
		}
		if !slices.Equal(p.jobs[i].to, p.jobs[j].to) {
			return false
		}
		for r := range p.change {
			if r != i+1 && r != j+1 && p.change[r][i] != p.change[r][j] {
				return false
			}
		}
		return p.change[i+1][j] == p.change[j+1][i]
	}
	before := slices.Clone(prec)
	for i := range n {
		for j := range n {
			if p.jobs[i].rank < p.jobs[j].rank && same(i, j) {
				before[j] = before[j].with(i)
			}
		}
	}
	copy(prec, before)
}
