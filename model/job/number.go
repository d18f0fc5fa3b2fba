package job

import (
	"encoding/binary"
	"math/bits"
)

// The largest whole part of a number: of any number, and of a coordinate, a feed or a temperature.
const (
	maxNumber     = 1_000_000_000
	maxCoordinate = 1_000_000
)

var pow10 = [...]int64{1, 10, 100, 1000, 10_000, 100_000, 1_000_000}

// What number says when it found none.
const (
	notNumber = -1
	tooLarge  = -2
)

// number reads a real number of NISTIR 6556 (3.3.2.1) in b from i: a sign, digits, a point, digits,
// with spaces and tabs anywhere. It gives millionths, rounded half away from zero, and where it
// ended; or notNumber or tooLarge.
func number(b []byte, i int) (int64, int) {
	neg, digits, end := false, 0, i
	i = skipSpace(b, i)
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		neg = b[i] == '-'
		i = skipSpace(b, i+1)
	}
	var whole, part int64
	places, point := 0, false
	for ; i < len(b); i = skipSpace(b, i+1) {
		c := b[i]
		if c == '.' && !point {
			point, end = true, i+1
			continue
		}
		if c < '0' || c > '9' {
			break
		}
		digits, end = digits+1, i+1
		d := int64(c - '0')
		switch {
		case !point:
			if whole = whole*10 + d; whole > maxNumber {
				return 0, tooLarge
			}
		case places < 6:
			part, places = part*10+d, places+1
		case places == 6:
			part, places = part+(d+5)/10, 7
		}
	}
	if digits == 0 {
		return 0, notNumber
	}
	v := whole*scale + part*pow10[6-min(places, 6)]
	if neg {
		v = -v
	}
	return v, end
}

// quickly is number for one that is written as most are: a minus at most, up to six digits on
// either side of a point, and no digit behind a space. It gives 0 where number has to read it.
func quickly(b []byte, i int) (int64, int) {
	neg := i < len(b) && b[i] == '-'
	if neg {
		i++
	}
	if len(b)-i < 16 {
		return 0, 0
	}
	var h shape
	v, n := h.other((*[16]byte)(b[i:]))
	if n == 0 || goesOn[b[i+n]] || b[i+n] <= ' ' && digitAfter(b, i+n) {
		return 0, 0
	}
	if neg {
		v = -v
	}
	return v, i + n
}

func skipSpace(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	return i
}

const (
	zeros = 0x3030303030303030
	highs = 0x8080808080808080

	fromTen = 0x7676767676767676 // makes the high bit of all bytes from 10 on
)

// shape is how the numbers after one letter are written, by the last one read: in a print file the
// next is most often written alike, and is then read without finding out where it ends. That lets
// the processor begin with the words after it, which is what makes reading fast.
type shape struct {
	below uint64 // the bytes before the point
	ask   uint64 // the high bits of the digits
	scale int64  // millionths of the last digit
	point uint8  // where the point is
	end   uint8  // the length of the number, without its sign
	shift uint8  // what brings the digits to the high end of eight bytes
}

// fixed reads a number of this shape; false where it has another.
func (h *shape) fixed(b *[16]byte) (int64, bool) {
	digits := (binary.LittleEndian.Uint64(b[:])&h.below | binary.LittleEndian.Uint64(
		b[1:])&^h.below) ^ zeros
	if b[h.point&15] != '.' || notDigits(digits)&h.ask != 0 || goesOn[b[h.end&15]] {
		return 0, false
	}
	return eight(digits<<(h.shift&63)) * h.scale, true
}

// other reads a number of a shape not foreseen, with up to six digits on either side of its point,
// and foresees that shape. It gives millionths and the length, 0 where only number can read it.
func (h *shape) other(b *[16]byte) (int64, int) {
	t := binary.LittleEndian.Uint64(b[:]) ^ zeros
	stop := notDigits(t)
	k := bits.TrailingZeros64(stop) >> 3
	if k > 6 {
		return 0, 0
	}
	whole := eight(t << (64 - 8*k))
	if b[k] != '.' {
		return whole * scale, k
	}
	f := binary.LittleEndian.Uint64(b[k+1:]) ^ zeros
	places := bits.TrailingZeros64(notDigits(f)) >> 3
	if places > 6 || k+places == 0 {
		return 0, 0
	}
	if k+places <= 8 {
		*h = shape{below: 1<<(8*k) - 1, ask: highs >> (64 - 8*(k+places)), scale: pow10[6-places],
			point: uint8(k), end: uint8(k + places + 1), shift: uint8(64 - 8*(k+places))}
	}
	return whole*scale + eight(f<<(64-8*places))*pow10[6-places], k + 1 + places
}

// goesOn tells bytes that may belong to a number.
var goesOn = [256]bool{'0': true, '1': true, '2': true, '3': true, '4': true, '5': true, '6': true,
	'7': true, '8': true, '9': true, '.': true}

// notDigits sets the high bit of each byte of t that is not 0 to 9, up to and with the first byte
// that is 0x8a or more; beyond that one a bit may be wrong.
func notDigits(t uint64) uint64 {
	return ((t + fromTen) | t) & highs
}

// eight is the value of eight digits, the first in the lowest byte: pairs, fours, then all, by two
// multiplications that each add two products.
func eight(t uint64) int64 {
	const mask = 0x000000FF000000FF
	t = t*10 + t>>8
	return int64(((t&mask)*0x000F424000000064 + (t>>16&mask)*0x0000271000000001) >> 32)
}
