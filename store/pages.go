package store

import (
	"encoding/binary"
	"os"
)

// pagesWhole walks the file's pages by plain reads and refuses one whose pages cannot be followed.
// bbolt's own check runs in a goroutine where a fault cannot be caught, and believes page lengths;
// after this walk it can do neither harm.
func pagesWhole(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return plain(path, err)
	}
	defer f.Close()
	h, _, err := preflight(f, false)
	if err != nil {
		return err
	}
	w := pageWalk{f: f, head: h, seen: map[uint64]bool{}}
	if err := w.freelist(h.freelist); err != nil {
		return err
	}
	return w.page(h.root, 0)
}

// Kinds and sizes in a bbolt page.
const (
	branchPage   = 0x01
	leafPage     = 0x02
	freelistPage = 0x10
	elementSize  = 16
	bucketLeaf   = 0x01 // a leaf element that holds a bucket
	bucketHead   = 16   // root page, sequence
	noFreelist   = ^uint64(0)
	maxDepth     = 64
)

type pageWalk struct {
	f    *os.File
	head head
	seen map[uint64]bool
}

// read gives a page with all it runs over into.
func (w *pageWalk) read(id uint64, kinds uint16) ([]byte, error) {
	if id < 2 || id >= w.head.pages {
		return nil, damaged("page %d lies outside of it", id)
	}
	if w.seen[id] {
		return nil, damaged("page %d is used twice", id)
	}
	var h [pageHeader]byte
	if _, err := w.f.ReadAt(h[:], int64(id)*w.head.pageSize); err != nil {
		return nil, damaged("page %d cannot be read", id)
	}
	le := binary.LittleEndian
	flags, over := le.Uint16(h[8:]), uint64(le.Uint32(h[12:]))
	if le.Uint64(h[:]) != id || flags&kinds == 0 || flags&^kinds != 0 || id+over >= w.head.pages {
		return nil, damaged("page %d is not what it should be", id)
	}
	for i := id; i <= id+over; i++ {
		w.seen[i] = true
	}
	buf := make([]byte, int64(over+1)*w.head.pageSize)
	if _, err := w.f.ReadAt(buf, int64(id)*w.head.pageSize); err != nil {
		return nil, damaged("page %d cannot be read", id)
	}
	return buf, nil
}

func (w *pageWalk) freelist(id uint64) error {
	if id == noFreelist {
		return nil
	}
	b, err := w.read(id, freelistPage)
	if err != nil {
		return err
	}
	le := binary.LittleEndian
	n, from := uint64(le.Uint16(b[10:])), pageHeader
	if n == 0xFFFF { // more than fits the header: the first element is the count
		n, from = le.Uint64(b[pageHeader:]), pageHeader+8
	}
	if n > uint64(len(b)-from)/8 {
		return damaged("its list of free pages is cut short")
	}
	for i := range n {
		if free := le.Uint64(b[from+int(i)*8:]); free < 2 || free >= w.head.pages {
			return damaged("its list of free pages names page %d", free)
		}
	}
	return nil
}

func (w *pageWalk) page(id uint64, depth int) error {
	if depth > maxDepth {
		return damaged("its pages go round in a circle")
	}
	b, err := w.read(id, branchPage|leafPage)
	if err != nil {
		return err
	}
	if binary.LittleEndian.Uint16(b[8:])&branchPage != 0 {
		return w.branch(b, id, depth)
	}
	return w.leaf(b, id, depth)
}

func (w *pageWalk) branch(b []byte, id uint64, depth int) error {
	le := binary.LittleEndian
	for i := range int(le.Uint16(b[10:])) {
		at := pageHeader + i*elementSize
		if at+elementSize > len(b) {
			return damaged("page %d has more elements than fit", id)
		}
		pos, ksize := uint64(le.Uint32(b[at:])), uint64(le.Uint32(b[at+4:]))
		if uint64(at)+pos+ksize > uint64(len(b)) {
			return damaged("page %d points outside of itself", id)
		}
		if err := w.page(le.Uint64(b[at+8:]), depth+1); err != nil {
			return err
		}
	}
	return nil
}

// leaf follows the buckets a leaf page holds; b may also be the page a small bucket keeps inline.
func (w *pageWalk) leaf(b []byte, id uint64, depth int) error {
	le := binary.LittleEndian
	for i := range int(le.Uint16(b[10:])) {
		at := pageHeader + i*elementSize
		if at+elementSize > len(b) {
			return damaged("page %d has more elements than fit", id)
		}
		pos, ksize, vsize := uint64(le.Uint32(b[at+4:])), uint64(le.Uint32(b[at+8:])), uint64(le.Uint32(b[at+12:]))
		end := uint64(at) + pos + ksize + vsize
		if end > uint64(len(b)) {
			return damaged("page %d points outside of itself", id)
		}
		if le.Uint32(b[at:])&bucketLeaf == 0 {
			continue
		}
		value := b[end-vsize : end]
		if len(value) < bucketHead {
			return damaged("page %d holds a bucket cut short", id)
		}
		root := le.Uint64(value)
		switch {
		case root != 0:
			if err := w.page(root, depth+1); err != nil {
				return err
			}
		case len(value) < bucketHead+pageHeader:
			return damaged("page %d holds a bucket cut short", id)
		case depth > maxDepth:
			return damaged("its pages go round in a circle")
		default:
			if err := w.leaf(value[bucketHead:], id, depth+1); err != nil {
				return err
			}
		}
	}
	return nil
}
