package job

import "math/bits"

// The longest line a form can be of, and what must stand behind its beginning: reading a form loads
// beyond the line.
const (
	formLine  = 64
	formRoom  = formLine + 16
	formSlots = 512
	spread    = 0x9E3779B97F4A7C15 // 2^64 divided by the golden ratio: spreads keys over slots
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
	pick  [lanes][16]uint8 // which bytes behind the beginning of a number are its digits, for VPSHUFB
	scale [lanes]int64     // millionths of the last digit; below zero where a minus stands before it
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
type forms [formSlots]form

// slot is where a form with a key stands whose second byte, the digit after G, is c.
func (f *forms) slot(key uint64, c byte) *form {
	return &f[(key^uint64(c)<<57)*spread>>(64-9)]
}

// learn keeps the form of line, which move has just read, unless it is too long to be one.
func (f *forms) learn(line []byte, r *rec) {
	var n form
	if len(line) > formLine || !n.words(line) {
		return
	}
	copy(n.want[:], line)
	n.op, n.has = r.op, laned(r.mask)
	n.count = countOf(n.has)
	n.said = uint64(r.op)<<32 | uint64(r.mask)<<40
	for i, c := range line {
		if !isDigit(c) {
			n.key |= 1 << i
		}
	}
	*f.slot(n.key, line[1]) = n
}

// words takes over where the words of a line are and how they are written, false where one cannot be
// read from eight digits.
func (f *form) words(line []byte) bool {
	for lane := range f.pick {
		for i := range f.pick[lane] {
			f.pick[lane][i] = 0x80 // picks nothing
		}
	}
	for i := 3; line[i] > ' '; {
		lane := bits.TrailingZeros8(laned(1 << wordAt[line[i]]))
		i++
		scale := int64(1)
		if line[i] == '-' {
			scale = -1
			i++
		}
		end := i
		for isDigit(line[end]) || line[end] == '.' {
			end++
		}
		if !f.word(lane, i, line[i:end]) {
			return false
		}
		f.scale[lane] *= scale
		if i = end; line[i] == ' ' {
			i++
		}
	}
	return true
}

// word takes over one number, which begins at at.
func (f *form) word(lane, at int, number []byte) bool {
	var digits []uint8
	point := len(number)
	for i, c := range number {
		if c == '.' {
			point = i
		} else {
			digits = append(digits, uint8(i))
		}
	}
	places := len(digits) - point
	if len(digits) > 8 || places > 6 {
		return false
	}
	f.at[lane], f.given[lane] = uint8(at), -1
	f.scale[lane] = pow10[6-max(places, 0)]
	copy(f.pick[lane][8*(lane&1)+8-len(digits):], digits) // two numbers share sixteen bytes
	return true
}

// laned turns the bits of rec.mask into bits by lane. Z has none.
func laned(mask uint8) uint8 { return mask&(hasX|hasY) | mask>>1&(1<<laneE|1<<laneF) }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
