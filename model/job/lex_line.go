package job

import (
	"bytes"
	"fmt"
)

// Reasons that more than one place gives.
const notText = "is not text: this is no G-code, or it is damaged"

// hardSpace is the no-break space in UTF-8: it comes into files by copying from a page.
const hardSpace = "\u00a0"

// line reads one line, without its line end, the long way. at is where it begins in its block.
func (l *lexer) line(b []byte, at int) {
	full := bytes.TrimSuffix(b, []byte{'\r'})
	i := skipSpace(full, 0)
	if i == len(full) {
		return
	}
	switch full[i] {
	case '/':
		l.deleted++
		return
	case '%':
		return
	}
	numbered := false
	if full[i]|0x20 == 'n' {
		if j := skipDigits(full, skipSpace(full, i+1)); j > skipSpace(full, i+1) {
			numbered, i = true, skipSpace(full, j)
		}
	}
	if name := bareName(full[i:]); name > 0 {
		l.unknown(full[i:i+name], at)
		l.rest(full, i+name, numbered, at)
		return
	}
	l.w.has, l.w.bare, l.w.n = 0, 0, 0
	if !l.readWords(full, i, numbered, at) {
		return
	}
	if l.w.has|l.w.bare != 0 || l.w.n > 0 {
		l.emit(at)
	}
}

// readWords reads the words of a line from i into l.w. It tells whether the line can be carried
// out.
func (l *lexer) readWords(b []byte, i int, numbered bool, at int) bool {
	for i = skipSpace(b, i); i < len(b); i = skipSpace(b, i) {
		c := b[i]
		switch {
		case c == ';':
			return true
		case c == '(':
			if i = closing(b, i); i == 0 {
				return l.fault(at,
					"the comment in parentheses does not end on its line, or has another inside")
			}
			continue
		case c == '*':
			return l.checksum(b, i, at)
		case c == hardSpace[0] && bytes.HasPrefix(b[i:], []byte(hardSpace)):
			l.bad(at, read, "it has a no-break space in it, read as a space")
			i += len(hardSpace)
			continue
		case c|0x20 < 'a' || c|0x20 > 'z':
			return l.noWord(c, at)
		}
		v, end := quickly(b, i+1)
		if end == 0 {
			v, end = number(b, i+1)
		}
		if end == notNumber && notFinite(b[i+1:]) {
			return l.fault(at, fmt.Sprintf("what stands after %c is no number", c))
		}
		if end == tooLarge {
			return l.fault(at, fmt.Sprintf("the number after %c is larger than any machine takes",
				c))
		}
		if end > 0 && tenPower(b, i) {
			return l.fault(at, "a number with a power of ten is none of G-code's: write it out")
		}
		if u := c &^ 0x20; u == 'G' || u == 'M' {
			more, good := l.code(u, v, end, at)
			if !good {
				return false
			}
			if !more {
				return l.rest(b, end, numbered, at)
			}
			i = end
			continue
		}
		if l.w.has&letterBit(c&^0x20) != 0 || l.w.bare&letterBit(c&^0x20) != 0 {
			return l.fault(at, fmt.Sprintf("the word %c stands twice on the line", c))
		}
		if end == notNumber {
			l.w.bare |= letterBit(c &^ 0x20)
			i++
			continue
		}
		l.w.has |= letterBit(c &^ 0x20)
		l.w.v[c&^0x20-'A'] = v
		i = end
	}
	return true
}

// code takes a G or M word. more is whether what follows on the line are words to read.
func (l *lexer) code(letter byte, v int64, end, at int) (more, good bool) {
	if end == notNumber {
		return false, l.fault(at, fmt.Sprintf("%c has no number after it", letter))
	}
	c := code{letter, int32(v / (scale / 10))}
	kind := c.class()
	if v%(scale/10) != 0 || v < 0 {
		kind = unknownCode
	}
	switch kind {
	case unknownCode:
		l.unknown(fmt.Appendf(nil, "%c%s", letter, decimal(v)), at)
		return false, true
	case quietCode:
		l.known++
		return false, true
	}
	if l.w.n == len(l.w.codes) {
		return false, l.fault(at, "more than eight G and M words on one line")
	}
	l.w.codes[l.w.n] = c
	l.w.n++
	return kind != pauseCode, true
}

// emit makes a record of the words read: a short one where the line is a plain movement.
func (l *lexer) emit(at int) {
	const plainly = 1<<('X'-'A') | 1<<('Y'-'A') | 1<<('Z'-'A') | 1<<('E'-'A') | 1<<('F'-'A')
	w := &l.w
	if w.n > 0 || w.has&(plainly|letterBit('T')) != 0 {
		l.known++
	}
	if w.n == 1 && w.codes[0].letter == 'G' && w.codes[0].number <= 10 && w.bare == 0 &&
		w.has&^plainly == 0 {
		r := rec{op: op(w.codes[0].number / 10), line: uint32(at)}
		for slot, c := range []byte("XYZEF") {
			if w.given(c) {
				r.v[slot] = w.get(c)
				r.mask |= 1 << slot
			}
		}
		if r.small() {
			l.alone(&r)
			return
		}
	}
	l.recs = append(l.recs, rec{op: opWords, line: uint32(at), v: [5]int64{int64(len(l.words))}})
	l.words = append(l.words, *w)
	l.believe(w)
}

// small tells whether no word is beyond what a movement may say.
func (r *rec) small() bool {
	for slot, v := range r.v {
		if r.mask>>slot&1 != 0 && !small(v) {
			return false
		}
	}
	return true
}

func small(v int64) bool { return v <= maxCoordinate*scale && v >= -maxCoordinate*scale }
