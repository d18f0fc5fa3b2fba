package job

import (
	"bytes"
	"context"
	"io"
)

// Tools is the short answer: how often the filament changes.
type Tools struct {
	Name    string // of the member in its container
	Changes int64  // as Report.ToolChanges
	Manual  int64  // as Report.ManualChanges
	Service int64  // T words beyond the tools of the machine
	Short   bool   // found without reading the rest; what else is in the file was not checked
}

// ToolChanges counts the tool changes of a print file of size bytes, and those by hand, looking
// only for T and M. That is enough where each T outside comments begins its line or belongs to a
// command in M; a file that writes it otherwise, in small letters or behind a line number, or
// changes by M6, is read whole by Scan instead, and so are packed files.
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
			return []Tools{{Changes: sum.changes, Manual: sum.manual, Service: sum.service,
				Short: true}}, err
		}
	}
	o.Time = false
	reports, err := Scan(ctx, r, size, o)
	var out []Tools
	for _, r := range reports {
		t := Tools{Name: r.Name, Changes: r.ToolChanges, Manual: r.ManualChanges}
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
	manual           int64

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

// toolWord is a word that chooses a tool and where its line begins in its block; n is below 0 for a
// change by hand.
type toolWord struct {
	n  int64
	at int
}

// hunter is the reader that looks for tool words and changes by hand only.
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

// prepare finds what it looks for in whole lines. Having met one it goes on at the next line, so a
// line is looked at once.
func (h *hunter) prepare(b []byte) {
	h.found, h.otherwise = h.found[:0], false
	for o := 0; o < len(b); {
		i := o + seek(b[o:])
		if i == len(b) {
			return
		}
		start := o + bytes.LastIndexByte(b[o:i], '\n') + 1
		end := i + indexByte(b[i:], '\n')
		if !h.line(b[start:end], i-start, start) {
			h.otherwise = true
			return
		}
		o = end + 1
	}
}

func indexByte(b []byte, c byte) int {
	if n := bytes.IndexByte(b, c); n >= 0 {
		return n
	}
	return len(b)
}

// seek finds T, and of M only those with a number that can be that of a change, for M begins many
// commands; large or small.
func seek(b []byte) int {
	for o := 0; ; o++ {
		o += seekLetters(b[o:])
		if o == len(b) || b[o]|0x20 == 't' || mayChange(b[o+1:]) {
			return o
		}
	}
}

// seekPlain is seekLetters a byte at a time.
func seekPlain(b []byte) int {
	for i, c := range b {
		if c |= 0x20; c == 't' || c == 'm' {
			return i
		}
	}
	return len(b)
}

// mayChange tells whether the number at the beginning of b can be 600 or 1020; spaces, a sign and
// zeros may stand in it.
func mayChange(b []byte) bool {
	if len(b) < 3 {
		return false
	}
	space := func(c byte) bool { return c == ' ' || c == '\t' }
	switch b[0] {
	case '6':
		return b[1] == '0' && (b[2] == '0' || space(b[2])) || space(b[1])
	case '1':
		return b[1] == '0' && (b[2] == '2' || space(b[2])) || space(b[1])
	}
	return space(b[0]) || b[0] == '+' || b[0] == '0'
}

// line looks at a line with what seek found first at i. False means that it must be read the long
// way.
func (h *hunter) line(b []byte, i, at int) bool {
	switch {
	case b[0] == ';' || b[0] == '/' || bareName(b) > 0 || bytes.IndexByte(b[:i], ';') >= 0:
		return true
	case b[0] == '(':
		end := closing(b, 0)
		return end == 0 || endsAt(b, end) // one that does not end is passed over
	case b[0] == 'T':
		n, good := choice(b, 'T', "TSLDP")
		if good {
			h.found = append(h.found, toolWord{n, at})
		}
		return good
	case b[0] == 'M':
		return h.machine(b, at)
	}
	return false
}

// machine looks at a line that begins with M.
func (h *hunter) machine(b []byte, at int) bool {
	b = b[:indexByte(b, ';')]
	end := skipDigits(b, 1)
	if end == 1 || end > 6 {
		return false
	}
	v, end := number(b, 1)
	c := code{'M', int32(v / (scale / 10))}
	switch kind := c.class(); {
	case end < 0 || digitAfter(b, end):
		return false
	case kind != countedCode || v%(scale/10) != 0:
		return true // what follows is its own
	case c.number == 60:
		return false
	case c.number == 6000:
		_, good := choice(b[end:], 0, "XYZELURTBFSPIJ")
		if good {
			h.found = append(h.found, toolWord{-1, at})
		}
		return good
	case c.chooses():
		letter := byte('T')
		if c.number == 10200 {
			letter = 'S'
		}
		n, good := choice(b[end:], letter, "TSPRI")
		if good && n >= 0 {
			h.found = append(h.found, toolWord{n, at})
		}
		return good
	}
	// T is a word of the command, unless another one stands behind it that chooses
	return bytes.IndexByte(b[end:], 'M') < 0 && bytes.IndexByte(b[end:], 'm') < 0 &&
		bytes.IndexByte(b, '(') < 0
}

// endsAt tells whether a line ends at i but for spaces and a comment.
func endsAt(b []byte, i int) bool {
	i = skipSpace(b, i)
	return i == len(b) || b[i] == ';' || b[i] == '\r' && i == len(b)-1
}

// digitAfter tells whether the next thing after spaces is a digit or point: a number with a space.
func digitAfter(b []byte, i int) bool {
	i = skipSpace(b, i)
	return i < len(b) && (b[i] == '.' || b[i] >= '0' && b[i] <= '9')
}

// choice reads plain words, each once and of the letters that may be, and gives the whole number
// behind one letter, -1 where it is not there. False where the line is written otherwise.
func choice(b []byte, letter byte, may string) (n int64, good bool) {
	n = -1
	met, mayBe := uint32(0), letters(may)
	for i := skipSpace(b, 0); !endsAt(b, i); i = skipSpace(b, i) {
		c := b[i]
		if c < 'A' || c > 'Z' || letterBit(c)&mayBe == 0 || letterBit(c)&met != 0 {
			return 0, false
		}
		met |= letterBit(c)
		end := skipDigits(b, i+1)
		switch {
		case end > i+8 || digitAfter(b, end) && (c == letter || end == i+1 || b[end] != '.'):
			return 0, false
		case c == letter && end == i+1:
			return 0, false
		case c == letter:
			n = 0
			for _, d := range b[i+1 : end] {
				n = n*10 + int64(d-'0')
			}
		case end < len(b) && b[end] == '.':
			end = skipDigits(b, end+1)
		case end == i+1:
			return 0, false
		}
		i = end
	}
	return n, true
}

func (h *hunter) commit(lines []byte) *Fault {
	if h.otherwise {
		return errOtherwise
	}
	from := 0
	for _, w := range h.found {
		if w.n < 0 {
			h.sum.manual++
			continue
		}
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
