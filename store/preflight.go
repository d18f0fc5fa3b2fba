package store

import (
	"encoding/binary"
	"errors"
	"hash/fnv"
	"io"
	"os"
	"time"
)

// Facts of the bbolt file format that are read here without bbolt: it opens a file of no bytes as a
// new empty one, and faults on a truncated one.
const (
	boltMagic   = 0xED0CDAED
	boltVersion = 2
	metaSize    = 64
	pageHeader  = 16
)

// head is what the two meta pages say.
type head struct {
	txid     uint64
	pageSize int64
	pages    uint64 // pages in use, the high-water mark
	root     uint64 // page of the root bucket
	freelist uint64
	good     int // how many of the two meta pages are whole
}

var (
	errEmpty = errors.New("it is empty (0 bytes), so whatever it held is gone")
	errAlien = errors.New("it is no oilcan data file")
	errShort = errors.New("it is shorter than it says, so its end is missing")
	errHalf  = errors.New("one of its two heads is destroyed, so its latest entry may be missing")
)

// readHead reads the meta pages by plain reads.
func readHead(f io.ReaderAt, size int64) (head, error) {
	if size == 0 {
		return head{}, errEmpty
	}
	first, ok := readMetaPage(f, 0)
	if ok {
		second, ok2 := readMetaPage(f, first.pageSize)
		return newer(first, ok, second, ok2), checkSize(newer(first, ok, second, ok2), size)
	}
	for ps := int64(512); ps <= 65536; ps *= 2 {
		if second, ok := readMetaPage(f, ps); ok && second.pageSize == ps {
			second.good = 1
			return second, checkSize(second, size)
		}
	}
	return head{}, errAlien
}

func newer(a head, okA bool, b head, okB bool) head {
	out := a
	if !okA || okB && b.txid > a.txid {
		out = b
	}
	out.good = 1
	if okA && okB {
		out.good = 2
	}
	return out
}

func checkSize(h head, size int64) error {
	if h.pageSize <= 0 || h.pages > 1<<40 || size < int64(h.pages)*h.pageSize {
		return errShort
	}
	return nil
}

// readMetaPage reads one meta page; ok tells whether its checksum is right.
func readMetaPage(f io.ReaderAt, off int64) (h head, ok bool) {
	var b [pageHeader + metaSize]byte
	if _, err := f.ReadAt(b[:], off); err != nil {
		return h, false
	}
	m, le := b[pageHeader:], binary.LittleEndian
	sum := fnv.New64a()
	sum.Write(m[:56])
	if le.Uint32(m) != boltMagic || le.Uint32(m[4:]) != boltVersion ||
		sum.Sum64() != le.Uint64(m[56:]) {
		return h, false
	}
	return head{
		pageSize: int64(le.Uint32(m[8:])), root: le.Uint64(m[16:]), freelist: le.Uint64(m[32:]),
		pages: le.Uint64(m[40:]), txid: le.Uint64(m[48:]),
	}, true
}

// Another process may be in the middle of writing a meta page while it is read here; then it reads
// right a moment later.
const (
	headTries = 4
	headPause = 5 * time.Millisecond
)

// preflight tells whether bbolt can be trusted with the file. lenient accepts a file one of whose
// meta pages is destroyed.
func preflight(f *os.File, lenient bool) (h head, st os.FileInfo, err error) {
	for try := range headTries {
		if try > 0 {
			time.Sleep(headPause)
		}
		if st, err = f.Stat(); err != nil {
			return h, nil, err
		}
		if st.IsDir() {
			return h, nil, damaged("it is a folder")
		}
		h, err = readHead(f, st.Size())
		if err == nil && h.good < 2 && !lenient {
			err = errHalf
		}
		if err == nil {
			return h, st, nil
		}
	}
	return h, nil, damaged("%s", err)
}
