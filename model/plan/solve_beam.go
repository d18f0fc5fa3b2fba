package plan

// beamWidth is how many nodes of each depth the beam follows.
const beamWidth = 3000

// beam finds a good sequence where the search for the best one took too long: depth by depth it
// follows the most promising nodes only. bound is what is proven so far.
func (s *search) beam(bound uint32) (*solution, error) {
	s.nodes, s.index = nil, newTable()
	layers := make([]heap, len(s.p.jobs)+1)
	n := s.first()
	i, _ := s.at(&n)
	layers[0].push(entry{f: s.nodes[i].h, node: i})
	for depth := range layers {
		for width := 0; width < beamWidth && len(layers[depth]) > 0; {
			e := layers[depth].pop()
			n := &s.nodes[e.node]
			if n.closed || e.f != n.g+n.h {
				continue
			}
			if s.finished(n) {
				sol := &solution{steps: s.path(e.node), value: n.g, bound: bound}
				sol.optimal = costOf(sol.value) == bound
				return sol, nil
			}
			width++
			n.closed = true
			s.expand(e.node, func(_ int16, to node) { s.relax(&layers[to.done.len()], &to) })
		}
	}
	return nil, errTooFar
}
