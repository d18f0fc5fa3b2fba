package store

import (
	"bytes"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// judges judge every entry and text of a file as strictly as what is typed, each in itself and by
// what stands before it: a backup may come from anywhere. Nil ones judge nothing.
type judges struct {
	machines map[string]bool
	begun    map[string]*begun // session id -> session; nil: it is closed
	on       map[string]string // machine id -> its begun session
	first    error             // the first thing wrong
}

func newJudges() *judges {
	return &judges{machines: map[string]bool{}, begun: map[string]*begun{}, on: map[string]string{}}
}

// wrong is the first thing that was found wrong.
func (b *judges) wrong() error {
	if b == nil {
		return nil
	}
	return b.first
}

func (b *judges) entry(tx *bolt.Tx, e model.Entry) {
	if b == nil || b.first != nil {
		return
	}
	err := judge(e)
	if err == nil && (e.ID == "" || e.Action == "") {
		err = refuse("it has no id")
	}
	if err == nil {
		err = b.allow(tx, e)
	}
	if err != nil {
		b.first = say(ErrRefused, err, "entry %d: %s", e.Seq, err)
	}
}

func (b *judges) text(hash, text []byte) {
	if b == nil || b.first != nil {
		return
	}
	if err := judgeText(text); err != nil {
		b.first = say(ErrRefused, err, "text %s: %s", shown(hash), err)
	}
}

type begun struct {
	machine string
	ordinal int
}

// allow refuses an entry that could not have been appended behind those before it.
func (b *judges) allow(tx *bolt.Tx, e model.Entry) error {
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
		return strikeBefore(tx, e)
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

func (b *judges) session(e model.Entry) error {
	s, known := b.begun[e.Session]
	switch {
	case e.Kind == model.KindBegun && (known || e.Session == "" || b.on[e.Machine] != "" ||
		!b.machines[e.Machine]):
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

// strikeBefore wants dated facts of the struck action, written before.
func strikeBefore(tx *bolt.Tx, e model.Entry) error {
	first := indexKey(e.Strike.Action, 0)
	k, _ := tx.Bucket(actionIndex).Cursor().Seek(first)
	if len(k) != len(first) || !bytes.HasPrefix(k, first[:len(first)-8]) ||
		bytes.Compare(k, indexKey(e.Strike.Action, e.Seq)) >= 0 {
		return refuse("it strikes the action %q, which is not before it", e.Strike.Action)
	}
	return nil
}
