package store

import (
	"errors"
	"math"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// A snapshot is what the fold gives for one machine, the drawer, or (see sessionRecord) one begun
// session.
type (
	machineSnapshot struct {
		Fold    int            `json:"fold"`
		Machine *model.Machine `json:"machine"`
	}
	drawerSnapshot struct {
		Fold   int          `json:"fold"`
		Drawer model.Drawer `json:"drawer"`
	}
)

var countKey = []byte(countName)

// loadMachine gives a machine's snapshot, folded again where another fold made it; nil where there
// is none.
func loadMachine(tx *bolt.Tx, id string) (*model.Machine, error) {
	v, err := lookup(tx, machineBucket, []byte(id))
	if v == nil {
		return nil, err
	}
	return decodeMachine(tx, id, v)
}

func decodeMachine(tx *bolt.Tx, id string, v []byte) (*model.Machine, error) {
	s, err := readMachine(id, v)
	if err != nil {
		return nil, err
	}
	return s.settle(tx, id)
}

// readMachine reads the record of a machine's snapshot. It needs no transaction.
func readMachine(id string, v []byte) (s machineSnapshot, err error) {
	err = unsealJSON(machineBucket, []byte(id), v, &s)
	return s, err
}

// settle gives the machine of a snapshot, folded again where another fold made it.
func (s machineSnapshot) settle(tx *bolt.Tx, id string) (*model.Machine, error) {
	if s.Fold != foldNow {
		return refoldMachine(tx, id)
	}
	if s.Machine == nil || s.Machine.ID != id {
		return nil, damaged("the snapshot of machine %s is that of another", id)
	}
	return s.Machine, nil
}

// standing gives all findings of a machine that stand, by the index of findings.
func standing(tx *bolt.Tx, id string) ([]model.Finding, error) {
	entries, err := entriesOf(tx, machineIndex, findingsKey+id)
	if err != nil {
		return nil, err
	}
	struck, err := struckActions(tx)
	if err != nil {
		return nil, err
	}
	return model.Standing(entries, struck), nil
}

// whole gives the machine of a snapshot with all findings that stand.
func (s machineSnapshot) whole(tx *bolt.Tx, id string) (*model.Machine, error) {
	if s.Fold != foldNow { // the index is that of another fold, too
		return refoldWhole(tx, id)
	}
	m, err := s.settle(tx, id)
	if err != nil || m.More == 0 {
		return m, err
	}
	must := len(m.Findings) + m.More
	if m.Findings, err = standing(tx, id); err == nil && len(m.Findings) != must {
		err = damaged("%d findings stand on machine %s, and its index has %d", must, id,
			len(m.Findings))
	}
	m.More = 0
	return m, err
}

func loadDrawer(tx *bolt.Tx) (model.Drawer, error) {
	v, err := lookup(tx, machineBucket, []byte(drawerKey))
	if v == nil {
		return model.Drawer{}, err
	}
	var s drawerSnapshot
	if err := unsealJSON(machineBucket, []byte(drawerKey), v, &s); err != nil {
		return nil, err
	}
	if s.Fold != foldNow {
		return refoldDrawer(tx)
	}
	if s.Drawer == nil {
		s.Drawer = model.Drawer{}
	}
	return s.Drawer, nil
}

// putSnapshot writes a snapshot, or removes it where gone.
func putSnapshot(w writing, bucket []byte, id string, v any, gone bool) error {
	key := []byte(id)
	was := w.Bucket(bucket).Get(key) != nil
	if gone {
		if !was {
			return nil
		}
		return errors.Join(w.remove(bucket, key), countSnapshots(w, bucket, -1))
	}
	rec, err := sealJSON(bucket, key, v)
	if err != nil {
		return err
	}
	if !was {
		if err := countSnapshots(w, bucket, 1); err != nil {
			return err
		}
	}
	return w.put(bucket, key, rec)
}

// snapshotCount is how many snapshots there must be: one that vanished from a page is noticed by
// it.
func snapshotCount(tx *bolt.Tx, bucket []byte) (n int, err error) {
	v, err := lookup(tx, bucket, countKey)
	if v != nil {
		err = unsealJSON(bucket, countKey, v, &n)
	}
	return n, err
}

func countSnapshots(w writing, bucket []byte, change int) error {
	n, err := snapshotCount(w.Tx, bucket)
	if err != nil {
		return err
	}
	rec, err := sealJSON(bucket, countKey, n+change)
	if err != nil {
		return err
	}
	return w.put(bucket, countKey, rec)
}

func putMachine(w writing, id string, m *model.Machine) error {
	return putSnapshot(w, machineBucket, id, machineSnapshot{foldNow, m}, m == nil)
}

func putDrawer(w writing, d model.Drawer) error {
	return putSnapshot(w, machineBucket, drawerKey, drawerSnapshot{foldNow, d}, len(d) == 0)
}

// struckActions gives the actions that do not count.
func struckActions(tx *bolt.Tx) (map[string]bool, error) {
	strikes, err := entriesOf(tx, machineIndex, strikesKey)
	if err != nil {
		return nil, err
	}
	return model.Struck(strikes), nil
}

// refoldMachine folds a machine again, from its newest mark that still holds.
func refoldMachine(tx *bolt.Tx, id string) (*model.Machine, error) {
	strikes, err := entriesOf(tx, machineIndex, strikesKey)
	if err != nil {
		return nil, err
	}
	m, err := foldedUpTo(tx, id, strikes, math.MaxUint64)
	if err == nil && m.machine == nil {
		err = damaged("the entries of machine %s do not say what it is", id)
	}
	return m.machine, err
}

// refoldWhole folds a machine again from its first entry, with all findings that stand.
func refoldWhole(tx *bolt.Tx, id string) (*model.Machine, error) {
	entries, err := entriesOf(tx, machineIndex, id)
	if err != nil {
		return nil, err
	}
	struck, err := struckActions(tx)
	if err != nil {
		return nil, err
	}
	m := model.FoldWhole(id, entries, struck)
	if m == nil {
		return nil, damaged("the entries of machine %s do not say what it is", id)
	}
	return m, nil
}

// refoldDrawer folds the drawer again, from its newest mark that still holds.
func refoldDrawer(tx *bolt.Tx) (model.Drawer, error) {
	strikes, err := entriesOf(tx, machineIndex, strikesKey)
	if err != nil {
		return nil, err
	}
	m, err := foldedUpTo(tx, drawerKey, strikes, math.MaxUint64)
	return m.drawer, err
}
