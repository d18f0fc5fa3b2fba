package store

import (
	"fmt"
	"runtime"
	"runtime/debug"

	bolt "go.etcd.io/bbolt"
)

// chunkSize is how many records are decoded together, beside others. After so many reads, in order
// or scattered over the file, its pages are let go of.
const (
	chunkSize = 256
	dropReads = 2048
)

// chunk is a part of the journal being decoded.
type chunk struct {
	keys, values [][]byte // of the transaction
	entries      []linked
	errs         []error
	done         chan struct{}
}

// eachRecord decodes the journal in its order and gives each entry, or what is wrong with it.
func eachRecord(tx *bolt.Tx, fn func(key []byte, e linked, err error) error) error {
	c, begun := tx.Bucket(journalBucket).Cursor(), false
	return decodeAll(tx, func() (k, v []byte) {
		if begun {
			return c.Next()
		}
		begun = true
		return c.First()
	}, fn)
}

// decodeAll decodes the records that next gives until there is no key, a bounded part of them at a
// time and several side by side, and gives each entry in their order, or what is wrong with it.
func decodeAll(tx *bolt.Tx, next func() (k, v []byte), fn func(key []byte, e linked, err error) error) error {
	read := func() *chunk {
		p := &chunk{done: make(chan struct{})}
		for len(p.keys) < chunkSize {
			k, v := next()
			if k == nil {
				break
			}
			p.keys, p.values = append(p.keys, k), append(p.values, v)
		}
		if len(p.keys) == 0 {
			return nil
		}
		go p.decode()
		return p
	}
	var under []*chunk
	defer func() { // none may read the file when the transaction is over
		for _, p := range under {
			<-p.done
		}
	}()
	for more, taken := true, 0; more || len(under) > 0; {
		if taken++; taken%(dropReads/chunkSize) == 0 {
			dropPages(tx)
		}
		for more && len(under) < 2*runtime.GOMAXPROCS(0) {
			p := read()
			if more = p != nil && len(p.keys) == chunkSize; p != nil {
				under = append(under, p)
			}
		}
		if len(under) == 0 {
			break
		}
		p := under[0]
		<-p.done
		under = under[1:]
		for i, key := range p.keys {
			if err := fn(key, p.entries[i], p.errs[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// decode decodes the records. A fault of the file is theirs.
func (p *chunk) decode() {
	defer close(p.done)
	p.entries, p.errs = make([]linked, len(p.keys)), make([]error, len(p.keys))
	debug.SetPanicOnFault(true) // of this goroutine, which ends here
	for i := range p.keys {
		p.decodeOne(i)
	}
}

func (p *chunk) decodeOne(i int) {
	defer func() {
		if r := recover(); r != nil {
			p.errs[i] = damaged("an entry cannot be read (%s)", firstLine(fmt.Sprint(r)))
		}
	}()
	p.entries[i], p.errs[i] = decodeEntry(p.keys[i], p.values[i])
}
