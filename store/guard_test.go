package store

import (
	"encoding/binary"
	"errors"
	"os"
	"testing"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// largeStore has a file of which the leaves are not walked before its first write.
func largeStore(t *testing.T) (*Store, *clock) {
	t.Helper()
	s, c := newStore(t)
	fillBench(t, s, c, 50)
	again, err := Open(s.Path(), c.now)
	if err != nil {
		t.Fatal(err)
	}
	return again, c
}

// TestGuardOfLargeFile: in a file too large to be walked whole, the pages a write touches are
// looked at before it, the first time and later; what it does not touch does not hinder it.
func TestGuardOfLargeFile(t *testing.T) {
	s, c := largeStore(t)
	mustAppend(t, s, model.Action{Machine: "m01", Facts: []model.Fact{care("oil")}})
	if !s.proof.large {
		t.Fatal("the file is not large")
	}
	near, far := leafOf(t, s, journalBucket, seqKey(1<<40)), leafOf(t, s, journalBucket, seqKey(1))
	for _, fresh := range []bool{true, false} {
		st := s
		if fresh {
			var err error
			if st, err = Open(s.Path(), c.now); err != nil {
				t.Fatal(err)
			}
		}
		mend := lengthen(t, s.Path(), near)
		before, _ := os.ReadFile(s.Path())
		_, err := st.Append(model.Action{Machine: "m01", Facts: []model.Fact{care("oil")}})
		if !errors.Is(err, ErrDamaged) {
			t.Errorf("fresh %v: a page about to be touched: %v", fresh, err)
		}
		if after, _ := os.ReadFile(s.Path()); string(before) != string(after) {
			t.Errorf("fresh %v: written to", fresh)
		}
		mend()
	}
	mend := lengthen(t, s.Path(), far)
	mustAppend(t, s, model.Action{Machine: "m02", Facts: []model.Fact{care("oil")}})
	if err := pagesWhole(s.Path()); !errors.Is(err, ErrDamaged) {
		t.Errorf("check: %v", err)
	}
	mend()
}

// TestGuardOfNeighbours: where a record is removed, the pages beside it are looked at too.
func TestGuardOfNeighbours(t *testing.T) {
	s, _ := largeStore(t)
	mustAppend(t, s, model.Action{Machine: "m01", Facts: []model.Fact{care("oil")}})
	mend := lengthen(t, s.Path(), leafOf(t, s, machineBucket, []byte("m26")))
	defer mend()
	stop := errors.New("stop here")
	for key, bad := range map[string]bool{"m25": true, "m02": false} {
		err := s.update(func(w writing) error {
			if err := w.remove(machineBucket, []byte(key)); err != nil {
				return err
			}
			return stop
		})
		if errors.Is(err, ErrDamaged) != bad || !bad && err != stop {
			t.Errorf("removing %s: %v", key, err)
		}
	}
}

// leafOf gives the page a key of a bucket stands on.
func leafOf(t *testing.T, s *Store, bucket, key []byte) uint64 {
	t.Helper()
	f, err := os.Open(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	h, _, err := preflight(f, false)
	if err != nil {
		t.Fatal(err)
	}
	g := &guard{f: f, head: h}
	var leaf uint64
	err = s.view(func(tx *bolt.Tx, _ state) error {
		leaf = uint64(tx.Bucket(bucket).RootPage())
		return nil
	})
	var buf []byte
	for err == nil {
		sh, e := g.sheet(leaf, &buf, nil, nil)
		if err = e; err == nil && !sh.branch {
			return leaf
		}
		if err == nil {
			leaf = sh.below(sh.find(key))
		}
	}
	t.Fatal(err)
	return 0
}

// lengthen makes a page say that it is longer by two; mend puts it right.
func lengthen(t *testing.T, path string, id uint64) (mend func()) {
	t.Helper()
	set := func(by int32) {
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		var b [4]byte
		at := int64(id)*page + 12
		f.ReadAt(b[:], at)
		binary.LittleEndian.PutUint32(b[:], uint32(int32(binary.LittleEndian.Uint32(b[:]))+by))
		if _, err := f.WriteAt(b[:], at); err != nil {
			t.Fatal(err)
		}
	}
	set(2)
	return func() { set(-2) }
}
