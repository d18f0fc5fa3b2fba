package plan

import "slices"

// way is one way on from a node.
type way struct {
	rank int
	node int32
	g    uint64
	by   int16
}

// smallest finds, of all sequences of the least value, the one whose names come first, compared
// element by element: it tries the ways on in the order of their names and never leaves the least
// value. It gives up after limit nodes.
func (s *search) smallest(best uint64, limit int) ([]step, bool) {
	var steps []step
	count := 0
	var visit func(i int32, g uint64) bool
	visit = func(i int32, g uint64) bool {
		if s.finished(&s.nodes[i]) && g == best {
			return true
		}
		if count++; count > limit {
			return false
		}
		for _, w := range s.ways(i, best) {
			if n := &s.nodes[w.node]; w.g > n.g || w.g >= n.failed {
				continue
			}
			steps = append(steps, stepOf(w.by))
			if visit(w.node, w.g) {
				return true
			}
			steps = steps[:len(steps)-1]
			if count > limit {
				return false
			}
			s.nodes[w.node].failed = w.g
		}
		return false
	}
	n := s.first()
	i, _ := s.at(&n)
	ok := visit(i, 0)
	return steps, ok
}

// ways gives the ways on from node i that can still end at the least value, by name.
func (s *search) ways(i int32, best uint64) []way {
	var ws []way
	s.expand(i, func(by int16, to node) {
		at, isNew := s.at(&to)
		n := &s.nodes[at]
		if n.h == never || to.g+n.h > best || !isNew && to.g > n.g {
			return
		}
		n.g = to.g
		ws = append(ws, way{rank: s.rank(by), node: at, g: to.g, by: by})
	})
	slices.SortFunc(ws, func(a, b way) int { return a.rank - b.rank })
	return ws
}

func (s *search) rank(by int16) int {
	if by < 0 {
		return s.p.actions[^by].rank
	}
	return s.p.jobs[by].rank
}
