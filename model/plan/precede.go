package plan

import (
	"fmt"
	"strings"

	"bench/oilcan/model"
)

// precedence is which jobs come before which, with the reason of each direct pair.
type precedence struct {
	ids    []string
	direct []set // by job: those a rung or a file names before it
	before []set // closed
	why    map[[2]int]string
}

// precede works out the precedence of resolved procedures: rung before rung, and what a file names
// as coming before it. A circle is an error that names it whole.
func precede(procs []*model.Procedure) (*precedence, error) {
	n := len(procs)
	p := &precedence{ids: make([]string, n), direct: make([]set, n), why: map[[2]int]string{}}
	at := map[string]int{}
	for i, q := range procs {
		p.ids[i] = q.ID
		at[q.ID] = i
	}
	for j, q := range procs {
		for i, r := range procs {
			ri, rj := rungOf(r), rungOf(q)
			if ri.Order() >= 0 && rj.Order() >= 0 && ri.Order() < rj.Order() {
				p.add(i, j, fmt.Sprintf("rung %s before %s", ri, rj))
			}
			if stoneCold(r) && heats(q) {
				p.add(i, j, "stone cold before heat")
			}
		}
		for _, id := range q.After {
			if i, ok := at[id]; ok {
				p.add(i, j, fmt.Sprintf("%s names it under after", q.ID))
			}
		}
	}
	p.close()
	for i := range n {
		if p.before[i].has(i) {
			return nil, p.circle(i)
		}
	}
	return p, nil
}

// rungOf is the rung of a resolved procedure.
func rungOf(p *model.Procedure) model.Rung {
	if len(p.Rung) == 0 {
		return model.OffMachine
	}
	return p.Rung[0].Is
}

func (p *precedence) add(before, after int, why string) {
	p.direct[after] = p.direct[after].with(before)
	if _, ok := p.why[[2]int{before, after}]; !ok {
		p.why[[2]int{before, after}] = why
	}
}

// close makes the transitive closure (Warshall 1962).
func (p *precedence) close() {
	p.before = append([]set(nil), p.direct...)
	for k := range p.before {
		for j := range p.before {
			if p.before[j].has(k) {
				p.before[j] = p.before[j].or(p.before[k])
			}
		}
	}
}

// circle says which procedures each have to come before the next.
func (p *precedence) circle(start int) error {
	type from struct{ after int }
	seen := map[int]from{}
	queue := []int{start}
	for len(queue) > 0 {
		j := queue[0]
		queue = queue[1:]
		for m := p.direct[j]; !m.empty(); {
			i := m.next()
			if i == start {
				parts := []string{}
				for k, next := i, j; ; {
					parts = append(parts, fmt.Sprintf("%s before %s (%s)", p.ids[k], p.ids[next],
						p.why[[2]int{k, next}]))
					if next == start {
						break
					}
					k, next = next, seen[next].after
				}
				return fmt.Errorf("the order runs in a circle: %s; mend rung or after in one of these files", strings.Join(parts, ", "))
			}
			if _, ok := seen[i]; !ok && i != start {
				seen[i] = from{j}
				queue = append(queue, i)
			}
		}
	}
	return fmt.Errorf("the order runs in a circle at %s; mend rung or after in its file",
		p.ids[start])
}

// pairs gives the precedence without what follows from the rest (transitive reduction), as ids.
func (p *precedence) pairs() [][2]string {
	out := [][2]string{}
	for j := range p.before {
		implied := set{}
		for m := p.before[j]; !m.empty(); {
			implied = implied.or(p.before[m.next()])
		}
		for m := p.before[j].minus(implied); !m.empty(); {
			out = append(out, [2]string{p.ids[m.next()], p.ids[j]})
		}
	}
	return out
}
