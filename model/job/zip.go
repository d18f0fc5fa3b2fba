package job

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/klauspost/compress/zip"
)

// Bounds of a container: entries of its directory, bytes read to find them, and members to scan.
const (
	maxEntries   = 10_000
	maxDirectory = 4 << 20
	maxMembers   = 100
)

// scanZip reads each .gcode member of a container, in the order of its directory.
func scanZip(ctx context.Context, r io.ReaderAt, size int64, o Options) ([]Report, error) {
	members, err := zipMembers(r, size)
	if err != nil {
		return nil, err
	}
	if o.Member > 0 {
		if members = plate(members, o.Member); members == nil {
			return nil, &Fault{Reason: fmt.Sprintf("the container has no plate %d", o.Member)}
		}
	}
	var reports []Report
	var unpacked int64
	for _, m := range members {
		report, err := scanMember(ctx, m, size, &unpacked, o)
		reports = append(reports, report)
		if err != nil {
			return reports, err
		}
	}
	return reports, nil
}

// plate is the one member with a number at the end of its name, as in plate_2.gcode, else the one
// at that place; nil where there is none.
func plate(members []*zip.File, n int) []*zip.File {
	var named []*zip.File
	for _, m := range members {
		name := strings.TrimSuffix(strings.ToLower(m.Name), ".gcode")
		digits := name[len(strings.TrimRight(name, "0123456789")):]
		if v, err := strconv.Atoi(digits); err == nil && v == n {
			named = append(named, m)
		}
	}
	switch {
	case len(named) == 1:
		return named
	case n > len(members):
		return nil
	}
	return members[n-1 : n]
}

func scanMember(ctx context.Context, m *zip.File, size int64, unpacked *int64, o Options) (Report,
	error) {
	body, err := m.Open()
	if err != nil {
		return Report{Name: m.Name, Kind: kindZip, Partial: true},
			&Fault{Member: m.Name, Reason: "cannot be unpacked: " + err.Error(), Err: err}
	}
	defer body.Close()
	g := &guard{r: body, packed: func() int64 { return size }, n: unpacked, limit: o.maxBytes()}
	return scanOne(ctx, &stream{r: g}, int64(min(m.UncompressedSize64, 1<<62)), m.Name, kindZip, o)
}

// zipMembers finds the .gcode members. A container in which any name leads out of it is refused.
func zipMembers(r io.ReaderAt, size int64) ([]*zip.File, error) {
	if n := zipEntries(r, size); n > maxEntries {
		return nil, &Fault{Reason: fmt.Sprintf("the container says it has %d entries, more than %d",
			n, maxEntries)}
	}
	budget := &bounded{r: r, left: maxDirectory}
	z, err := zip.NewReader(budget, size)
	if err != nil {
		return nil, directoryFault(err)
	}
	budget.left = -1
	var members []*zip.File
	for _, f := range z.File {
		if climbs(f.Name) {
			return nil,
				&Fault{
					Reason: fmt.Sprintf(
						"the container holds the name %+q, which leads out of it: do not trust it",
						clip(f.Name),
					),
				}
		}
		if !strings.HasSuffix(strings.ToLower(f.Name), ".gcode") || f.FileInfo().IsDir() {
			continue
		}
		if f.Flags&1 != 0 {
			return nil, &Fault{Member: clip(f.Name), Reason: "is locked with a password"}
		}
		members = append(members, f)
	}
	switch {
	case len(members) == 0:
		return nil, &Fault{Reason: "the container holds no .gcode member", Err: ErrEmpty}
	case len(members) > maxMembers:
		return nil,
			&Fault{Reason: fmt.Sprintf("the container holds %d .gcode members, more than %d",
				len(members), maxMembers)}
	}
	return members, nil
}

func directoryFault(err error) error {
	var f *Fault
	switch {
	case errors.As(err, &f):
		return f
	case errors.Is(err, zip.ErrFormat) || errors.Is(err, io.ErrUnexpectedEOF):
		return &Fault{Reason: "the container has no directory at its end: it is cut off or damaged",
			Err: err}
	}
	return &Fault{Reason: "the container cannot be read: " + err.Error(), Err: err}
}

// climbs tells whether a name would lead out of the folder it is unpacked in.
func climbs(name string) bool {
	name = strings.ReplaceAll(name, `\`, "/")
	if strings.HasPrefix(name, "/") || len(name) > 1 && name[1] == ':' ||
		strings.ContainsRune(name, 0) {
		return true
	}
	return slices.Contains(strings.Split(name, "/"), "..")
}

func clip(name string) string { return name[:min(len(name), 200)] }

// bounded stops a reader of the directory after some megabytes.
type bounded struct {
	r    io.ReaderAt
	left int64 // below 0: no bound
}

func (b *bounded) ReadAt(p []byte, off int64) (int, error) {
	if b.left >= 0 {
		if b.left -= int64(len(p)); b.left < 0 {
			b.left = 0
			return 0,
				&Fault{Reason: fmt.Sprintf("the container's directory is longer than %d bytes",
					maxDirectory)}
		}
	}
	return b.r.ReadAt(p, off)
}

// zipEntries gives the count of entries the end of the directory claims, as far as it can be found:
// the library makes room for as many before it has read one. Layout: PKWARE APPNOTE 4.3.14 to
// 4.3.16.
func zipEntries(r io.ReaderAt, size int64) uint64 {
	n := min(size, 65<<10)
	tail := make([]byte, n)
	if got, _ := r.ReadAt(tail, size-n); int64(got) < n {
		return 0
	}
	most := uint64(0)
	for at := bytes.LastIndex(tail, []byte("PK\x05\x06")); at >= 0; at = bytes.LastIndex(tail[:at],
		[]byte("PK\x05\x06")) {
		if at+22 > len(tail) {
			continue
		}
		n := uint64(binary.LittleEndian.Uint16(tail[at+10:]))
		if at >= 20 && string(tail[at-20:at-16]) == "PK\x06\x07" {
			n64 := zip64Entries(r, int64(binary.LittleEndian.Uint64(tail[at-12:])))
			if n == 0xffff { // the number stands there
				n = 0
			}
			n = max(n, n64)
		}
		most = max(most, n)
	}
	return most
}

func zip64Entries(r io.ReaderAt, off int64) uint64 {
	var b [56]byte
	if off < 0 {
		return 0
	}
	if n, _ := r.ReadAt(b[:], off); n < len(b) || string(b[:4]) != "PK\x06\x06" {
		return 0
	}
	return binary.LittleEndian.Uint64(b[32:])
}
