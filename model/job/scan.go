package job

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
)

// Options says how to read. The zero value reads without time, with the default profile.
type Options struct {
	Profile  *Profile       // nil: DefaultProfile
	Time     bool           // work out how long it takes; the rest is read either way
	Workers  int            // 1, or 2 for two cores; 0: 2
	Progress func(Progress) // after each block, never from two goroutines at once; nil: none
	MaxBytes int64          // of G-code, unpacked, all members together; 0: 64 GiB
	Member   int            // the one member of a container to read, from 1; 0: all
	Strict   bool           // a line that is not as it should be ends the reading

	block    int  // tests: other than blockSize
	careful  bool // tests: no short way through lines
	formless bool // tests: as on a processor that does not know forms
}

// Progress is how far reading is. Size is 0 where it is not known; packed files count unpacked.
type Progress struct {
	Member             string
	Bytes, Size, Lines int64
}

func (o Options) profile() Profile {
	if o.Profile == nil {
		return DefaultProfile()
	}
	return *o.Profile
}

func (o Options) workers() int {
	if o.Workers == 1 {
		return 1
	}
	return 2
}

// readers is how many blocks are under way at once.
func (o Options) readers() int {
	if o.Workers == 1 {
		return 1
	}
	return o.workers() + 1
}

func (o Options) blockSize() int {
	if o.block > 0 {
		return o.block
	}
	return blockSize
}

func (o Options) maxBytes() int64 {
	if o.MaxBytes > 0 {
		return o.MaxBytes
	}
	return 64 << 30
}

// parser is the reader that reads everything.
type parser struct {
	lexer
	state    *state
	progress func(Progress)
}

func (p *parser) prepare(lines []byte) { p.scan(lines) }
func (p *parser) lineNow() int64       { return p.state.lines + 1 }

func (p *parser) commit(lines []byte) *Fault {
	f := p.state.run(&p.lexed, lines)
	p.modes = p.state.modes // the next block will most likely begin like that
	return f
}

func (p *parser) done(at Progress) {
	p.spare()
	if p.progress != nil {
		p.progress(at)
	}
}

// seam reads a line that lay over the end of a block; what was prepared of the block is kept.
func (p *parser) seam(line []byte) *Fault {
	if p.state.lines == 0 {
		line = bytes.TrimPrefix(line, []byte("\xef\xbb\xbf"))
	}
	l := lexer{careful: true}
	l.scan(line)
	return p.state.run(&l.lexed, line)
}

// scanOne reads one G-code text. The report holds what was read, also where there is an error.
func scanOne(ctx context.Context, src source, size int64, member, kind string, o Options) (Report,
	error) {
	st := newState(o.profile(), o.Time)
	st.strict = o.Strict
	var progress func(Progress)
	if o.Progress != nil {
		progress = func(p Progress) { p.Member = member; o.Progress(p) }
	}
	readers := make([]reader, o.readers())
	for i := range readers {
		readers[i] = &parser{lexer: lexer{careful: o.careful, oneByOne: o.Time,
			learns: knowsForms && !o.formless},
			state: st, progress: progress}
	}
	n, unended, err := run(ctx, src, size, o.blockSize(), o.workers(), readers)
	r := st.report()
	r.Name, r.Kind, r.Bytes, r.Unended = member, kind, n, unended
	if err == nil {
		err = nothing(&r)
	}
	var f *Fault
	if errors.As(err, &f) {
		f.Member = member
	}
	r.Partial = err != nil
	return r, err
}

// nothing is the fault of a file without one line that is known.
func nothing(r *Report) error {
	switch {
	case r.Bytes == 0:
		return &Fault{Reason: ErrEmpty.Error(), Err: ErrEmpty}
	case r.Known == 0 && len(r.Unknown) > 0:
		return &Fault{Reason: fmt.Sprintf(
			"none of its %d lines is a command that is known: this is no print file", r.Lines)}
	case r.Known == 0:
		return &Fault{Reason: fmt.Sprintf("its %d lines hold no command", r.Lines), Err: ErrEmpty}
	case r.Skipped > r.Known:
		first := r.Warnings[0]
		return &Fault{Line: first.Line, Reason: fmt.Sprintf(
			"%s, and %d of its %d lines are no better: this is no print file",
			first.Reason,
			r.Skipped,
			r.Lines,
		)}
	}
	return nil
}

// ScanStream reads a plain or gzipped print file from its beginning. A zip container needs Scan.
// With an error the reports still hold what was read before it, marked Partial. If r never returns,
// neither does ScanStream: ctx is asked between blocks.
func ScanStream(ctx context.Context, r io.Reader, o Options) ([]Report, error) {
	head := make([]byte, sniffLen)
	n, err := readFull(r, head)
	if err != nil && err != io.EOF {
		return nil, &Fault{Reason: "cannot be read: " + err.Error(), Err: err}
	}
	all := io.MultiReader(bytes.NewReader(head[:n]), r)
	switch kind, err := sniff(head[:n]); {
	case err != nil:
		return nil, err
	case kind == kindZip:
		return nil,
			&Fault{Reason: "a zip container cannot be read from a pipe: give the file by its name"}
	case kind == kindGzip:
		return scanGzip(ctx, all, o)
	}
	report, err := scanOne(ctx, &stream{r: all}, 0, "", kindPlain, o)
	return []Report{report}, err
}

// Scan reads a print file of size bytes: plain, gzip, or a zip container, of which each member
// whose name ends in .gcode gives a report. With an error the reports still hold what was read
// before it, marked Partial; an error in one member leaves out those behind it.
func Scan(ctx context.Context, r io.ReaderAt, size int64, o Options) ([]Report, error) {
	head := make([]byte, min(sniffLen, max(size, 0)))
	if n, err := r.ReadAt(head, 0); n < len(head) {
		return nil, &Fault{Reason: fmt.Sprintf("cannot be read: %v", err), Err: err}
	}
	switch kind, err := sniff(head); {
	case err != nil:
		return nil, err
	case kind == kindZip:
		return scanZip(ctx, r, size, o)
	case kind == kindGzip:
		return scanGzip(ctx, io.NewSectionReader(r, 0, size), o)
	}
	if o.Member > 1 {
		return nil, &Fault{
			Reason: fmt.Sprintf("it is no container: there is no plate %d", o.Member),
		}
	}
	report, err := scanOne(ctx, &ranged{r: r, size: size}, size, "", kindPlain, o)
	return []Report{report}, err
}
