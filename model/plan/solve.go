package plan

import (
	"errors"
	"math"
)

// problem is an ordering problem: jobs with precedence, a change-over cost between neighbours, and
// a machine whose state every job needs and may change, moved by set-up actions. A problem with one
// state and no actions is the sequential ordering problem (Escudero 1988).
type problem struct {
	jobs []job // at most maxJobs
	// change[0][j]: quarter minutes to begin with j; change[i+1][j]: to do j right after i
	change  [][]uint32
	states  int
	start   int
	goal    []bool // by state: may it end here
	actions []action
	moves   [][]move // by state
	stone   set      // jobs that no action that heats may come before
}

// job is one thing to do, once.
type job struct {
	rank   int     // place of its name among all names of jobs and actions
	before set     // all jobs that come before it, closed under precedence
	to     []int16 // by state: the state after it; -1 where it cannot be done
}

// action is a set-up action: it may be taken any number of times.
type action struct {
	rank    int
	hands   uint32 // quarter minutes, part of the cost
	waiting uint32 // quarter minutes
}

// move is an action that is possible in a state, and where it leads.
type move struct {
	action, to int
	heats      bool
}

// step is one step of a solution.
type step struct {
	setup bool
	index int // of the job or the action
}

// solution is a sequence and what is known of it.
type solution struct {
	steps   []step
	value   uint64 // packed
	optimal bool   // the value is proven least
	bound   uint32 // quarter minutes no sequence can cost less than
}

// The value of a sequence is packed so that one comparison is the lexicographic one: cost, waiting,
// number of actions, and the sum over actions of jobs still to come.
const (
	lateBits  = 18
	countBits = 10
	waitBits  = 16
	costBits  = 20

	countShift = lateBits
	waitShift  = countShift + countBits
	costShift  = waitShift + waitBits

	never = math.MaxUint64 // no way
)

func pack(cost, waiting uint32, count, late int) uint64 {
	return uint64(cost)<<costShift | uint64(waiting)<<waitShift | uint64(
		count)<<countShift | uint64(late)
}

func costOf(v uint64) uint32 { return uint32(v >> costShift) }

// errNoOrder says that no sequence does every job and ends in the goal.
var errNoOrder = errors.New("no order does everything asked for")

// errTooFar says that the search gave up before it met any sequence at all.
var errTooFar = errors.New("too many orders are possible: leave some procedures out")

// solve finds the best sequence. After limit expanded nodes it stops proving and gives the best it
// can find, with the bound proven so far.
func solve(p *problem, limit int) (*solution, error) {
	s := newSearch(p)
	best, bound, err := s.astar(limit)
	if err != nil {
		return nil, err
	}
	if best < 0 {
		return s.beam(bound)
	}
	sol := &solution{value: s.nodes[best].g, optimal: true}
	sol.bound = costOf(sol.value)
	if steps, ok := s.smallest(sol.value, limit); ok {
		sol.steps = steps
	} else {
		sol.steps = s.path(best)
	}
	return sol, nil
}

// search is the state of one run.
type search struct {
	p     *problem
	b     *bounds
	all   set
	prec  []set // before, closed, with interchangeable jobs put in order
	row   []int // by job: its row in change, rows that are equal sharing one number
	nodes []node
	index table
}

// node is what is done, what is in the hand and how the machine stands.
type node struct {
	done   set
	row    int16 // what was done last, as a row of change
	state  int16
	by     int16 // the job done, or ^action, that led here
	closed bool
	parent int32
	g      uint64 // least value known to get here
	h      uint64 // least value it can still take
	failed uint64 // no sequence of the least value goes on from here at this g or more
}

// expand calls f for each way on from node i: the job or ^action, the node it leads to, and its
// value.
func (s *search) expand(i int32, f func(by int16, to node)) {
	n := s.nodes[i]
	left := s.all.minus(n.done)
	cold := left.meets(s.p.stone)
	for _, m := range s.p.moves[n.state] {
		if cold && m.heats {
			continue
		}
		a := &s.p.actions[m.action]
		to := node{done: n.done, row: n.row, state: int16(m.to), by: int16(^m.action), parent: i}
		to.g = n.g + pack(a.hands, a.waiting, 1, left.len())
		f(to.by, to)
	}
	for rest := left; !rest.empty(); {
		j := rest.next()
		to := s.p.jobs[j].to[n.state]
		if to < 0 || !s.prec[j].in(n.done) {
			continue
		}
		f(int16(j), node{
			done: n.done.with(j), row: int16(s.row[j]), state: to, by: int16(j), parent: i,
			g: n.g + pack(s.p.change[n.row][j], 0, 0, 0),
		})
	}
}

// at finds the node's place, adding it where it is new.
func (s *search) at(n *node) (i int32, isNew bool) {
	h := hash(n)
	i, slot := s.index.find(s.nodes, n, h)
	if i >= 0 {
		return i, false
	}
	n.h = s.b.rest(n)
	n.failed = never
	s.nodes = append(s.nodes, *n)
	i = int32(len(s.nodes) - 1)
	s.index.put(s.nodes, slot, i, h)
	return i, true
}

// first is the node a sequence starts from.
func (s *search) first() node {
	return node{state: int16(s.p.start), parent: -1, by: 0}
}

// finished tells whether a node is an end.
func (s *search) finished(n *node) bool { return n.done == s.all && s.p.goal[n.state] }

// astar finds an end of least value; best is -1 where the limit came first, with the least cost
// any sequence can have.
func (s *search) astar(limit int) (best int32, bound uint32, err error) {
	var open heap
	n := s.first()
	i, _ := s.at(&n)
	if s.nodes[i].h == never {
		return -1, 0, errNoOrder
	}
	open.push(entry{f: s.nodes[i].h, node: i})
	for count := 0; len(open) > 0; {
		e := open.pop()
		n := &s.nodes[e.node]
		if n.closed || e.f != n.g+n.h {
			continue
		}
		if s.finished(n) {
			return e.node, costOf(n.g), nil
		}
		if count++; count > limit {
			return -1, costOf(e.f), nil
		}
		n.closed = true
		s.expand(e.node, func(_ int16, to node) { s.relax(&open, &to) })
	}
	return -1, 0, errNoOrder
}

// relax takes a way to a node into account and queues the node where the way is better.
func (s *search) relax(open *heap, to *node) {
	i, isNew := s.at(to)
	n := &s.nodes[i]
	if n.h == never || !isNew && to.g >= n.g {
		return
	}
	n.g, n.parent, n.by = to.g, to.parent, to.by
	n.closed = false // the bound is consistent, so this is never needed, and harmless
	open.push(entry{f: n.g + n.h, depth: uint16(n.done.len()), node: i})
}

// path gives the steps by which a node was reached.
func (s *search) path(i int32) []step {
	var steps []step
	for ; s.nodes[i].parent >= 0; i = s.nodes[i].parent {
		steps = append(steps, stepOf(s.nodes[i].by))
	}
	for l, r := 0, len(steps)-1; l < r; l, r = l+1, r-1 {
		steps[l], steps[r] = steps[r], steps[l]
	}
	return steps
}

func stepOf(by int16) step {
	if by < 0 {
		return step{setup: true, index: int(^by)}
	}
	return step{index: int(by)}
}
