package theme

import (
	"math"
	"testing"
)

type vec [3]float64

func (m matrix) times(v vec) (out vec) {
	for i, row := range m {
		out[i] = row[0]*v[0] + row[1]*v[1] + row[2]*v[2]
	}
	return out
}

type matrix [3]vec

// Colour-blind sight by Viénot, Brettel and Mollon 1999 (Color Research and Application 24,
// 243-252): linear RGB to cone responses, the missing cone from the other two, and back. The
// inverse was computed from the first.
var (
	toCones = matrix{{17.8824, 43.5161, 4.11935}, {3.45565, 27.1554, 3.86714},
		{0.0299566, 0.184309, 1.46709}}
	fromCones = matrix{{0.0809444479, -0.130504409, 0.116721066},
		{-0.0102485335, 0.0540193266, -0.113614708}, {-0.000365296938, -0.00412161469, 0.693511405}}
	sight = map[string]matrix{
		"full":           {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"without long":   {{0, 2.02344, -2.52581}, {0, 1, 0}, {0, 0, 1}},
		"without middle": {{1, 0, 0}, {0.494207, 0, 1.24827}, {0, 0, 1}},
	}
)

// lab is CIE 1976 L*a*b* of linear sRGB at D65 (IEC 61966-2-1, ISO/CIE 11664-4).
func lab(v vec) vec {
	for i := range v {
		v[i] = min(1, max(0, v[i]))
	}
	xyz := matrix{{0.4124564, 0.3575761, 0.1804375}, {0.2126729, 0.7151522, 0.0721750},
		{0.0193339, 0.1191920, 0.9503041}}.times(v)
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x, y, z := f(xyz[0]/0.95047), f(xyz[1]), f(xyz[2]/1.08883)
	return vec{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// apart is the colour difference of two tones (CIE 1976) as an eye of a kind sees them.
func apart(a, b int, eye matrix) float64 {
	seen := func(rgb int) vec {
		v := vec{linear(rgb >> 16), linear(rgb >> 8 & 0xff), linear(rgb & 0xff)}
		return lab(fromCones.times(eye.times(toCones.times(v))))
	}
	p, q := seen(a), seen(b)
	return math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2])
}

func TestColourDifferenceOracle(t *testing.T) {
	// published: white and black are 100 apart in lightness; sRGB red is L*a*b* 53.24, 80.09, 67.20
	if got := apart(0, 0xffffff, sight["full"]); math.Abs(got-100) > 0.01 {
		t.Errorf("black and white are %.3f apart", got)
	}
	red := lab(vec{1, 0, 0})
	for i, want := range (vec{53.24, 80.09, 67.20}) {
		if math.Abs(red[i]-want) > 0.01 {
			t.Errorf("red is %.2f", red)
		}
	}
}

// Due is told from past by every eye, also where the word is not in view: 20 is far over what a
// glance needs (about 2.3 is just noticeable, Mahy 1994).
func TestDueIsToldFromPast(t *testing.T) {
	for set, c := range map[string]colours{"dark": darkColours, "light": lightColours,
		"any": anyColours} {
		due, due256 := tones(t, c.due.GetForeground())
		past, past256 := tones(t, c.past.GetForeground())
		for eye, m := range sight {
			if d := apart(due, past, m); d < 20 {
				t.Errorf("%s, %s: %.1f apart", set, eye, d)
			}
			if d := apart(indexed(due256), indexed(past256), m); d < 20 {
				t.Errorf("%s in the palette, %s: %.1f apart", set, eye, d)
			}
		}
	}
}
