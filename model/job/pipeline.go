package job

import (
	"bytes"
	"context"
	"fmt"
	"sync"
)

const (
	blockSize = 256 << 10 // with what is made of it, this stays in a core's own cache
	maxLine   = 1 << 20
)

// reader is what is done to a file. There are some, each with a block of its own. Lines come with
// their line ends, but for the last of the file, which may have none.
type reader interface {
	prepare(lines []byte)       // whole lines of one block; side by side with other workers
	commit(lines []byte) *Fault // the same, in the order of the file, one worker at a time
	seam(line []byte) *Fault    // a line that lies over the end of a block, in order as well
	lineNow() int64             // the line the next commit or seam begins with
	done(Progress)              // after each block, in order
}

// pipeline drives the workers over one source. There are more pieces than workers, so that one who
// is done before its turn need not wait: whoever has the block whose turn it is commits all that
// follow it.
type pipeline struct {
	src   source
	size  int64 // of the source, 0 where not known
	block int   // bytes read at once

	mu    sync.Mutex
	freed *sync.Cond
	free  []*piece       // the last one in is the first to go out again: it is still in a cache
	ready map[int]*piece // prepared, by block
	now   int            // the block whose turn it is
	busy  bool           // somebody commits
	ended bool
	err   error

	carry []byte // the line begun at the end of the last block
	bytes int64
}

// piece is a block under way.
type piece struct {
	reader
	buf               []byte
	n                 int // bytes of it
	err               error
	head, lines, tail []byte
}

// run reads the source to its end, or to a fault, a failing reader, or the end of ctx, with as many
// workers. No goroutine outlives it.
func run(ctx context.Context, src source, size int64, block, workers int, readers []reader) (int64,
	bool, error) {
	p := &pipeline{src: src, size: size, block: block, ready: map[int]*piece{}}
	p.freed = sync.NewCond(&p.mu)
	for _, r := range readers {
		p.free = append(p.free, &piece{reader: r})
	}
	var others sync.WaitGroup
	for range workers - 1 {
		others.Go(func() { p.work(ctx) })
	}
	p.work(ctx)
	others.Wait()
	unended := false
	if p.err == nil && len(p.carry) > 0 {
		unended = true
		if f := readers[0].seam(p.carry); f != nil {
			p.err = f
		}
	}
	return p.bytes, unended, p.err
}

// work takes blocks until there are no more.
func (p *pipeline) work(ctx context.Context) {
	for {
		q := p.take()
		if q == nil {
			return
		}
		if err := ctx.Err(); err != nil {
			p.end(err)
			return
		}
		if q.buf == nil { // a small file needs few pieces
			q.buf = make([]byte, p.block)
		}
		block, n, err := p.src.next(q.buf)
		if n == 0 && err == nil {
			p.give(q)
			return
		}
		q.n, q.err = n, err
		q.head, q.lines, q.tail = split(q.buf[:n])
		q.prepare(q.lines)
		p.deliver(block, q)
	}
}

// take waits for a piece; nil means that reading is over.
func (p *pipeline) take() *piece {
	p.mu.Lock()
	defer p.mu.Unlock()
	for len(p.free) == 0 && !p.ended {
		p.freed.Wait()
	}
	if p.ended {
		return nil
	}
	q := p.free[len(p.free)-1]
	p.free = p.free[:len(p.free)-1]
	return q
}

func (p *pipeline) give(q *piece) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.free = append(p.free, q)
	p.freed.Signal()
}

// deliver has a piece committed when its turn comes: by the worker that is at it, or by this one.
func (p *pipeline) deliver(block int, q *piece) {
	p.mu.Lock()
	p.ready[block] = q
	mine := !p.busy
	p.busy = true
	p.mu.Unlock()
	for mine {
		if q = p.next(); q == nil {
			return
		}
		if err := p.commit(q); err != nil {
			p.end(err)
			continue
		}
		p.give(q)
	}
}

// next takes the piece whose turn it is out of those that are ready; nil where it is not, or
// reading is over, and then nobody commits any more.
func (p *pipeline) next() *piece {
	p.mu.Lock()
	defer p.mu.Unlock()
	q := p.ready[p.now]
	if q == nil || p.ended {
		p.busy = false
		return nil
	}
	delete(p.ready, p.now)
	p.now++
	return q
}

// commit does what of a piece has an order.
func (p *pipeline) commit(q *piece) error {
	if f := p.join(q, q.head, q.lines, q.tail); f != nil {
		return f
	}
	if q.err != nil {
		return p.broken(q, q.err)
	}
	p.bytes += int64(q.n)
	q.done(Progress{Bytes: p.bytes, Size: p.size, Lines: q.lineNow() - 1})
	return nil
}

// split cuts a block into the end of a line begun before, whole lines, and the beginning of one.
func split(b []byte) (head, lines, tail []byte) {
	first := bytes.IndexByte(b, '\n') + 1
	if first == 0 {
		return b, nil, nil
	}
	last := bytes.LastIndexByte(b, '\n') + 1
	return b[:first], b[first:last], b[last:]
}

// join commits the lines of a block and those over its ends. A head without a line end is a block
// inside one long line.
func (p *pipeline) join(r reader, head, lines, tail []byte) *Fault {
	if len(p.carry)+len(head) > maxLine {
		return &Fault{Line: r.lineNow(),
			Reason: fmt.Sprintf("the line is longer than %d bytes: this is no print file", maxLine)}
	}
	p.carry = append(p.carry, head...)
	if len(head) == 0 || head[len(head)-1] != '\n' {
		return nil
	}
	if f := r.seam(p.carry); f != nil {
		return f
	}
	p.carry = append(p.carry[:0], tail...)
	if len(lines) == 0 {
		return nil
	}
	return r.commit(lines)
}

// end stops all workers; the first reason holds.
func (p *pipeline) end(err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.ended {
		p.ended, p.err = true, err
	}
	p.freed.Broadcast()
}

// broken is the fault of a source that cannot be read on.
func (p *pipeline) broken(r reader, err error) error {
	if f, is := err.(*Fault); is {
		f.Line = r.lineNow()
		return f
	}
	return &Fault{Line: r.lineNow(), Reason: "cannot be read on: " + err.Error(), Err: err}
}
