package job

import (
	"math"
	"testing"
)

// Curves whose construction is published, as files: how many lines each order has and how long they
// are is worked out by hand from the construction, and not from the file. Hilbert (1891): four
// copies and three lines between them, so 4^n - 1 lines, one more of them along one axis than along
// the other. Peano (1890): 9^n - 1 lines. Koch (1904): 3·4^n lines. The dragon of Heighway (Davis
// and Knuth, 1970): 2^n lines, right angles all. The arrowhead of Sierpiński: 3^n lines at 60
// degrees. Archimedes, Measurement of a Circle: the polygon of 96 sides in a circle of radius r is
// 96 · 2r · sin(180°/96) round, which lies between 3 10/71 and 3 1/7 of the diameter. Sources from
// memory, figures worked out again. Each line pushes 0.05 mm.
func TestPublishedCurves(t *testing.T) {
	for name, c := range map[string]struct {
		lines int64
		long  float64 // mm, of all lines together
		x, y  float64 // mm of travel, with the way to where it begins; 0: not worked out
	}{
		"hilbert": {lines: 255, long: 255 * 5, x: 10 + 127*5, y: 10 + 128*5},
		"peano":   {lines: 80, long: 80 * 4},
		// of a triangle with sides of 54 mm
		"koch":       {lines: 192, long: 3 * 54 * math.Pow(4./3, 3)},
		"dragon":     {lines: 256, long: 256 * 3, x: 60 + 128*3, y: 60 + 128*3},
		"arrowhead":  {lines: 243, long: 243 * 2},
		"polygon-96": {lines: 96, long: 96 * 2 * 30 * math.Sin(math.Pi/96)},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := readCase(t, name, Options{Time: true})
			if err != nil || r.Moves != c.lines+1 || r.Layers != 1 {
				t.Fatalf("%d moves, %d layers, %v", r.Moves, r.Layers, err)
			}
			near(t, "length", r.Laid.MM(), c.long, 2e-4)
			near(t, "filament", r.Filament[0].Used().MM(), 0.05*float64(c.lines), 1e-9)
			if c.x > 0 {
				got := []float64{r.Travel[0].MM(), r.Travel[1].MM()}
				if !(close(got, mms(c.x, c.y)) || close(got, mms(c.y, c.x))) {
					t.Errorf("travel is %v, want %v and %v either way", got, c.x, c.y)
				}
			}
			if name == "polygon-96" {
				if ratio := r.Laid.MM() / 60; ratio <= 3+10./71 || ratio >= 3+1./7 {
					t.Errorf("the ratio of Archimedes is %v", ratio)
				}
			}
		})
	}
}
