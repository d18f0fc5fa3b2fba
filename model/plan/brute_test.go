package plan

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
	"pgregory.net/rapid"
)

// brute finds the best sequence by Dijkstra's method without any bound over everything that was
// done so far and the state, carrying whole sequences, all by the words of the files: conditions,
// not bits, and the checker's rules, not the search's.
//
// What is measured stone cold is left out of a session that finds the machine hot or has heated it,
// and where no sequence has it before all heat; where nobody read the heat it is planned from cold.
func brute(r Request) (best value, left bool, ok bool) { return bruteBy(r, false) }

// bruteBy finds the best sequence, or the one that takes the fewest minutes.
func bruteBy(r Request, minutes bool) (best value, left bool, ok bool) {
	seqOf := func(r Request) (value, bool) {
		if v, ok := (&slow{r: r, noSetUps: true, minutes: minutes}).best(); ok {
			return v, true
		}
		return (&slow{r: r, minutes: minutes}).best()
	}
	isStone := func(p *model.Procedure) bool { return p.Rung[0].Is == "stone-cold" }
	rest := r
	rest.Procedures = slices.DeleteFunc(slices.Clone(r.Procedures), isStone)
	if len(rest.Procedures) < len(r.Procedures) {
		if r.Heated || r.Start[model.Heat] == "hot" {
			v, ok := seqOf(rest)
			return v, true, ok
		}
		if r.Start[model.Heat] == "" {
			r.Start = r.Start.Clone()
			r.Start[model.Heat] = "cold"
		}
	}
	if v, ok := seqOf(r); ok {
		return v, false, true
	}
	v, ok := seqOf(rest)
	return v, true, ok
}

type slow struct {
	r        Request
	noSetUps bool
	minutes  bool // only the minutes count
	procs    []*model.Procedure
	ups      []*model.Procedure
}

type slowNode struct {
	seq  []*model.Procedure
	done int
	c    model.Condition
	warm bool // it was hot at some time
	v    value
}

func (s *slow) best() (value, bool) {
	for _, p := range s.r.Procedures {
		s.procs = append(s.procs, p.For(s.r.Features, s.r.Settings))
	}
	for _, p := range s.r.SetUps {
		jogs := s.r.Settings["gantry-jog"] != "no"
		if p.Change.Variable.Exists(s.r.Features) && p.Fits(s.r.Features) &&
			(p.ID != GantryFree || jogs) && !s.noSetUps {
			s.ups = append(s.ups, p.For(s.r.Features, s.r.Settings))
		}
	}
	start := believed(s.r.Features, s.r.Start)
	queue := []slowNode{{c: start, warm: start[model.Heat] == "hot"}}
	seen := map[string]bool{}
	for len(queue) > 0 {
		at := 0
		for i := range queue {
			if queue[i].v.compare(queue[at].v) < 0 {
				at = i
			}
		}
		n := queue[at]
		queue = slices.Delete(queue, at, at+1)
		if n.done == 1<<len(s.procs)-1 && s.closed(n.c, start) {
			return n.v, true
		}
		last := ""
		for _, p := range n.seq {
			if p.Change == nil {
				last = p.ID
			}
		}
		key := fmt.Sprint(n.done, last, n.c, n.warm)
		if seen[key] {
			continue
		}
		seen[key] = true
		queue = append(queue, s.next(n)...)
	}
	return value{}, false
}

func (s *slow) closed(c, start model.Condition) bool {
	for _, v := range []model.Variable{model.Cover, model.Top, model.Changer, model.Door,
		model.Vapour, model.Sensor} {
		if v.Exists(s.r.Features) && c[v] != model.Values[v][0] &&
			!(s.r.Locked && v == model.Sensor) {
			return false
		}
	}
	switch {
	case s.noSetUps:
		return c[model.Power] == start[model.Power]
	case s.r.Locked:
		return true
	}
	return c[model.Power] == "on"
}

func (s *slow) next(n slowNode) []slowNode {
	var out []slowNode
	try := func(p *model.Procedure, done int) {
		if breach(s.r.Features, p, n.c) != "" || n.warm && p.Change == nil &&
			p.Rung[0].Is == "stone-cold" {
			return
		}
		m := slowNode{seq: append(slices.Clone(n.seq), p), done: done,
			c: afterStep(s.r.Features, p, n.c)}
		m.warm = n.warm || m.c[model.Heat] == "hot" || // proving a sensor asks for heat
			p.ID == "switch-on" && n.c[model.Sensor] == "unproved"
		m.v = s.appraise(m.seq)
		out = append(out, m)
	}
	for _, p := range s.ups {
		if s.r.Locked && p.Change.Variable == model.Power && p.Change.To == "on" {
			continue
		}
		try(p, n.done)
	}
	for i, p := range s.procs {
		free := n.done>>i&1 == 0
		for j, q := range s.procs {
			ri, rj := p.Rung[0].Is.Order(), q.Rung[0].Is.Order()
			if n.done>>j&1 == 0 && j != i && (slices.Contains(p.After, q.ID) || ri >= 0 &&
				rj >= 0 && rj < ri) {
				free = false
			}
		}
		if free {
			try(p, n.done|1<<i)
		}
	}
	return out
}

// appraise counts what is still to come from all procedures, not only those in the sequence so far.
func (s *slow) appraise(seq []*model.Procedure) value {
	v := appraise(seq)
	if s.minutes {
		v = value{ids: v.ids}
		for _, p := range seq {
			v.cost += p.HandsOn + p.Waiting
		}
		return v
	}
	ups, done := 0, 0
	for _, p := range seq {
		if p.Change != nil {
			ups++
		} else {
			done++
		}
	}
	v.late += ups * (len(s.procs) - done)
	return v
}

