package store

import (
	"encoding/binary"
	"io"
	"os"
)

// bbolt believes what its pages say. A page that says it is longer than it is makes it free pages
// of others, up to 2^32 of them, which the next writes then take; a free list that names a page in
// use does the same; a circle of branches is followed for ever. So all pages are walked before
// bbolt writes.

// wholePages is up to how many pages every page of a file is walked before a run's first write. Of
// a larger one the heads, the free list and the branches are, which say whose every page is; its
// leaves are read when they are about to be touched (see guard). BenchmarkFirstWrite walks so many
// in 1.6 ms.
const wholePages = 1500

// maxHeight is more branches than any file of ours has on top of each other.
const maxHeight = 16

// pagesWhole walks every page of a file and refuses one whose pages cannot be followed. bbolt's own
// check runs in a goroutine where a fault cannot be caught, and believes page lengths; after this
// walk it can do neither harm.
func pagesWhole(path string) error {
	f, err := openFile(path, os.O_RDONLY)
	if err != nil {
		return plain(path, err)
	}
	defer f.Close()
	for try := 0; ; try++ {
		h, _, err := preflight(f, false)
		if err != nil {
			return err
		}
		err = walkPages(f, h, true)
		if err == nil || try == headTries {
			return err
		}
		// What another program wrote meanwhile may stand in the place of what was read.
		if now, _, e := preflight(f, false); e == nil && now.txid == h.txid {
			return err
		}
	}
}

// owner says whose a page is.
type owner byte

const (
	noOwner   owner = iota
	freePage        // named by the free list
	readPage        // read: how long it is is known
	namedPage       // a leaf named by a branch and not read
)

type pageWalk struct {
	f    io.ReaderAt
	head head
	all  bool // read the leaves too
	own  []owner
	bufs [maxHeight + 1][]byte
}

// walkPages walks the pages of a file, without its leaves unless all are wanted, and requires each
// to belong to one place.
func walkPages(f io.ReaderAt, h head, all bool) error {
	w := &pageWalk{f: f, head: h, all: all, own: make([]owner, h.pages)}
	w.own[0], w.own[1] = readPage, readPage
	if err := w.freelist(h.freelist); err != nil {
		return err
	}
	if err := w.buckets(); err != nil {
		return err
	}
	return w.leftovers()
}

// claim notes whose n pages from id on are.
func (w *pageWalk) claim(id, n uint64, whose owner) error {
	if id < 2 || n > w.head.pages || id > w.head.pages-n {
		return damaged("page %d lies outside of it", id)
	}
	for i := id; i < id+n; i++ {
		if w.own[i] != noOwner {
			return damaged("page %d is used twice", i)
		}
		w.own[i] = whose
	}
	return nil
}

func (w *pageWalk) freelist(id uint64) error {
	if id == noFreelist {
		return nil
	}
	if id < 2 || id >= w.head.pages {
		return damaged("its list of free pages lies outside of it")
	}
	b, err := readPages(w.f, w.head, id, 1, &w.bufs[0])
	if err != nil {
		return err
	}
	le := binary.LittleEndian
	over := uint64(le.Uint32(b[12:]))
	if le.Uint64(b) != id || le.Uint16(b[8:]) != freelistPage {
		return damaged("its list of free pages is not what it should be")
	}
	if err := w.claim(id, over+1, readPage); err != nil {
		return err
	}
	if b, err = readPages(w.f, w.head, id, over+1, &w.bufs[0]); err != nil {
		return err
	}
	n, from := uint64(le.Uint16(b[10:])), pageHeader
	if n == manyFree {
		n, from = le.Uint64(b[pageHeader:]), pageHeader+8
	}
	if n > uint64(len(b)-from)/8 {
		return damaged("its list of free pages is cut short")
	}
	for i := range int(n) {
		if err := w.claim(le.Uint64(b[from+i*8:]), 1, freePage); err != nil {
			return err
		}
	}
	return nil
}

// buckets walks the pages that name the buckets, and each of them. Small buckets stand in those pages
// themselves, which are then more than one.
func (w *pageWalk) buckets() error {
	height, err := w.height(w.head.root)
	if err != nil {
		return err
	}
	return w.names(w.head.root, height, nil, nil)
}

