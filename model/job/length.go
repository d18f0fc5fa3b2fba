package job

import (
	"math"
	"math/bits"
)

// Length is a length in nanometres. Six digits after the point of a millimetre are exact; further
// digits are rounded, half away from zero.
type Length int64

// scale is how many steps a unit of a written number has: numbers are kept as millionths.
const scale = 1_000_000

// MM is the length in millimetres.
func (l Length) MM() float64 { return float64(l) / 1e6 }

// Metres is the length in metres.
func (l Length) Metres() float64 { return float64(l) / 1e9 }

// Km is the length in kilometres.
func (l Length) Km() float64 { return float64(l) / 1e12 }

// fromInch turns millionths of an inch into nanometres: 1 in = 25.4 mm by definition.
func fromInch(v int64) int64 {
	p := v * 254
	if p < 0 {
		return (p - 5) / 10
	}
	return (p + 5) / 10
}

// addTo adds b to a, and tells whether the sum still fits.
func addTo(a *int64, b int64) bool {
	sum := *a + b
	if (b > 0 && sum < *a) || (b < 0 && sum > *a) {
		return false
	}
	*a = sum
	return true
}

// percent takes share, in millionths of a percent, of v >= 0, rounded half up.
func percent(v, share int64) (int64, bool) {
	const whole = 100 * scale
	if share == whole {
		return v, true
	}
	hi, lo := bits.Mul64(uint64(v), uint64(share))
	lo, carry := bits.Add64(lo, whole/2, 0)
	hi += carry
	if hi >= whole {
		return 0, false
	}
	q, _ := bits.Div64(hi, lo, whole)
	return int64(q), q <= math.MaxInt64
}