var someRequires = []string{
	"", "P=on", "P=off", "P=unpl H=cold", "P=unpl H=cold C=off D=open",
	"P=unpl H=cold T=off B=low D=open", "P=on H=hot",
	"P=on F=unloaded", "M=det", "P=unpl M=det F=unloaded", "D=open", "P=off H=cold D=open V=clear",
	"P=on C=on T=on M=mtd D=cl",
	"P=unpl H=cold C=on T=off M=det B=low D=open", "B=low", "P=on S=proved", "V=clear",
}

var someLeaves = []string{"", "", "", "", "V=drying", "S=unproved", "H=hot", "F=loaded", "H=cold",
	"B=high", "D=open"}

// randomRequest draws a small session.
func randomRequest(t *rapid.T) Request {
	n := rapid.IntRange(0, 5).Draw(t, "procedures")
	r := Request{Features: full(), SetUps: setUps()}
	switch rapid.IntRange(0, 3).Draw(t, "machine") {
	case 0:
		r.Features = model.NewFeatureSet("open-frame", "bedslinger", "rods-steel", "bush-ball")
	case 1:
		r.Features = model.NewFeatureSet("enclosed", "bedslinger", "top-panel", "changer")
		r.Settings = map[string]string{"gantry-jog": rapid.SampledFrom([]string{"yes", "no"}).Draw(
			t, "gantry-jog")}
	}
	rungs := []string{"hot", "dust", "solvent", "proof", "off-machine", "off-machine", "dust",
		"stone-cold", "opening"}
	for i := range n {
		tools := strings.Join(rapid.SliceOfNDistinct(rapid.SampledFrom(
			[]string{"a", "b", "c", "d"}), 0, 3, rapid.ID[string]).Draw(t, "tools"), ",")
		// Few different ids in an order that is not that of the list, so that ties are common.
		p := care(fmt.Sprintf("%c%d", "zkmch"[i], i), rapid.SampledFrom(rungs).Draw(t, "rung"), 1,
			0,
			rapid.SampledFrom(someRequires).Draw(t, "require"), tools)
		leaving(p, rapid.SampledFrom(someLeaves).Draw(t, "leave"))
		for j := range i {
			if rapid.IntRange(0, 5).Draw(t, "after") == 0 {
				p.After = append(p.After, fmt.Sprintf("%c%d", "zkmch"[j], j))
			}
		}
		r.Procedures = append(r.Procedures, p)
	}
	if rapid.Bool().Draw(t, "known start") {
		r.Start = model.Condition{}
		for _, v := range model.Variables {
			if rapid.IntRange(0, 3).Draw(t, "asked") == 0 {
				r.Start[v] = rapid.SampledFrom(model.Values[v]).Draw(t, string(v))
			}
		}
	}
	r.Locked = rapid.IntRange(0, 7).Draw(t, "locked") == 0
	r.Heated = rapid.IntRange(0, 9).Draw(t, "heated") == 0
	return r
}

// The plan is the best there is by the whole objective, ids included, and says no where there is
// none.
func TestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := randomRequest(t)
		p, err := Make(r)
		if err != nil && (strings.Contains(err.Error(), "circle") ||
			strings.Contains(err.Error(), "mend its")) {
			return
		}
		want, left, ok := brute(r)
		if !ok {
			if err == nil {
				t.Fatalf("no sequence exists, yet the plan is %s", sequence(p))
			}
			return
		}
		if err != nil {
			t.Fatalf("%v; there is %v", err, want)
		}
		if left != (len(p.Left) > 0) {
			t.Fatalf("left for another day: %v, want %v", p.Left, left)
		}
		got := appraise(stepsOf(r, p))
		if got.compare(want) != 0 {
			t.Fatalf("got  %v\nwant %v", got, want)
		}
		if p.Cost != got.cost || p.Bound != got.cost || !p.Optimal || p.SetUpActions != got.setups {
			t.Fatalf("the plan says cost %v, bound %v, %d set-ups, optimal %v; its sequence is %v",
				p.Cost, p.Bound, p.SetUpActions, p.Optimal, got)
		}
	})
}

// stepsOf gives the resolved steps of a plan.
func stepsOf(r Request, p *Plan) []*model.Procedure {
	var seq []*model.Procedure
	for _, it := range p.Sequence {
		for _, q := range slices.Concat(r.Procedures, r.SetUps) {
			if q.ID == it.ID {
				seq = append(seq, q.For(r.Features, r.Settings))
			}
		}
	}
	return seq
}

// The order in which procedures and set-ups are given changes nothing, and the same input gives
// the same plan.
func TestInputOrderIsIrrelevant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := randomRequest(t)
		p, err := Make(r)
		if err != nil {
			return
		}
		again := r
		again.Procedures = rapid.Permutation(r.Procedures).Draw(t, "procedures")
		again.SetUps = rapid.Permutation(r.SetUps).Draw(t, "set-ups")
		q, err := Make(again)
		if err != nil {
			t.Fatal(err)
		}
		if fmt.Sprintf("%+v", p.IDs()) != fmt.Sprintf("%+v", q.IDs()) ||
			sequence(p) != sequence(q) || fmt.Sprint(p.Precedence) != fmt.Sprint(q.Precedence) {
			t.Fatalf("%s\n%s", sequence(p), sequence(q))
		}
	})
}