// names walks a page with height branches over the leaves that name buckets, itself included.
func (w *pageWalk) names(id uint64, height int, lo, hi []byte) error {
	var buf []byte
	s, err := readSheet(w.f, w.head, id, &buf)
	if err != nil {
		return err
	}
	if s.branch != (height > 0) {
		return damaged("page %d is not what it should be", s.id)
	}
	if err := w.claim(s.id, uint64(len(s.b))/uint64(w.head.pageSize), readPage); err != nil {
		return err
	}
	if err := s.within(lo, hi); err != nil {
		return err
	}
	for i := range s.n {
		if from, to := s.bounds(i); s.branch {
			if to == nil {
				to = hi
			}
			err = w.names(s.below(i), height-1, from, to)
		} else if v, flags := s.value(i); flags != bucketLeaf || len(v) < bucketHead {
			err = damaged("page %d holds what is no bucket", s.id)
		} else {
			err = w.bucket(v, s.id)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// bucket walks a bucket by its value; on is the page it stands on.
func (w *pageWalk) bucket(v []byte, on uint64) error {
	if root := binary.LittleEndian.Uint64(v); root != 0 {
		height, err := w.height(root)
		if err != nil {
			return err
		}
		return w.tree(root, height, true, nil, nil)
	}
	if len(v) < bucketHead+pageHeader {
		return damaged("page %d holds a bucket cut short", on)
	}
	s, over, err := sheetOf(v[bucketHead:], 0)
	if err != nil || over != 0 || s.branch {
		return damaged("page %d holds a bucket that is not what it should be", on)
	}
	s.id = on
	end, err := s.measure()
	if err == nil && end != len(s.b) {
		err = damaged("page %d holds a bucket that is not as long as it says", on)
	}
	if err != nil {
		return err
	}
	return s.plain()
}

// height is how many branches lie over the leaves of a tree: over all of them equally many.
func (w *pageWalk) height(id uint64) (int, error) {
	for height := range maxHeight {
		s, err := readSheet(w.f, w.head, id, &w.bufs[0])
		if err != nil {
			return 0, err
		}
		if !s.branch {
			return height, nil
		}
		id = s.below(0)
	}
	return 0, damaged("its pages go round in a circle")
}

// tree walks a page with height branches over its leaves, itself included; top is a bucket's first
// page.
func (w *pageWalk) tree(id uint64, height int, top bool, lo, hi []byte) error {
	if height == 0 && !top && !w.all {
		return w.claim(id, 1, namedPage)
	}
	s, err := readSheet(w.f, w.head, id, &w.bufs[height])
	if err != nil {
		return err
	}
	if s.branch != (height > 0) {
		return damaged("page %d is not what it should be", id)
	}
	if err := w.claim(id, uint64(len(s.b))/uint64(w.head.pageSize), readPage); err != nil {
		return err
	}
	if err := s.within(lo, hi); err != nil {
		return err
	}
	if !s.branch {
		return s.plain()
	}
	for i := range s.n {
		from, to := s.bounds(i)
		if to == nil {
			to = hi
		}
		if err := w.tree(s.below(i), height-1, false, from, to); err != nil {
			return err
		}
	}
	return nil
}

// leftovers requires a page nobody named to be what a leaf runs over into.
func (w *pageWalk) leftovers() error {
	if w.head.freelist == noFreelist {
		return nil
	}
	for id := 2; id < len(w.own); id++ {
		if w.own[id] != noOwner {
			continue
		}
		if w.own[id-1] != namedPage {
			return damaged("page %d belongs to nothing", id)
		}
		w.own[id] = namedPage
	}
	return nil
}

// pagesEnd requires that following the pages of a file comes to an end: bbolt goes round a circle
// of branches for ever, also where it only reads. What else is wrong with a page it notices itself.
// Leaves of a large file are not looked at.
func pagesEnd(path string) error {
	f, err := openFile(path, os.O_RDONLY)
	if err != nil {
		return plain(path, err)
	}
	defer f.Close()
	h, _, err := preflight(f, false)
	if err != nil {
		return err
	}
	w := &pageWalk{f: f, head: h, all: h.pages <= wholePages, own: make([]owner, h.pages)}
	return w.followNames(h.root, maxHeight)
}

// followNames goes down from a page of those that name buckets, and into each of these.
func (w *pageWalk) followNames(id uint64, height int) error {
	if id < 2 || id >= w.head.pages {
		return nil // not to be followed; bbolt says so
	}
	if w.own[id] != noOwner {
		return damaged("page %d is used twice", id)
	}
	w.own[id] = readPage
	var buf []byte
	s, err := readSheet(w.f, w.head, id, &buf)
	if err != nil {
		if s.branch {
			return err
		}
		return nil
	}
	if s.branch && height == 0 {
		return damaged("its pages go round in a circle")
	}
	for i := range s.n {
		if s.branch {
			err = w.followNames(s.below(i), height-1)
		} else if v, flags := s.value(i); flags == bucketLeaf && len(v) >= bucketHead {
			err = w.followBucket(binary.LittleEndian.Uint64(v))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// followBucket goes down from a bucket's first page; 0 stands for none.
func (w *pageWalk) followBucket(root uint64) error {
	if root == 0 {
		return nil
	}
	height := maxHeight
	if !w.all {
		var err error
		if height, err = w.height(root); err != nil {
			return nil // not to be followed; bbolt says so
		}
	}
	return w.follow(root, height)
}

// follow goes down from a page with at most so many branches below it.
func (w *pageWalk) follow(id uint64, height int) error {
	if id < 2 || id >= w.head.pages || height == 0 && !w.all {
		return nil
	}
	if w.own[id] != noOwner {
		return damaged("page %d is used twice", id)
	}
	w.own[id] = readPage
	s, err := readSheet(w.f, w.head, id, &w.bufs[max(0, height)])
	if !s.branch {
		return nil
	}
	if err != nil {
		return err
	}
	if height <= 0 {
		return damaged("its pages go round in a circle")
	}
	for i := range s.n {
		if err := w.follow(s.below(i), height-1); err != nil {
			return err
		}
	}
	return nil
}
