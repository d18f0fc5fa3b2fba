package store

import (
	"errors"
	"maps"
	"slices"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// wholeFold is up to how many entries a journal is folded as a whole, which shares nothing with how
// it was folded while it grew.
const wholeFold = 20_000

// pass goes once over the whole journal and makes of it what stands beside it: the keys of the
// indexes and the fold. Of a large journal it holds one entry at a time; only a machine with
// entries that came late or were struck is folded again from its own at the end.
type pass struct {
	tx      *bolt.Tx
	problem func(format string, args ...any)
	key     func(ixKey)    // an index key that must be
	before  func() error   // is called before anything is folded again; nil for nothing
	see     func(e linked) // each entry; nil for nothing more

	bench   *model.Bench
	again   map[string]bool // machines to be folded again
	drawer  bool            // so is the drawer
	last    map[string]uint64
	next    uint64
	entries int
	all     []model.Entry // of a journal that is folded as a whole; nil where it is too large
}

func newPass(tx *bolt.Tx) *pass {
	return &pass{tx: tx, bench: model.NewBench(), again: map[string]bool{},
		last: map[string]uint64{}, next: 1, all: []model.Entry{}}
}

func (p *pass) run() error {
	err := eachRecord(p.tx, func(_ []byte, e linked, err error) error {
		if err != nil {
			p.problem("%v.", err)
			p.next++
			return nil
		}
		p.take(e)
		return nil
	})
	if err != nil {
		return err
	}
	if last := p.tx.Bucket(journalBucket).Sequence(); last != p.next-1 {
		p.problem("the journal counts %d entries but ends at %d.", last, p.next-1)
	}
	if p.before != nil {
		if err := p.before(); err != nil {
			return err
		}
	}
	return p.foldAgain()
}

func (p *pass) take(e linked) {
	if e.Seq != p.next {
		p.problem("entries %d to %d are missing.", p.next, e.Seq-1)
	}
	p.next = e.Seq + 1
	if p.entries++; p.entries > wholeFold {
		p.all = nil
	} else {
		p.all = append(p.all, e.Entry)
	}
	if e.Session != "" {
		if e.Prev != p.last[e.Session] {
			p.problem("entry %d of session %s follows on entry %d instead of %d.", e.Seq, e.Session,
				e.Prev, p.last[e.Session])
		}
		p.last[e.Session] = e.Seq
	}
	var t touches
	if e.Kind == model.KindStrike && e.Strike != nil {
		var err error
		if t, _, err = touchesOf(p.tx, e.Strike.Action); err != nil {
			p.problem("%v.", err)
		}
	}
	for _, k := range indexKeys(e.Entry, t) {
		p.key(k)
	}
	p.fold(e.Entry, t)
	if p.see != nil {
		p.see(e)
	}
}

// fold takes an entry in, or marks what it changes to be folded again.
func (p *pass) fold(e model.Entry, struck touches) {
	switch e.Kind {
	case model.KindStrike:
		for _, id := range struck.machines {
			p.again[id] = true
		}
		p.drawer = p.drawer || struck.drawer
		return
	case model.KindStock:
		if !p.drawer {
			err := p.bench.Apply(e)
			p.drawer = err != nil
		}
		return
	case model.KindWalk:
		_ = p.bench.Apply(e) // one without its session changes nothing
		return
	}
	id := e.Machine
	if e.Fact.Machine != nil {
		id = e.Fact.Machine.ID
	}
	if p.again[id] && model.ClassOf(e.Kind) == model.Dated {
		return
	}
	if err := p.bench.Apply(e); err != nil {
		p.again[id] = true
	}
}

// foldAgain folds what could not be folded entry by entry.
func (p *pass) foldAgain() error {
	if p.all != nil {
		p.bench = model.Fold(p.all)
		return nil
	}
	if len(p.again) == 0 && !p.drawer {
		return nil
	}
	struck, err := struckActions(p.tx)
	if err != nil {
		return err
	}
	for _, id := range slices.Sorted(maps.Keys(p.again)) {
		entries, err := entriesOf(p.tx, machineIndex, id)
		if err != nil {
			return err
		}
		delete(p.bench.Machines, id)
		if m := model.FoldMachine(id, entries, struck); m != nil {
			p.bench.Machines[id] = m
		}
	}
	if !p.drawer {
		return nil
	}
	entries, err := entriesOf(p.tx, machineIndex, drawerKey)
	p.bench.Drawer = model.FoldDrawer(entries, struck)
	return err
}

// touchesOf gives what an action with dated facts changed, and those; a strike changed what the
// action it struck did.
func touchesOf(tx *bolt.Tx, action string) (touches, []model.Entry, error) {
	var t touches
	entries, err := entriesOf(tx, actionIndex, action)
	if err != nil {
		return t, nil, err
	}
	var more error
	for _, e := range entries {
		t.drawer = t.drawer || e.Kind == model.KindStock
		if e.Kind == model.KindStrike && e.Strike != nil {
			below, _, err := touchesOf(tx, e.Strike.Action)
			more = errors.Join(more, err)
			t.drawer = t.drawer || below.drawer
			t.machines = append(t.machines, below.machines...)
		}
		if e.Machine != "" {
			t.machines = append(t.machines, e.Machine)
		}
	}
	slices.Sort(t.machines)
	t.machines = slices.Compact(t.machines)
	return t, entries, more
}
