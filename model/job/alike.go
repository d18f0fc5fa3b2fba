package job

import "encoding/binary"

// The longest line that is tried whole, in words of eight bytes, and how many of its words may be
// numbers. Loads go beyond the line, up to alikeRoom.
const (
	alikeLanes = 5
	alikeWords = 4 // a power of two
	alikeRoom  = 64
)

// pattern is the line of movement read last, without its digits. Print files repeat themselves: the
// next line most often has its letters, signs and points in the same places, and is then read
// without one decision on the way.
type pattern struct {
	want, mask [alikeLanes]uint64 // the bytes that are no digits
	words      [alikeWords]placed
	n          int // words
	len        int // of the line with its line end
	op         op
	letters    uint8 // as rec.mask
}

// placed is a number at a place of the line.
type placed struct {
	shape
	at   uint8
	slot uint8
}

// alike reads the lines from start on that are like the last one, and gives where the first begins
// that is not, still within b.
func (l *lexer) alike(b []byte, start int) int {
	p := &l.like
	for p.n > 0 && len(b)-start >= alikeRoom {
		text := (*[alikeRoom]byte)(b[start:])
		other := (binary.LittleEndian.Uint64(text[0:])^p.want[0])&p.mask[0] | // written out: this is for speed
			(binary.LittleEndian.Uint64(text[8:])^p.want[1])&p.mask[1] |
			(binary.LittleEndian.Uint64(text[16:])^p.want[2])&p.mask[2] |
			(binary.LittleEndian.Uint64(text[24:])^p.want[3])&p.mask[3] |
			(binary.LittleEndian.Uint64(text[32:])^p.want[4])&p.mask[4]
		if other != 0 {
			break
		}
		for k := range p.n & (alikeWords - 1) {
			w := &p.words[k]
			at := int(w.at & 31) // three words of eleven bytes: the last number begins at 29 at most
			digits := (binary.LittleEndian.Uint64(text[at:])&w.below | binary.LittleEndian.Uint64(text[at+1:])&^w.below) ^ zeros
			other |= (digits + fromTen | digits) & w.ask // notDigits, of the digits there are
			l.now.v[w.slot&3] = eight(digits<<(w.shift&63)) * w.scale
		}
		if other != 0 {
			break
		}
		l.now.op, l.now.mask, l.now.line = p.op, p.letters, uint32(start)
		start += p.len
		l.took(&l.now, start)
	}
	return start
}

// learn keeps the pattern of the line from start to end, just read into l.now, of which places holds
// where its n numbers begin.
func (l *lexer) learn(b []byte, start, end int, places *[alikeWords]placed, n int) {
	p := &l.like
	p.n = 0
	if end-start > 8*alikeLanes || len(b)-start < alikeRoom || n == 0 || n >= alikeWords {
		return
	}
	text := (*[alikeRoom]byte)(b[start:])
	for k := range p.want {
		t := binary.LittleEndian.Uint64(text[8*k:])
		mask := notDigits(t^zeros) >> 7 * 0xff // all bytes of the line are ASCII, so notDigits is right
		if k == 0 {
			mask |= 0xffffff // G1 and the space
		}
		if left := end - start - 8*k; left < 8 {
			mask &= 1<<(8*max(left, 0)) - 1
		}
		p.want[k], p.mask[k] = t&mask, mask
	}
	for k := range n {
		w := &p.words[k]
		*w = places[k]
		w.shape = l.shapes[w.slot]
		if text[w.at-1] == '-' {
			w.scale = -w.scale
		}
	}
	p.n, p.len, p.op, p.letters = n, end-start, l.now.op, l.now.mask
}
