package job

import (
	"bytes"
	"context"
	"io"
)

// Tools is the short answer: how often the tool changes.
type Tools struct {
	Name    string // of the member in its container
	Changes int64  // as Report.ToolChanges
	Service int64  // T words beyond the tools of the machine
	Short   bool   // found without reading the rest; what else is in the file was not checked
}

// ToolChanges counts the tool changes of a print file of size bytes, looking only for the letter T.
// That is enough where each T outside comments begins its line or belongs to a command in M; a file
// that writes it otherwise, in small letters or behind a line number, is read whole by Scan
// instead, and so are packed files. Changes by hand (M600) are not looked for.
func ToolChanges(ctx context.Context, r io.ReaderAt, size int64, o Options) ([]Tools, error) {
	head := make([]byte, min(sniffLen, max(size, 0)))
	n, _ := r.ReadAt(head, 0)
	kind, err := sniff(head[:n])
	if err == nil && kind == kindPlain && n > 0 {
		sum := &toolCount{limit: int64(o.profile().tools())}
		readers := make([]reader, o.readers())
		for i := range readers {
			readers[i] = &hunter{sum: sum, progress: o.Progress}
		}
		_, _, err := run(ctx, &ranged{r: r, size: size}, size, o.blockSize(), o.workers(), readers)
		if err != errOtherwise {
			return []Tools{{Changes: sum.changes, Service: sum.service, Short: true}}, err
		}
	}
	o.Time = false
	reports, err := Scan(ctx, r, size, o)
	var out []Tools
	for _, r := range reports {
		t := Tools{Name: r.Name, Changes: r.ToolChanges}
		for _, c := range r.Service {
			t.Service += c.N
		}
		out = append(out, t)
	}
	return out, err
}

// errOtherwise says that a file must be read whole.
var errOtherwise = &Fault{Reason: "T is not written plainly"}

// toolCount follows the T words in order.
type toolCount struct {
	limit, tool      int64
	chosen           bool
	changes, service int64

	head []byte // all lines before the first T
	long bool   // there were too many of them
}

// maxHead is how much may come before a first T that is not T0; a file with more is read whole.
const maxHead = 1 << 20

// loads tells whether a first T other than tool 0 loads: not where plastic was laid before it.
func (c *toolCount) loads() bool {
	s, l := newState(DefaultProfile(), false), lexer{oneByOne: true}
	l.scan(append(c.head, '\n'))
	return s.run(&l.lexed, c.head) == nil && !s.laid()
}

// before takes lines before the first T.
func (c *toolCount) before(lines []byte) {
	switch {
	case c.chosen || c.long:
	case len(c.head)+len(lines) > maxHead:
		c.long, c.head = true, nil
	default:
		c.head = append(c.head, lines...)
	}
}

// add takes a T word; false where the file must be read whole to judge it.
func (c *toolCount) add(n int64) bool {
	switch {
	case n >= c.limit:
		c.service++
	case !c.chosen:
		if n != 0 && c.long {
			return false
		}
		if n != 0 && !c.loads() {
			c.changes++
		}
		c.chosen, c.tool, c.head = true, n, nil
	case n != c.tool:
		c.tool = n
		c.changes++
	}
	return true
}

// toolWord is a T word and where its line begins in its block.
type toolWord struct {
	n  int64
	at int
}

// hunter is the reader that looks for T only.
type hunter struct {
	sum       *toolCount
	progress  func(Progress)
	found     []toolWord
	otherwise bool
}

func (h *hunter) lineNow() int64 { return 1 }

func (h *hunter) done(p Progress) {
	if h.progress != nil {
		p.Lines = 0
		h.progress(p)
	}
}

// prepare finds the T words of whole lines. Having met one it goes on at the next line, so a line
// is looked at once.
func (h *hunter) prepare(b []byte) {
	h.found, h.otherwise = h.found[:0], false
	large, small := -1, -1
	for o := 0; ; {
		if large < o {
			large = indexFrom(b, o, 'T')
		}
		if small < o {
			small = indexFrom(b, o, 't')
		}
		i := min(large, small)
		if i == len(b) {
			return
		}
		start := o + bytes.LastIndexByte(b[o:i], '\n') + 1
		end := indexFrom(b, i, '\n')
		if !h.line(b[start:end], i-start, start) {
			h.otherwise = true
			return
		}
		if o = end + 1; o >= len(b) {
			return
		}
	}
}

func indexFrom(b []byte, from int, c byte) int {
	if n := bytes.IndexByte(b[from:], c); n >= 0 {
		return from + n
	}
	return len(b)
}

// line looks at a line whose first T or t is at i. False means that it must be read the long way.
func (h *hunter) line(b []byte, i, at int) bool {
	if b[0] == ';' || b[0] == '/' || bareName(b) > 0 || bytes.IndexByte(b[:i], ';') >= 0 {
		return true
	}
	if i == 0 && b[0] == 'T' {
		return h.tool(b, at)
	}
	if b[0] != 'M' || bytes.IndexByte(b, '(') >= 0 {
		return false
	}
	// M6 is the one command in M that a T on its line belongs to as a choice; one digit or spaces
	// in the number, or a second command, may spell it.
	n := skipDigits(b, 1)
	return n > 2 && b[1] != '0' && bytes.IndexByte(b[1:], 'M') < 0 &&
		(n == len(b) || b[n] == ' ') && !digitAfter(b, n)
}

// digitAfter tells whether the next thing after spaces is a digit or point: a number with a space.
func digitAfter(b []byte, i int) bool {
	i = skipSpace(b, i)
	return i < len(b) && (b[i] == '.' || b[i] >= '0' && b[i] <= '9')
}

// tool takes a line that is T and a number, and nothing but a comment.
func (h *hunter) tool(b []byte, at int) bool {
	end := skipDigits(b, 1)
	if end == 1 || end > 7 {
		return false
	}
	n := int64(0)
	for _, c := range b[1:end] {
		n = n*10 + int64(c-'0')
	}
	after := skipSpace(b, end)
	if after < len(b) && b[after] == '\r' {
		after++
	}
	if after < len(b) && b[after] != ';' {
		return false
	}
	h.found = append(h.found, toolWord{n, at})
	return true
}

func (h *hunter) commit(lines []byte) *Fault {
	if h.otherwise {
		return errOtherwise
	}
	from := 0
	for _, w := range h.found {
		h.sum.before(lines[from:w.at])
		from = w.at
		if !h.sum.add(w.n) {
			return errOtherwise
		}
	}
	h.sum.before(lines[from:])
	return nil
}

// seam looks at one line; what was prepared of the block stays.
func (h *hunter) seam(line []byte) *Fault {
	if h.sum.atStart() {
		line = bytes.TrimPrefix(line, []byte("\xef\xbb\xbf"))
	}
	one := hunter{sum: h.sum}
	one.prepare(line)
	return one.commit(line)
}

// atStart tells whether nothing was found yet; a byte order mark further on is no T either way.
func (c *toolCount) atStart() bool { return !c.chosen && c.service == 0 }
