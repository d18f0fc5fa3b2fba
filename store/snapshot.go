package store

import (
	"errors"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// A snapshot is what the fold gives for one machine, one begun session or the drawer.
type (
	machineSnapshot struct {
		Fold    int            `json:"fold"`
		Machine *model.Machine `json:"machine"`
	}
	sessionSnapshot struct {
		Fold    int            `json:"fold"`
		Session *model.Session `json:"session"`
	}
	drawerSnapshot struct {
		Fold   int          `json:"fold"`
		Drawer model.Drawer `json:"drawer"`
	}
)

var (
	drawerSnapshotKey = []byte("d")
	countKey          = []byte("n")
)

func machineKey(id string) []byte { return []byte("m" + id) }
func sessionKey(id string) []byte { return []byte("s" + id) }

// loadMachine gives a machine's snapshot, folded again where another fold made it; nil where there is
// none.
func loadMachine(tx *bolt.Tx, id string) (*model.Machine, error) {
	key := machineKey(id)
	v := tx.Bucket(snapshotBucket).Get(key)
	if v == nil {
		return nil, nil
	}
	return decodeMachine(tx, id, key, v)
}

func decodeMachine(tx *bolt.Tx, id string, key, v []byte) (*model.Machine, error) {
	var s machineSnapshot
	if err := unsealJSON(snapshotBucket, key, v, &s); err != nil {
		return nil, err
	}
	if s.Fold != foldNow {
		return refoldMachine(tx, id)
	}
	if s.Machine == nil || s.Machine.ID != id {
		return nil, damaged("the snapshot of machine %s is that of another", id)
	}
	return s.Machine, nil
}

func loadSession(tx *bolt.Tx, id string) (*model.Session, error) {
	key := sessionKey(id)
	v := tx.Bucket(snapshotBucket).Get(key)
	if v == nil {
		return nil, nil
	}
	return decodeSession(tx, id, key, v)
}

func decodeSession(tx *bolt.Tx, id string, key, v []byte) (*model.Session, error) {
	var s sessionSnapshot
	if err := unsealJSON(snapshotBucket, key, v, &s); err != nil {
		return nil, err
	}
	if s.Fold != foldNow {
		return refoldSession(tx, id)
	}
	if s.Session == nil || s.Session.ID != id {
		return nil, damaged("the snapshot of session %s is that of another", id)
	}
	return s.Session, nil
}

func loadDrawer(tx *bolt.Tx) (model.Drawer, error) {
	v := tx.Bucket(snapshotBucket).Get(drawerSnapshotKey)
	if v == nil {
		return model.Drawer{}, nil
	}
	var s drawerSnapshot
	if err := unsealJSON(snapshotBucket, drawerSnapshotKey, v, &s); err != nil {
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
func putSnapshot(tx *bolt.Tx, key []byte, v any, gone bool) error {
	b := tx.Bucket(snapshotBucket)
	was := b.Get(key) != nil
	if gone {
		if !was {
			return nil
		}
		return errors.Join(b.Delete(key), countSnapshots(tx, -1))
	}
	rec, err := sealJSON(snapshotBucket, key, v)
	if err != nil {
		return err
	}
	if !was {
		if err := countSnapshots(tx, 1); err != nil {
			return err
		}
	}
	return b.Put(key, rec)
}

// snapshotCount is how many snapshots there must be: one that vanished from a page is noticed by it.
func snapshotCount(tx *bolt.Tx) (n int, err error) {
	if v := tx.Bucket(snapshotBucket).Get(countKey); v != nil {
		err = unsealJSON(snapshotBucket, countKey, v, &n)
	}
	return n, err
}

func countSnapshots(tx *bolt.Tx, change int) error {
	n, err := snapshotCount(tx)
	if err != nil {
		return err
	}
	rec, err := sealJSON(snapshotBucket, countKey, n+change)
	if err != nil {
		return err
	}
	return tx.Bucket(snapshotBucket).Put(countKey, rec)
}

func putMachine(tx *bolt.Tx, id string, m *model.Machine) error {
	return putSnapshot(tx, machineKey(id), machineSnapshot{foldNow, m}, m == nil)
}

func putSession(tx *bolt.Tx, id string, s *model.Session) error {
	return putSnapshot(tx, sessionKey(id), sessionSnapshot{foldNow, s}, s == nil)
}

func putDrawer(tx *bolt.Tx, d model.Drawer) error {
	return putSnapshot(tx, drawerSnapshotKey, drawerSnapshot{foldNow, d}, len(d) == 0)
}

// struckActions gives the actions that do not count.
func struckActions(tx *bolt.Tx) (map[string]bool, error) {
	strikes, err := entriesOf(tx, machineIndex, strikesKey)
	if err != nil {
		return nil, err
	}
	return model.Struck(strikes), nil
}

func refoldMachine(tx *bolt.Tx, id string) (*model.Machine, error) {
	entries, err := entriesOf(tx, machineIndex, id)
	if err != nil {
		return nil, err
	}
	struck, err := struckActions(tx)
	if err != nil {
		return nil, err
	}
	m := model.FoldMachine(id, entries, struck)
	if m == nil {
		return nil, damaged("the entries of machine %s do not say what it is", id)
	}
	return m, nil
}

func refoldSession(tx *bolt.Tx, id string) (*model.Session, error) {
	entries, err := entriesOf(tx, sessionIndex, id)
	if err != nil {
		return nil, err
	}
	return model.FoldSession(entries), nil
}

func refoldDrawer(tx *bolt.Tx) (model.Drawer, error) {
	entries, err := entriesOf(tx, machineIndex, drawerKey)
	if err != nil {
		return nil, err
	}
	struck, err := struckActions(tx)
	if err != nil {
		return nil, err
	}
	return model.FoldDrawer(entries, struck), nil
}
