package store

import (
	"bytes"
	"encoding/binary"
	"io"
	"sort"
)

// The layout of a page, as bbolt 1.5 writes it (go.etcd.io/bbolt: internal/common/page.go,
// inode.go, bucket.go; internal/freelist/shared.go), in bytes from its start, little endian:
//
//	0  its own number (8)
//	8  its kind (2): branch, leaf or free list
//	10 how many elements it has (2)
//	12 how many pages it runs over into (4)
//	16 the elements, 16 bytes each, then the keys and values in the same order without a gap
//
// An element of a branch is: where its key begins, counted from the element (4), the key's length
// (4), the page below it (8). An element of a leaf is: 1 where it holds a bucket, else 0 (4); where
// its key begins (4); the lengths of key (4) and value (4). A bucket's value is its root page (8)
// and its sequence (8); root page 0 says that the page itself follows. A free list holds page
// numbers of 8 bytes; where there are 65,535 or more of them, their count comes first.
const (
	branchPage   = 0x01
	leafPage     = 0x02
	freelistPage = 0x10
	elementSize  = 16
	bucketLeaf   = 0x01
	bucketHead   = 16
	manyFree     = 0xFFFF
	noFreelist   = ^uint64(0)
)

// sheet is one page of a tree, checked against itself.
type sheet struct {
	id     uint64
	branch bool
	n      int // elements
	b      []byte
	end    int // of what it holds
}

// readSheet reads page id of a tree with what it runs over into; buf may be used for it, or a
// larger one is made. The sheet is valid until the buffer is used again.
func readSheet(f io.ReaderAt, h head, id uint64, buf *[]byte) (sheet, error) {
	if id < 2 || id >= h.pages {
		return sheet{}, damaged("page %d lies outside of it", id)
	}
	b, err := readPages(f, h, id, 1, buf)
	if err != nil {
		return sheet{}, err
	}
	s, over, err := sheetOf(b, id)
	if err != nil {
		return s, err
	}
	if over >= h.pages-id {
		return s, damaged("page %d runs over the end of it", id)
	}
	if over > 0 {
		if s.b, err = readPages(f, h, id, over+1, buf); err != nil {
			return s, err
		}
	}
	if s.end, err = s.measure(); err != nil {
		return s, err
	}
	if s.n == 0 { // an empty page is removed, an empty bucket has none
		return s, damaged("page %d is empty", id)
	}
	// bbolt gives a page just the room its elements need (node.spill).
	if uint64(s.end-1)/uint64(h.pageSize) != over {
		return s, damaged("page %d is not as long as it says", id)
	}
	return s, nil
}

func readPages(f io.ReaderAt, h head, id, n uint64, buf *[]byte) ([]byte, error) {
	size := int(n) * int(h.pageSize)
	if cap(*buf) < size {
		*buf = make([]byte, size)
	}
	b := (*buf)[:size]
	if _, err := f.ReadAt(b, int64(id)*h.pageSize); err != nil {
		return nil, damaged("page %d cannot be read", id)
	}
	return b, nil
}

// sheetOf reads the head of a page of a tree.
func sheetOf(b []byte, id uint64) (s sheet, over uint64, err error) {
	le := binary.LittleEndian
	kind := le.Uint16(b[8:])
	if le.Uint64(b) != id || kind != branchPage && kind != leafPage {
		return s, 0, damaged("page %d is not what it should be", id)
	}
	return sheet{id: id, branch: kind == branchPage, n: int(le.Uint16(b[10:])), b: b},
		uint64(le.Uint32(b[12:])), nil
}

// measure goes over the elements and gives where the last one ends.
func (s sheet) measure() (int, error) {
	le := binary.LittleEndian
	end := pageHeader + s.n*elementSize
	if end > len(s.b) {
		return 0, damaged("page %d has more elements than fit", s.id)
	}
	var last []byte
	for at := pageHeader; at < pageHeader+s.n*elementSize; at += elementSize {
		e := s.b[at : at+elementSize]
		pos, ksize, vsize := uint64(le.Uint32(e)), uint64(le.Uint32(e[4:])), uint64(0)
		if !s.branch {
			pos, ksize, vsize = ksize, uint64(le.Uint32(e[8:])), uint64(le.Uint32(e[12:]))
		}
		if uint64(at)+pos != uint64(end) || ksize == 0 || ksize+vsize > uint64(len(s.b)-end) {
			return 0, damaged("page %d points outside of itself", s.id)
		}
		key := s.b[end : end+int(ksize)]
		if last != nil && bytes.Compare(last, key) >= 0 {
			return 0, damaged("the keys of page %d are out of order", s.id)
		}
		last, end = key, end+int(ksize+vsize)
	}
	return end, nil
}

// key is the key of element i of a measured sheet.
func (s sheet) key(i int) []byte {
	le, at := binary.LittleEndian, pageHeader+i*elementSize
	if s.branch {
		from := at + int(le.Uint32(s.b[at:]))
		return s.b[from : from+int(le.Uint32(s.b[at+4:]))]
	}
	from := at + int(le.Uint32(s.b[at+4:]))
	return s.b[from : from+int(le.Uint32(s.b[at+8:]))]
}

// below is the page under element i of a branch.
func (s sheet) below(i int) uint64 {
	return binary.LittleEndian.Uint64(s.b[pageHeader+i*elementSize+8:])
}

// bounds are where the keys under element i of a branch begin, and what they lie before; nil is no
// bound.
func (s sheet) bounds(i int) (lo, hi []byte) {
	if i+1 < s.n {
		hi = s.key(i + 1)
	}
	return s.key(i), hi
}

// find gives the element of a branch under which a key stands.
func (s sheet) find(key []byte) int {
	return max(0, sort.Search(s.n, func(i int) bool { return bytes.Compare(s.key(i), key) > 0 })-1)
}

// value is the value of element i of a leaf, and whether it holds a bucket.
func (s sheet) value(i int) (v []byte, flags uint32) {
	le, at := binary.LittleEndian, pageHeader+i*elementSize
	from := at + int(le.Uint32(s.b[at+4:])) + int(le.Uint32(s.b[at+8:]))
	return s.b[from : from+int(le.Uint32(s.b[at+12:]))], le.Uint32(s.b[at:])
}

// plain requires a leaf inside of a bucket to hold records alone: no bucket here has others in it.
func (s sheet) plain() error {
	for at := pageHeader; !s.branch && at < pageHeader+s.n*elementSize; at += elementSize {
		if binary.LittleEndian.Uint32(s.b[at:]) != 0 {
			return damaged("page %d holds what is no record", s.id)
		}
	}
	return nil
}

// within requires the keys of a sheet to begin with lo and to lie before hi; nil is no bound. bbolt
// finds a page it has written anew in the branch above by its first key: where that is another there,
// it puts the page in beside itself, and the old one, now free, stays in the tree.
func (s sheet) within(lo, hi []byte) error {
	if s.n == 0 {
		return nil
	}
	if lo != nil && !bytes.Equal(s.key(0), lo) || hi != nil &&
		bytes.Compare(s.key(s.n-1), hi) >= 0 {
		return damaged("page %d stands in the place of another", s.id)
	}
	return nil
}
