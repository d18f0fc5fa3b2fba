package store

import (
	"flag"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// t0 is when the tests' clock starts.
var t0 = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)

// clock is a clock that stands still until moved.
type clock struct{ t time.Time }

func (c *clock) now() time.Time          { return c.t }
func (c *clock) move(d time.Duration)    { c.t = c.t.Add(d) }
func (c *clock) at(day int) time.Time    { return t0.AddDate(0, 0, day) }
func (c *clock) toDay(day int) time.Time { c.t = c.at(day); return c.t }

// newStore opens a store in a fresh folder; the test ends with a check of the whole file.
func newStore(t testing.TB) (*Store, *clock) {
	t.Helper()
	c := &clock{t0}
	s, err := Open(filepath.Join(t.TempDir(), "data", "bench.db"), c.now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { mustCheck(t, s) })
	return s, c
}

// mustCheck fails the test unless the whole file is in order, the fold equal to the snapshots.
func mustCheck(t testing.TB, s *Store) {
	t.Helper()
	r, err := s.Check()
	if err != nil {
		t.Errorf("check: %v", err)
	}
	for _, p := range r.Problems {
		t.Errorf("check: %s", p)
	}
}

func mustAppend(t testing.TB, s *Store, a model.Action) []model.Entry {
	t.Helper()
	es, err := s.Append(a)
	if err != nil {
		t.Fatalf("append: %v", err)
	}
	return es
}

func mustBench(t testing.TB, s *Store) *model.Bench {
	t.Helper()
	b, err := s.Bench()
	if err != nil {
		t.Fatalf("bench: %v", err)
	}
	return b
}

// addMachine adds a machine and gives its id.
func addMachine(t testing.TB, s *Store, name string) string {
	t.Helper()
	es := mustAppend(t, s, model.Action{Facts: []model.Fact{machineFact(name)}})
	return es[0].Machine
}

func machineFact(name string) model.Fact {
	return model.Fact{Kind: model.KindMachine, Machine: &model.MachineFact{
		Name: name, Features: model.FullFeatures, Duty: model.Home}}
}

func reading(meter model.Meter, v float64) model.Fact {
	return model.Fact{Kind: model.KindReading, Reading: &model.Reading{Meter: meter, Value: v,
		How: "typed"}}
}

func care(id string, countsAs ...string) model.Fact {
	return model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: id, Outcome: "done",
		CountsAs: countsAs}}
}

func swap(part string, end model.End, resets ...string) model.Fact {
	return model.Fact{Kind: model.KindSwap,
		Swap: &model.Swapped{Part: part, End: end, Resets: resets}}
}

func used(part string, n float64) model.Fact {
	return model.Fact{Kind: model.KindStock, Stock: &model.StockMove{Part: part, Change: -n,
		Why: "used"}}
}

func counted(part string, n float64) model.Fact {
	return model.Fact{Kind: model.KindStock, Stock: &model.StockMove{Part: part, Counted: &n,
		Why: "counted"}}
}

func strike(action string) model.Fact {
	return model.Fact{Kind: model.KindStrike,
		Strike: &model.Strike{Action: action, Why: "typed wrong"}}
}

func step(what model.What, position string) model.Fact {
	return model.Fact{Kind: model.KindWalk, Walk: &model.Walked{What: what, Step: "loosen",
		Position: position}}
}

// snapshotSize is how many bytes a machine's snapshot takes in the file.
func snapshotSize(t testing.TB, s *Store, id string) (n int) {
	t.Helper()
	err := s.view(func(tx *bolt.Tx, _ state) error {
		n = len(tx.Bucket(machineBucket).Get([]byte(id)))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

var seedFlag = flag.Uint64("seed", 0,
	"of the random tests; 0 takes another one each time, and a test that fails says which")

// seeded gives the random numbers of a test, by the flag seed where it is set.
func seeded(t testing.TB) *rand.Rand {
	t.Helper()
	seed := *seedFlag
	if seed == 0 {
		seed = uint64(time.Now().UnixNano())
	}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("to see it again: go test ./store -run '^%s$' -seed %d", t.Name(), seed)
		}
	})
	return rand.New(rand.NewPCG(seed, 1))
}
