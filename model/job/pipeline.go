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

// reader is what is done to a file. Each worker has one. Lines come with their line ends, but for
// the last of the file, which may have none.
type reader interface {
	prepare(lines []byte)       // whole lines of one block; side by side with other workers
	commit(lines []byte) *Fault // the same, in the order of the file, one worker at a time
	seam(line []byte) *Fault    // a line that lies over the end of a block, in order as well
	lineNow() int64             // the line the next commit or seam begins with
	done(Progress)              // after each block, in order
}

// pipeline drives the workers over one source.
type pipeline struct {
	src   source
	block int
	size  int64 // of the source, 0 where not known

	mu    sync.Mutex
	turn  *sync.Cond
	now   int // the block whose turn it is
	ended bool
	err   error

	carry []byte // the line begun at the end of the last block
	bytes int64
}

// run reads the source to its end, or to a fault, a failing reader, or the end of ctx. No goroutine
// outlives it.
func run(ctx context.Context, src source, size int64, block int, workers []reader) (int64, bool, error) {
	p := &pipeline{src: src, size: size, block: block}
	p.turn = sync.NewCond(&p.mu)
	var others sync.WaitGroup
	for _, w := range workers[1:] {
		others.Go(func() { p.work(ctx, w) })
	}
	p.work(ctx, workers[0])
	others.Wait()
	unended := false
	if p.err == nil && len(p.carry) > 0 {
		unended = true
		if f := workers[0].seam(p.carry); f != nil {
			p.err = f
		}
	}
	return p.bytes, unended, p.err
}

// work takes blocks until there are no more.
func (p *pipeline) work(ctx context.Context, r reader) {
	buf := make([]byte, p.block)
	for {
		if err := ctx.Err(); err != nil {
			p.end(err)
			return
		}
		block, n, err := p.src.next(buf)
		if n == 0 && err == nil {
			return
		}
		head, lines, tail := split(buf[:n])
		r.prepare(lines)
		if !p.await(block) {
			return
		}
		if f := p.commit(r, head, lines, tail); f != nil {
			p.end(f)
			return
		}
		if err != nil {
			p.end(p.broken(r, err))
			return
		}
		p.bytes += int64(n)
		r.done(Progress{Bytes: p.bytes, Size: p.size, Lines: r.lineNow() - 1})
		p.pass()
	}
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

// commit does a block's part of the work that has an order. A head without a line end is a block
// inside one long line.
func (p *pipeline) commit(r reader, head, lines, tail []byte) *Fault {
	if len(p.carry)+len(head) > maxLine {
		return &Fault{Line: r.lineNow(), Reason: fmt.Sprintf("the line is longer than %d bytes: this is no print file", maxLine)}
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

// await waits for the turn of a block; false means that reading is over.
func (p *pipeline) await(block int) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	for p.now != block && !p.ended {
		p.turn.Wait()
	}
	return !p.ended
}

func (p *pipeline) pass() {
	p.mu.Lock()
	p.now++
	p.turn.Broadcast()
	p.mu.Unlock()
}

// end stops all workers; the first reason holds.
func (p *pipeline) end(err error) {
	p.mu.Lock()
	if !p.ended {
		p.ended, p.err = true, err
	}
	p.turn.Broadcast()
	p.mu.Unlock()
}

// broken is the fault of a source that cannot be read on.
func (p *pipeline) broken(r reader, err error) error {
	if f, is := err.(*Fault); is {
		f.Line = r.lineNow()
		return f
	}
	return &Fault{Line: r.lineNow(), Reason: "cannot be read on: " + err.Error(), Err: err}
}
