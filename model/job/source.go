package job

import (
	"errors"
	"fmt"
	"io"
	"sync"
)

// source hands out the blocks of a file, each once, in order, to whoever asks.
type source interface {
	// next fills b with the next block, and gives its number and length; length 0 at the end.
	// What comes with an error is still part of the file.
	next(b []byte) (block int, n int, err error)
}

// ranged is a source that reads at any place, so that two blocks can be read at once.
type ranged struct {
	r    io.ReaderAt
	size int64

	mu   sync.Mutex
	off  int64
	seen int
}

func (s *ranged) next(b []byte) (int, int, error) {
	s.mu.Lock()
	off, block := s.off, s.seen
	n := int(min(int64(len(b)), s.size-off))
	s.off += int64(n)
	s.seen++
	s.mu.Unlock()
	if n == 0 {
		return block, 0, nil
	}
	got, err := s.r.ReadAt(b[:n], off)
	if got == n {
		return block, n, nil
	}
	if err == nil || errors.Is(err, io.EOF) {
		err = &Fault{Reason: fmt.Sprintf("the file ends at byte %d and was %d bytes long: it has become shorter while it was read",
			off+int64(got), s.size), Err: io.ErrUnexpectedEOF}
	}
	return block, got, err
}

// stream is a source that can only be read from front to back.
type stream struct {
	r io.Reader

	mu   sync.Mutex
	seen int
	done bool
}

func (s *stream) next(b []byte) (int, int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.done {
		return s.seen, 0, nil
	}
	n, err := readFull(s.r, b)
	s.seen++
	if err != nil {
		s.done = true
	}
	if err == io.EOF {
		err = nil
	}
	return s.seen - 1, n, err
}

// readFull fills b as far as the reader goes. A reader that keeps giving nothing is given up.
func readFull(r io.Reader, b []byte) (n int, err error) {
	for idle := 0; n < len(b) && err == nil; {
		var got int
		got, err = r.Read(b[n:])
		if n += got; got > 0 {
			idle = 0
		} else if idle++; idle > 100 && err == nil {
			err = io.ErrNoProgress
		}
	}
	return n, err
}
