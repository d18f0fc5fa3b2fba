package job

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/klauspost/compress/gzip"
)

// Kinds of file, as in Report.Kind.
const (
	kindPlain = "plain"
	kindGzip  = "gzip"
	kindZip   = "zip"
)

// sniffLen is how much of a file sniff wants to see.
const sniffLen = 8

// sniff tells the kind of a file by its first bytes, and refuses what it knows not to be read here.
func sniff(head []byte) (string, error) {
	for _, k := range []struct{ begin, kind, refuse string }{
		{begin: "\x1f\x8b", kind: kindGzip},
		{begin: "PK\x03\x04", kind: kindZip},
		{begin: "PK\x05\x06", kind: kindZip},
		{begin: "\xff\xfe", refuse: "it is written in UTF-16: save it as plain text"},
		{begin: "\xfe\xff", refuse: "it is written in UTF-16: save it as plain text"},
		{begin: "\x28\xb5\x2f\xfd", refuse: "it is packed with zstd: unpack it first"},
		{begin: "\xfd7zXZ\x00", refuse: "it is packed with xz: unpack it first"},
		{begin: "BZh", refuse: "it is packed with bzip2: unpack it first"},
		{begin: "GCDE",
			refuse: "it is a binary print file: have it written as plain text, and give that"},
		{begin: "7z\xbc\xaf\x27\x1c", refuse: "it is packed with 7z: unpack it first"},
	} {
		if bytes.HasPrefix(head, []byte(k.begin)) {
			if k.refuse != "" {
				return "", &Fault{Reason: k.refuse}
			}
			return k.kind, nil
		}
	}
	return kindPlain, nil
}

// Unpacked text may be this many times as long as what it is packed in: G-code packs to a third or
// a fifth, zeros to a thousandth. Below the free bytes no ratio is asked for.
const (
	maxRatio  = 200
	freeBytes = 16 << 20
)

// guard stops an unpacked stream that grows beyond what a print file can be.
type guard struct {
	r      io.Reader
	packed func() int64 // bytes it was packed in, so far
	n      *int64       // unpacked, all members together
	limit  int64
}

func (g *guard) Read(b []byte) (int, error) {
	n, err := g.r.Read(b)
	*g.n += int64(n)
	switch {
	case *g.n > g.limit:
		return n, &Fault{Reason: fmt.Sprintf("it unpacks to more than %d bytes", g.limit)}
	case *g.n > freeBytes && *g.n/maxRatio > g.packed():
		return n,
			&Fault{Reason: fmt.Sprintf(
				"it unpacks to more than %d times its size: this is no print file", maxRatio)}
	}
	if err != nil && err != io.EOF {
		err = unpackFault(err)
	}
	return n, err
}

func unpackFault(err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return &Fault{Reason: "the packed file is cut off here", Err: err}
	}
	return &Fault{Reason: "the packed file is damaged here: " + err.Error(), Err: err}
}

// counting counts what is read through it.
type counting struct {
	r io.Reader
	n int64
}

func (c *counting) Read(b []byte) (int, error) {
	n, err := c.r.Read(b)
	c.n += int64(n)
	return n, err
}

// scanGzip reads a gzipped file; one of several parts is read as one text.
func scanGzip(ctx context.Context, r io.Reader, o Options) ([]Report, error) {
	in := &counting{r: r}
	z, err := gzip.NewReader(in)
	if err != nil {
		return nil, unpackFault(err)
	}
	var n int64
	g := &guard{r: z, packed: func() int64 { return in.n }, n: &n, limit: o.maxBytes()}
	report, err := scanOne(ctx, &stream{r: g}, 0, "", kindGzip, o)
	return []Report{report}, err
}
