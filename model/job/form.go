package job

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"math/bits"
)

// The longest line a form can be of, and what must stand behind its beginning: reading a form loads
// beyond the line.
const (
	formLine = 64
	formRoom = formLine + 16
	formMask = 1<<11 - 1 // 2048 slots: some hundred forms seldom share one
	// are learned of one block at most: where none comes again it would be for nothing
	newForms = 256
)

// Lanes are the words of level movement, in the order in which four of them are read at once.
const (
	laneX = iota
	laneY
	laneE
	laneF
	lanes
)

// form is how a line of level movement is written: where its digits stand and what stands between
// them. Print files write the same few forms again and again, so a line whose form is known is read
// without one decision on its way. Where the digits stand is a number of 64 bits, the key, so the
// form of a line is found by it, among all the forms met before. The asm of form_amd64.s reads the
// fields by their names.
type form struct {
	want  [formLine]byte   // the line it was learned from, with its line end
	pick  [lanes][16]uint8 // which bytes behind the beginning of a number are its digits; see word
	minus [lanes]int64     // all bits where a minus stands before the number
	given [lanes]int64     // all bits where the line has the word
	key   uint64           // bit n: the line has no digit at n, or ends there
	count uint64           // what the line adds to level.count
	said  uint64           // what its record has from rec.line on, but for the line
	at    [lanes]uint8     // where the first digits stand
	has   uint8            // the words, by lane
	op    op
	_     [30]byte // makes it 256 bytes
}

// forms are those a lexer has met. A new one takes the place of another that has its slot.
type forms [formMask + 1]form

// slot is where the form with a key stands that begins with text, by the CRC-32C of both. The
// processor has that as one instruction, without the inversions before and after.
func (f *forms) slot(key uint64, text string) *form {
	crc := crc32.Update(^binary.LittleEndian.Uint32([]byte(text[:4])),
		crc32.MakeTable(crc32.Castagnoli), binary.LittleEndian.AppendUint64(nil, key))
	return &f[^crc>>8&formMask]
}

// learn keeps the form of line, which move has just read, unless it is too long to be one.
func (l *lexer) learn(line []byte, r *rec) {
	if len(line) > formLine || l.learned == newForms {
		return
	}
	l.learned++
	if l.forms == nil {
		l.forms = new(forms)
	}
	var n form
	n.words(line)
	copy(n.want[:], line)
	n.op, n.has = r.op, laned(r.mask)
	n.count = countOf(n.has)
	n.said = uint64(r.op)<<32 | uint64(r.mask)<<40
	for i, c := range line {
		if !isDigit(c) {
			n.key |= 1 << i
		}
	}
	*l.forms.slot(n.key, string(line[:4])) = n
}

// words takes over where the words of a line are and how they are written.
func (f *form) words(line []byte) {
	f.pick = [lanes][16]uint8{noByte, noByte, noByte, noByte}
	for i := 3; line[i] > ' '; {
		lane := bits.TrailingZeros8(laned(1 << wordAt[line[i]]))
		i++
		if line[i] == '-' {
			f.minus[lane] = -1
			i++
		}
		end := i
		for isDigit(line[end]) || line[end] == '.' {
			end++
		}
		f.word(lane, i, line[i:end])
		if i = end; line[i] == ' ' {
			i++
		}
	}
}

// word takes over one number, which begins at at. Its whole part is picked as eight digits and its
// fraction as eight more, 00 before it and zeros behind, which makes that millionths.
func (f *form) word(lane, at int, number []byte) {
	f.at[lane], f.given[lane] = uint8(at), -1
	point := bytes.IndexByte(number, '.')
	if point < 0 {
		point = len(number)
	}
	for i := range point {
		f.pick[lane][8-point+i] = uint8(i)
	}
	for i := point + 1; i < len(number); i++ {
		f.pick[lane][10+i-point-1] = uint8(i)
	}
}

// noByte picks no byte: VPSHUFB makes them 0.
var noByte = [16]uint8{0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80,
	0x80, 0x80, 0x80}

// laned turns the bits of rec.mask into bits by lane. Z has none.
func laned(mask uint8) uint8 { return mask&(hasX|hasY) | mask>>1&(1<<laneE|1<<laneF) }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
