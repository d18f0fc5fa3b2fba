package plan

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
)

// readSOP reads a sequential ordering problem: a full matrix of change-over costs in which -1 at
// (i, j) says that j comes before i; the path goes from the first node to the last.
func readSOP(t testing.TB, name string) *problem {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	_, body, ok := strings.Cut(string(data), "EDGE_WEIGHT_SECTION")
	if !ok {
		t.Fatalf("%s has no EDGE_WEIGHT_SECTION", name)
	}
	words := strings.Fields(strings.ReplaceAll(body, "EOF", ""))
	n, _ := strconv.Atoi(words[0])
	c := make([][]int, n)
	for i := range c {
		for j := range n {
			v, err := strconv.Atoi(words[1+i*n+j])
			if err != nil {
				t.Fatal(err)
			}
			c[i] = append(c[i], v)
		}
	}
	// The first node is where it stands at the start, the others are the jobs.
	p := &problem{states: 1, goal: []bool{true}, moves: make([][]move, 1)}
	for i := range n {
		row := make([]uint32, n-1)
		for j := 1; j < n; j++ {
			row[j-1] = uint32(max(c[i][j], 0))
		}
		p.change = append(p.change, row)
	}
	for i := 1; i < n; i++ {
		jb := job{rank: i, to: []int16{0}}
		for j := 1; j < n; j++ {
			if c[i][j] < 0 {
				jb.before = jb.before.with(j - 1)
			}
		}
		p.jobs = append(p.jobs, jb)
	}
	for k := range p.jobs {
		for j := range p.jobs {
			if p.jobs[j].before.has(k) {
				p.jobs[j].before = p.jobs[j].before.or(p.jobs[k].before)
			}
		}
	}
	return p
}

// The optima are those published for TSPLIB (Reinelt 1991): three public lists agree on them.
func TestPublishedOptima(t *testing.T) {
	for _, c := range []struct {
		file string
		cost uint32
	}{{"ESC07.sop", 2125}, {"ESC11.sop", 2075}, {"br17.10.sop", 55}} {
		t.Run(c.file, func(t *testing.T) {
			p := readSOP(t, c.file)
			sol, err := solve(p, DefaultLimit)
			if err != nil {
				t.Fatal(err)
			}
			if got := costOf(sol.value); got != c.cost || !sol.optimal || sol.bound != c.cost {
				t.Errorf("cost %d, bound %d, optimal %v; published %d", got, sol.bound, sol.optimal,
					c.cost)
			}
			if err := checkSteps(p, sol); err != nil {
				t.Error(err)
			}
		})
	}
}

// checkSteps replays a solution of a problem without looking at how it was found.
func checkSteps(p *problem, sol *solution) error {
	v, s, last := uint64(0), p.start, 0
	var done set
	for _, st := range sol.steps {
		if st.setup {
			to := -1
			for _, m := range p.moves[s] {
				if m.action == st.index {
					to = m.to
				}
			}
			if to < 0 {
				return fmt.Errorf("action %d is not possible", st.index)
			}
			s = to
			a := p.actions[st.index]
			v += pack(a.hands, a.waiting, 1, len(p.jobs)-done.len())
			continue
		}
		j := st.index
		if done.has(j) || !p.jobs[j].before.in(done) || p.jobs[j].to[s] < 0 {
			return fmt.Errorf("job %d out of place", j)
		}
		v += pack(p.change[last][j], 0, 0, 0)
		done, s, last = done.with(j), int(p.jobs[j].to[s]), j+1
	}
	if done.len() != len(p.jobs) || !p.goal[s] {
		return fmt.Errorf("not everything is done, or not closed")
	}
	if v != sol.value {
		return fmt.Errorf("the steps cost %x, not %x", v, sol.value)
	}
	return nil
}
