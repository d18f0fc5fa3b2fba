package job

import (
	"bytes"
	"encoding/binary"
	"math/bits"
)

// lexer turns whole lines into records. It keeps nothing from one block to the next.
type lexer struct {
	lexed
	w words

	careful bool // tests: every line the long way
}

// scan reads b, which is whole lines, each with its line end. It stops at the first fault.
func (l *lexer) scan(b []byte) {
	l.reset()
	for i := 0; i < len(b); {
		if b[i] == 'G' && !l.careful {
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
			if !l.line(b[i:end], i) {
				return
			}
		}
		l.lines++
		i = end + 1
	}
}

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
// begins, or 0 to have the line read the long way, having changed nothing. This is where reading
// spends its time; numbers of up to eight bytes with a point in them are read here, others by longer.
func (l *lexer) move(b []byte, start int) int {
	if len(b)-start < 32 || b[start+2] != ' ' || b[start+1]&^1 != '0' {
		return 0
	}
	if len(l.recs) == cap(l.recs) {
		l.recs = append(l.recs, rec{})[:len(l.recs)]
	}
	r := &l.recs[:len(l.recs)+1][len(l.recs)]
	mask := uint8(0)
	for i := start + 3; i < len(b)-16; {
		slot := wordAt[b[i]]
		if slot > atF {
			end := lineEnd(b, i)
			if end == 0 {
				return 0
			}
			r.op, r.mask, r.line = op(b[start+1]&1), mask, uint32(start)
			l.recs = l.recs[:len(l.recs)+1]
			l.lines++
			l.known++
			return end
		}
		if mask>>slot&1 != 0 {
			return 0
		}
		mask |= 1 << slot
		i++
		w := binary.LittleEndian.Uint64(b[i:])
		sign := int64(1)
		if byte(w) == '-' {
			sign = -1
			i++
			w = binary.LittleEndian.Uint64(b[i:])
		}
		t := w ^ zeros
		stop := notDigits(t)
		rest := stop & (stop - 1)
		point := bits.TrailingZeros64(stop|1<<63) &^ 7
		end := bits.TrailingZeros64(rest) &^ 7 // 64 where eight bytes belong to the number
		if byte(w>>(point&63)) != '.' || rest == 0 && (point == 0 || stop == 0 || goesOn[b[i+8]]) {
			v, n := longer(b[i:], t, stop, point)
			if n == 0 {
				return 0
			}
			r.v[slot] = v * sign
			i += n
		} else {
			below := uint64(1)<<(point&63) - 1
			r.v[slot] = eight((t&below|t>>8&^below)<<((72-end)&63)) * afterPoint[(end-point)>>3&7] * sign
			if end == 8 {
				return 0 // a point and no digit
			}
			i += end >> 3
		}
		if b[i] == ' ' {
			i++
		}
	}
	return 0
}

// goesOn tells bytes that may belong to a number.
var goesOn = [256]bool{'0': true, '1': true, '2': true, '3': true, '4': true, '5': true, '6': true, '7': true, '8': true, '9': true, '.': true}

// afterPoint makes millionths of a number with n-1 digits after its point.
var afterPoint = [8]int64{0, 1_000_000, 100_000, 10_000, 1000, 100, 10, 1}

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
