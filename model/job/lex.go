package job

import (
	"bytes"
	"slices"
)

// lexer turns whole lines into records. From one block to the next it keeps only how to be fast.
type lexer struct {
	lexed
	w      words
	now    rec      // the movement being read
	shapes [5]shape // of the numbers after X Y Z E F
	forms  *forms   // of lines; nil: none are known yet
	learns bool     // forms

	learned int // forms of this block

	modes              // as they are believed to be
	at    [lanes]int64 // the same
	knows uint8        // which of these are known, by lane
	last  int          // the length of recs with the open stretch at its end; -1: none is open

	oneByOne bool // no stretches

	careful bool // tests: every line the long way
}

// scan reads b, which is whole lines, each with its line end. It stops at what is no text.
func (l *lexer) scan(b []byte) {
	l.reset()
	l.forget()
	l.last, l.learned = -1, 0
	for i := 0; i < len(b); {
		if b[i] == 'G' && !l.careful {
			i = l.formed(b, i)
			if end := l.move(b, i); end > 0 {
				i = end
				continue
			}
		}
		end := len(b)
		if n := bytes.IndexByte(b[i:], '\n'); n >= 0 {
			end = i + n
		}
		if b[i] != ';' {
			if l.line(b[i:end], i); l.ended {
				return
			}
		}
		l.lines++
		i = end + 1
	}
}

// formed reads the lines from start on that have a known form, and gives where the first begins
// that it left, still within b.
func (l *lexer) formed(b []byte, start int) int {
	switch {
	case l.forms == nil:
		return start
	case !l.oneByOne:
		return l.sum(b, start)
	}
	for {
		room := len(l.recs)
		l.recs = slices.Grow(l.recs, formRecs)
		n, recs := readForms(b[start:], l.forms, l.recs[room:room+formRecs], uint32(start))
		l.recs = l.recs[:room+recs]
		l.lines += int64(recs)
		l.known += int64(recs)
		if start += n; recs < formRecs {
			return start
		}
	}
}

// formRecs is for how many records room is made at once.
const formRecs = 256

// wordAt is the place in rec.v of a letter, 7 for bytes that begin no word of a plain movement.
var wordAt = func() (t [256]uint8) {
	for i := range t {
		t[i] = 7
	}
	for i, c := range "XYZEF" {
		t[c] = uint8(i)
	}
	return t
}()

// move reads a line of movement as almost all files write it: G0 or G1, one space at most before
// each word, X Y Z E F once each, then the line end or a comment. It gives where the next line
// begins, or 0 to have the line read the long way, having changed nothing. Lines of a known form
// seldom come here.
func (l *lexer) move(b []byte, start int) int {
	if len(b)-start < 32 || b[start] != 'G' || b[start+2] != ' ' || b[start+1]&^1 != '0' {
		return 0
	}
	r := &l.now
	mask := uint8(0)
	for i := start + 3; i < len(b)-20; {
		slot := wordAt[b[i]]
		if slot > atF {
			end := lineEnd(b, i)
			if end == 0 {
				return 0
			}
			r.op, r.mask, r.line = op(b[start+1]&1), mask, uint32(start)
			l.took(r, end)
			if l.learns && mask&hasZ == 0 && b[i] != ';' {
				l.learn(b[start:end], r)
			}
			return end
		}
		if mask>>slot&1 != 0 {
			return 0
		}
		mask |= 1 << slot
		i++
		minus := b[i] == '-'
		if minus {
			i++
		}
		text, h := (*[16]byte)(b[i:]), &l.shapes[slot]
		v, good := h.fixed(text)
		if good {
			i += int(h.end)
		} else {
			size := 0
			if v, size = h.other(text); size == 0 {
				return 0
			}
			i += size
		}
		if minus {
			v = -v
		}
		r.v[slot] = v
		if b[i] == ' ' {
			i++
		}
	}
	return 0
}

// lineEnd gives where the next line begins if only a comment may stand between i and it, else 0.
func lineEnd(b []byte, i int) int {
	switch b[i] {
	case '\n':
		return i + 1
	case '\r':
		if i+1 < len(b) && b[i+1] == '\n' {
			return i + 2
		}
	case ';':
		if n := bytes.IndexByte(b[i:], '\n'); n >= 0 {
			return i + n + 1
		}
	}
	return 0
}
