package store

import (
	"bytes"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// judgeJournal judges every entry and text of a file as strictly as what is typed, in itself and by
// what stands before it: a backup may come from anywhere.
func judgeJournal(path string) error {
	return transact(path, access{}, func(tx *bolt.Tx, _ state) error {
		b := before{tx: tx, machines: map[string]bool{}, begun: map[string]*begun{}, on: map[string]string{}}
		err := tx.Bucket(journalBucket).ForEach(func(k, v []byte) error {
			e, err := decodeEntry(k, v)
			if err == nil && (e.ID == "" || e.Action == "") {
				err = refuse("it has no id")
			}
			if err == nil {
				err = judge(e.Entry)
			}
			if err == nil {
				err = b.allow(e.Entry)
			}
			if err != nil {
				return fmt.Errorf("entry %s: %w", shown(k), err)
			}
			return nil
		})
		if err != nil {
			return err
		}
		return tx.Bucket(textBucket).ForEach(func(k, v []byte) error {
			text, err := unseal(textBucket, k, v)
			if err == nil {
				err = judgeText(text)
			}
			if err != nil {
				return fmt.Errorf("text %s: %w", shown(k), err)
			}
			return nil
		})
	})
}

// before is what an entry of a journal may refer to.
type before struct {
	tx       *bolt.Tx
	machines map[string]bool
	begun    map[string]*begun // session id -> session; nil: it is closed
	on       map[string]string // machine id -> its begun session
}

type begun struct {
	machine string
	ordinal int
}

// allow refuses an entry that could not have been appended behind those before it.
func (b *before) allow(e model.Entry) error {
	switch e.Kind {
	case model.KindMachine:
		if e.Fact.Machine.ID != e.Machine || e.Machine == "" {
			return refuse("it describes another machine than it is about")
		}
		b.machines[e.Machine] = true
		return nil
	case model.KindBegun, model.KindWalk, model.KindClosed:
		return b.session(e)
	case model.KindStrike:
		return b.strike(e)
	case model.KindStock:
		if e.Machine == "" {
			return nil
		}
	}
	if !b.machines[e.Machine] {
		return refuse("there is no machine with the id %q before it", e.Machine)
	}
	return nil
}

func (b *before) session(e model.Entry) error {
	s, known := b.begun[e.Session]
	switch {
	case e.Kind == model.KindBegun && (known || e.Session == "" || b.on[e.Machine] != "" || !b.machines[e.Machine]):
		return refuse("the session %q cannot begin there", e.Session)
	case e.Kind == model.KindBegun:
		b.begun[e.Session], b.on[e.Machine] = &begun{e.Machine, e.Ordinal}, e.Session
		return nil
	case s == nil || s.machine != e.Machine || e.Ordinal != s.ordinal+1:
		return refuse("it does not follow on the steps of the session %q", e.Session)
	}
	s.ordinal = e.Ordinal
	if e.Kind == model.KindClosed {
		b.begun[e.Session] = nil
		delete(b.on, e.Machine)
	}
	return nil
}

// strike wants dated facts of the struck action, written before.
func (b *before) strike(e model.Entry) error {
	first := indexKey(e.Strike.Action, 0)
	k, _ := b.tx.Bucket(actionIndex).Cursor().Seek(first)
	if len(k) != len(first) || !bytes.HasPrefix(k, first[:len(first)-8]) || bytes.Compare(k, indexKey(e.Strike.Action, e.Seq)) >= 0 {
		return refuse("it strikes the action %q, which is not before it", e.Strike.Action)
	}
	return nil
}
