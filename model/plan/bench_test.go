package plan

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"bench/oilcan/model"
)

func benchmark(b *testing.B, r Request) {
	var p *Plan
	for b.Loop() {
		p = mustMake(b, r)
	}
	if !p.Optimal {
		b.Fatalf("not proven: cost %v, bound %v", p.Cost, p.Bound)
	}
}

// BenchmarkMonthly is one session of the library.
func BenchmarkMonthly(b *testing.B) {
	benchmark(b, Request{Features: full(), Procedures: byID(b, bench(), monthly...),
		SetUps: setUps()})
}

// BenchmarkAllOfFull is every procedure of a machine with everything at once, 58 files.
//
// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: exact plan of every
// procedure of a full machine, 58 made-up files: 27 ms; the limit is 200 ms.
func BenchmarkAllOfFull(b *testing.B) {
	benchmark(b, Request{Features: full(), Procedures: bench(), SetUps: setUps()})
}

// twenty makes 20 procedures without rungs, each pair ordered with the probability density.
func twenty(seed uint64, density float64) []*model.Procedure {
	rnd := rand.New(rand.NewPCG(seed, 1))
	requires := []string{"P=unpl H=cold B=low D=open", "P=unpl H=cold C=off B=low D=open",
		"P=unpl H=cold T=off B=low D=open",
		"P=on", "P=on H=hot", "P=unpl H=cold C=on T=off B=low D=open", "P=off H=cold D=open", "P=on C=on T=on M=mtd D=cl"}
	var list []*model.Procedure
	for i := range 20 {
		tools := ""
		for range 1 + rnd.IntN(4) {
			tools += fmt.Sprintf("tool %d,", rnd.IntN(12))
		}
		p := care(fmt.Sprintf("p%02d", i), "off-machine", 1, 0, requires[rnd.IntN(len(requires))],
			tools)
		for j := range i {
			if rnd.Float64() < density {
				p.After = append(p.After, fmt.Sprintf("p%02d", j))
			}
		}
		list = append(list, p)
	}
	return list
}

// BenchmarkTwentyNoRungs is the hard case: nothing but a few pairs in order.
//
// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: exact order of 20
// procedures without rungs, 8 seeds: 10 to 71 ms; the limit is 250 ms.
//
// Twenty procedures whose precedence is transitively closed at density 0.2 take about 180 ms and
// 760 ms at worst; at half that density some runs end at the node limit, with the bound they
// proved.
func BenchmarkTwentyNoRungs(b *testing.B) {
	for seed := range uint64(8) {
		b.Run(fmt.Sprint(seed), func(b *testing.B) {
			benchmark(b, Request{Features: full(), Procedures: twenty(seed, 0.2), SetUps: setUps()})
		})
	}
}
