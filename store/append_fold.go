package store

import (
	"errors"

	"bench/oilcan/model"
)

// touches says what an action changed, so that striking it can fold that again.
type touches struct {
	machines []string
	drawer   bool
}

// fold takes a written entry into the snapshots, or marks what has to be folded again.
func (b *batch) fold(e model.Entry) error {
	switch e.Kind {
	case model.KindStrike:
		return nil // marked where the strike was allowed
	case model.KindStock:
		return b.foldStock(e)
	case model.KindWalk:
		err := b.bench.Apply(e)
		return err
	case model.KindBegun, model.KindClosed:
		if _, err := b.fresh(e.Machine); err != nil {
			return err
		}
	case model.KindMachine:
		if _, err := b.fresh(e.Fact.Machine.ID); err != nil {
			return err
		}
	}
	if b.machines[e.Machine] { // to be folded again anyway
		return nil
	}
	err := b.bench.Apply(e)
	b.machines[e.Machine] = errors.Is(err, model.ErrRefold)
	if errors.Is(err, model.ErrRefold) {
		return nil
	}
	return err
}

func (b *batch) foldStock(e model.Entry) error {
	if b.drawer == again {
		return nil
	}
	if b.drawer == unread {
		d, err := loadDrawer(b.tx)
		if err != nil {
			return err
		}
		b.bench.Drawer, b.drawer = d, clean
	}
	err := b.bench.Apply(e)
	if errors.Is(err, model.ErrRefold) {
		b.drawer = again
		return nil
	}
	b.drawer = folded
	return err
}
