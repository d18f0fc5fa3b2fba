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

func skipSpace(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\t') {
		i++
	}
	return i
}

const (
	zeros = 0x3030303030303030
	highs = 0x8080808080808080
)

// longer reads the numbers lexer.move leaves: without a point, or of nine to thirteen bytes. t has
// the first eight bytes of b as digits, the high bits of stop are set where there is none, and point
// is the bit at which the first of these begins. It gives millionths and how many bytes it took, 0
// where the number is written in a way only number reads.
func longer(b []byte, t, stop uint64, point int) (int64, int) {
	k := point >> 3
	if k > 6 || stop == 0 || len(b) < 16 {
		return 0, 0
	}
	whole := eight(t << (64 - point))
	if b[k] != '.' {
		return whole * scale, k
	}
	stop2 := notDigits(binary.LittleEndian.Uint64(b[8:]) ^ zeros)
	places := bits.TrailingZeros64(stop2)>>3 + 7 - k
	if places > 6 || places < 1 {
		return 0, 0
	}
	f := binary.LittleEndian.Uint64(b[k+1:]) ^ zeros
	return whole*scale + eight(f<<(64-8*places))*pow10[6-places], k + 1 + places
}

// notDigits sets the high bit of each byte of t that is not 0 to 9, up to and with the first byte
// that is 0x8a or more; beyond that one a bit may be wrong.
func notDigits(t uint64) uint64 {
	return ((t + 0x7676767676767676) | t) & highs
}

// eight is the value of eight digits, the first in the lowest byte: pairs, fours, then all, by two
// multiplications that each add two products.
func eight(t uint64) int64 {
	const mask = 0x000000FF000000FF
	t = t*10 + t>>8
	return int64(((t&mask)*0x000F424000000064 + (t>>16&mask)*0x0000271000000001) >> 32)
}
