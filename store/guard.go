package store

import (
	"bytes"
	"io"
	"os"

	bolt "go.etcd.io/bbolt"
)

// proof remembers which file's pages were walked in this run.
type proof struct {
	file  os.FileInfo
	large bool // its leaves were not
}

// walk walks the pages of a file about to be written, unless that was done; what bbolt writes after
// it holds together. A nil proof walks every page. The guard is that of a large file, else nil.
func (p *proof) walk(f *os.File, h head, info os.FileInfo) (*guard, error) {
	if p == nil {
		return nil, walkPages(f, h, true)
	}
	if p.file == nil || !os.SameFile(p.file, info) {
		large := h.pages > wholePages
		if err := walkPages(f, h, !large); err != nil {
			return nil, err
		}
		p.file, p.large = info, large
	}
	if !p.large {
		return nil, nil
	}
	return &guard{f: f, head: h}, nil
}

// guard reads the pages of a large file that a transaction is about to touch. bbolt writes nothing
// before the end of the transaction, so the file stands as it did at its beginning.
type guard struct {
	f    io.ReaderAt
	head head
}

// way checks the pages that lead from a bucket's root to a key. beside checks their neighbours too,
// with which bbolt joins a page that has become small.
func (g *guard) way(root uint64, key []byte, beside bool) error {
	var buf, side, lo, hi []byte
	for range maxHeight {
		s, err := g.sheet(root, &buf, lo, hi)
		if err != nil || !s.branch {
			return err
		}
		i := s.find(key)
		for _, j := range []int{i - 1, i + 1} {
			if !beside || j < 0 || j >= s.n {
				continue
			}
			lo, hi = s.bounds(j)
			if _, err := g.sheet(s.below(j), &side, lo, hi); err != nil {
				return err
			}
		}
		lo, hi = s.bounds(i)
		root, lo, hi = s.below(i), bytes.Clone(lo), bytes.Clone(hi)
	}
	return damaged("its pages go round in a circle")
}

func (g *guard) sheet(id uint64, buf *[]byte, lo, hi []byte) (sheet, error) {
	s, err := readSheet(g.f, g.head, id, buf)
	if err == nil {
		err = s.within(lo, hi)
	}
	if err != nil {
		return s, err
	}
	return s, s.plain()
}

// writing is a transaction that writes. What it writes goes through put and remove, which look at
// the pages of a large file first.
type writing struct {
	*bolt.Tx
	guard *guard
}

func (w writing) put(bucket, key, value []byte) error {
	b := w.Bucket(bucket)
	if err := w.look(b, key, false); err != nil {
		return err
	}
	return b.Put(key, value)
}

func (w writing) remove(bucket, key []byte) error {
	b := w.Bucket(bucket)
	if err := w.look(b, key, true); err != nil {
		return err
	}
	return b.Delete(key)
}

func (w writing) look(b *bolt.Bucket, key []byte, beside bool) error {
	if root := uint64(b.RootPage()); w.guard != nil && root != 0 {
		return w.guard.way(root, key, beside)
	}
	return nil
}
