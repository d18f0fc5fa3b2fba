package store

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// begin adds a machine and begins a session on it; it gives both ids.
func begin(t testing.TB, s *Store, name string) (machine, session string) {
	t.Helper()
	machine = addMachine(t, s, name)
	es := mustAppend(t, s,
		model.Action{Machine: machine,
			Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "monthly"}}}})
	return machine, es[0].Session
}

// stepper gives a function that writes one step of a walk on a bench of 24 machines.
func stepper(b testing.TB) func() {
	s, c := newStore(b)
	fillBench(b, s, c, 24)
	machine, session := begin(b, s, "Walked")
	ordinal := 1
	return func() {
		ordinal++
		c.move(time.Second)
		_, err := s.Append(model.Action{Machine: machine, Session: session, Ordinal: ordinal,
			By: "ada", Facts: []model.Fact{
				{Kind: model.KindWalk, Walk: &model.Walked{What: "passed", Block: 3,
					ID:   "belts-reset",
					Step: "loosen", Answer: "ok",
					Position: fmt.Sprintf("step %d of 9000", ordinal)}},
			}})
		if err != nil {
			b.Fatal(err)
		}
	}
}

// rawUpdater gives the yardstick: open, one synced update of 300 bytes, close.
func rawUpdater(b testing.TB) func() {
	path := filepath.Join(b.TempDir(), "raw.db")
	value := make([]byte, 300)
	return func() {
		db, err := bolt.Open(path, fileMode, &bolt.Options{Timeout: lockWait})
		if err != nil {
			b.Fatal(err)
		}
		err = db.Update(func(tx *bolt.Tx) error {
			bucket, err := tx.CreateBucketIfNotExists(journalBucket)
			if err != nil {
				return err
			}
			seq, err := bucket.NextSequence()
			if err != nil {
				return err
			}
			return bucket.Put(seqKey(seq), value)
		})
		if err != nil {
			b.Fatal(err)
		}
		if err := db.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAppendStep is one acknowledged step of a walk.
func BenchmarkAppendStep(b *testing.B) {
	step := stepper(b)
	for b.Loop() {
		step()
	}
}

// BenchmarkRawUpdate300B is what a step is measured against.
func BenchmarkRawUpdate300B(b *testing.B) {
	raw := rawUpdater(b)
	for b.Loop() {
		raw()
	}
}

// stepLimit is how many times as long as the raw update a step may take.
const stepLimit = 1.3

// stepOverRaw does both in turn, now the one first, now the other, and gives the median of the
// pairs' ratios: what else runs on the machine strikes a pair alike, where it strikes the median
// step of all and the median update of all differently.
func stepOverRaw(step, raw func(), again func() bool) float64 {
	took := func(what func()) float64 {
		start := time.Now()
		what()
		return float64(time.Since(start))
	}
	var ratios []float64
	for again() {
		if len(ratios)%2 == 0 {
			s := took(step)
			ratios = append(ratios, s/took(raw))
		} else {
			r := took(raw)
			ratios = append(ratios, took(step)/r)
		}
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/2]
}

// BenchmarkStepOverRaw reports the median ratio of a step to the raw update beside it.
//
// Measured on two shared cores (Go 1.26, 2026-11-29): one acknowledged step against open + one
// synced update of 300 bytes + close: 1.24 to 1.32 in twelve runs beside six times as much work as
// there are cores; the limit is 1.3.
func BenchmarkStepOverRaw(b *testing.B) {
	step, raw := stepper(b), rawUpdater(b)
	b.ReportMetric(stepOverRaw(step, raw, b.Loop), "step/raw")
}

// TestStepOverRaw holds the ratio to its limit where OILCAN_LONG is set. Five measurements in a row
// must miss it: a step that syncs once more, or writes as many pages again, does.
func TestStepOverRaw(t *testing.T) {
	if os.Getenv("OILCAN_LONG") == "" {
		t.Skip("speeds are held to limits where OILCAN_LONG is set")
	}
	step, raw := stepper(t), rawUpdater(t)
	for range 5 {
		pairs := 0
		ratio := stepOverRaw(step, raw, func() bool { pairs++; return pairs <= 300 })
		t.Logf("a step takes %.2f times as long as a synced update", ratio)
		if ratio <= stepLimit {
			return
		}
	}
	t.Errorf("a step takes more than %v times as long as a synced update", stepLimit)
}

// BenchmarkAppendSwap is the quick log of a swap: three facts, two snapshots.
func BenchmarkAppendSwap(b *testing.B) {
	s, c := newStore(b)
	fillBench(b, s, c, 24)
	id := addMachine(b, s, "Quick")
	for b.Loop() {
		c.move(time.Second)
		_, err := s.Append(model.Action{Machine: id,
			Facts: []model.Fact{swap("blade", "worn", "blade-check"), used("blade", 1)}})
		if err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBench24Machines reads a whole bench for the first time: 24 machines with a year of
// readings and care.
//
// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: 4 ms.
func BenchmarkBench24Machines(b *testing.B) {
	s, c := newStore(b)
	fillBench(b, s, c, 24)
	for b.Loop() {
		s.seen = cache{}
		if _, err := s.Bench(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBenchUnchanged looks again at a file nobody wrote to.
func BenchmarkBenchUnchanged(b *testing.B) {
	s, c := newStore(b)
	fillBench(b, s, c, 24)
	for b.Loop() {
		if _, err := s.Bench(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkOpen is what each command pays before its first transaction.
func BenchmarkOpen(b *testing.B) {
	s, c := newStore(b)
	fillBench(b, s, c, 24)
	for b.Loop() {
		if _, err := Open(s.Path(), c.now); err != nil {
			b.Fatal(err)
		}
	}
}

// fillBench gives a bench n machines with a year of weekly readings, care and swaps.
func fillBench(t testing.TB, s *Store, c *clock, n int) {
	t.Helper()
	var actions []model.Action
	add := func(a model.Action) { actions = append(actions, a) }
	for i := range n {
		f := machineFact(fmt.Sprintf("Machine %02d", i))
		f.Machine.ID = fmt.Sprintf("m%02d", i)
		add(model.Action{At: c.at(-370), Facts: []model.Fact{f}})
	}
	for week := range 52 {
		for i := range n {
			id, at := fmt.Sprintf("m%02d", i), c.at(-364+7*week).Add(time.Duration(i)*time.Minute)
			add(model.Action{At: at, Machine: id,
				Facts: []model.Fact{reading(model.Hours, float64(week*40)),
					reading(model.Changes, float64(week*300))}})
			for k := range 40 {
				if (week+k)%13 == 0 {
					add(model.Action{At: at, Machine: id,
						Facts: []model.Fact{care(fmt.Sprintf("procedure-%02d", k))}})
				}
			}
			if week%8 == i%8 {
				add(model.Action{At: at, Machine: id,
					Facts: []model.Fact{swap("blade", "worn", "blade-check"), used("blade", 1)}})
			}
		}
	}
	if _, err := s.AppendAll(actions); err != nil {
		t.Fatal(err)
	}
}

// BenchmarkFirstWrite is what a run pays before its first write, over the pages of a file walked
// whole and of one ten times as large, of which the leaves are left.
//
// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: pages walked before the
// first write of a run: 24 machines with a year of data (789 pages); with ten (7,823): 0.8 ms; 0.2
// ms; the limit is 2 ms.
func BenchmarkFirstWrite(b *testing.B) {
	for _, machines := range []int{6, 24, 240} {
		s, c := newStore(b)
		fillBench(b, s, c, machines)
		f, err := os.Open(s.Path())
		if err != nil {
			b.Fatal(err)
		}
		defer f.Close()
		h, info, err := preflight(f, false)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("%d machines", machines), func(b *testing.B) {
			for b.Loop() {
				if _, err := new(proof).walk(f, h, info); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(h.pages), "pages")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(h.pages),
				"ns/page")
		})
	}
}
