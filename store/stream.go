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
	dropReads = 4096
)

// chunk is a part of the journal being decoded.
type chunk struct {
	keys, values [][]byte // of the transaction
	entries      []linked
	errs         []error
	done         chan struct{}
}

// eachRecord decodes the journal in its order, a bounded part of it at a time and several records
// side by side, and gives each entry, or what is wrong with it.
func eachRecord(tx *bolt.Tx, fn func(key []byte, e linked, err error) error) error {
	c := tx.Bucket(journalBucket).Cursor()
	k, v := c.First()
	read := func() *chunk {
		p := &chunk{done: make(chan struct{})}
		for ; k != nil && len(p.keys) < chunkSize; k, v = c.Next() {
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
			if p := read(); p != nil {
				under = append(under, p)
			} else {
				more = false
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
