package job

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// refMove is a movement as the second reader keeps it: where it goes along the plate, from which
// height to which, and whether filament goes forth (1), back (-1) or stays.
type refMove struct {
	way      complex128
	from, to string
	e        int
}

func (m *refMove) lays() bool { return m.e > 0 && m.way != 0 }
func (m *refMove) flat() bool { return m.from == m.to }

// refLayers counts the layers of all movements at once: the coils first, then the heights.
func refLayers(ms []refMove, less func(a, b string) bool) int64 {
	coil := make([]int, len(ms)) // which coil a movement is in, from 1
	turns := []int{0}
	for i := 0; i < len(ms); i++ {
		if !ms[i].lays() || ms[i].flat() {
			continue
		}
		end := i
		for end < len(ms) && ms[end].e > 0 {
			end++
		}
		turns = append(turns, refTurns(ms[i:end], less))
		for k := i; k < end; k++ {
			coil[k] = len(turns) - 1
		}
		i = end - 1
	}
	w := &refTower{less: less, at: map[string]int{}}
	for i := range ms {
		if i > 0 && coil[i-1] != 0 && coil[i] != coil[i-1] {
			w.loop(ms, coil, turns, i)
		}
		w.move(&ms[i], coil[i], turns[coil[i]], i > 0 && coil[i] != 0 && coil[i-1] != coil[i] ||
			i == 0)
	}
	if n := len(ms); n > 0 && coil[n-1] != 0 {
		w.loop(ms, coil, turns, n)
	}
	w.leaves(len(ms))
	return w.n
}

// refTurns is how often a coil goes round while it rises.
func refTurns(ms []refMove, less func(a, b string) bool) int {
	var last complex128
	turned, n, top := 0.0, 0, ms[0].to
	for _, m := range ms {
		if m.way == 0 {
			continue
		}
		if last != 0 {
			a := cmplx.Phase(m.way / last)
			if math.Abs(math.Abs(a)-math.Pi) < 1e-9 {
				a = math.Pi
			}
			turned += a
		}
		last = m.way
		switch {
		case math.Abs(turned) < 2*math.Pi*(float64(n)+0.5):
		case less(top, m.to):
			n, top = n+1, m.to
		default:
			turned -= math.Copysign(2*math.Pi, turned)
		}
	}
	return n
}

// refTower is what is laid one above the other.
type refTower struct {
	less      func(a, b string) bool
	n         int64
	at        map[string]int // heights of this object
	low       string
	last      string // plastic was laid at, "" after a coil
	was       string
	order     []string // the first heights, and how many movements each has
	moves     map[string]int
	sure      bool
	since, no int
}

// loop lays what a coil was level at last, where it was no spiral.
func (w *refTower) loop(ms []refMove, coil, turns []int, end int) {
	if turns[coil[end-1]] >= 3 {
		return
	}
	for k := end - 1; k >= 0 && coil[k] == coil[end-1]; k-- {
		if ms[k].lays() && ms[k].flat() {
			w.lay(ms[k].to)
			return
		}
	}
}

func (w *refTower) move(m *refMove, coil, turns int, first bool) {
	if !m.flat() {
		if m.from == w.last {
			w.leaves(w.no)
		}
		w.since = w.no
	}
	w.no++
	switch {
	case coil != 0:
		if first {
			w.last = ""
			if turns >= 3 {
				w.n += int64(turns)
			}
		}
		if turns >= 3 {
			w.was = m.to
		}
	case m.lays():
		w.lay(m.to)
	}
}

func (w *refTower) lay(z string) {
	if z == w.last {
		return
	}
	if w.low != "" && w.was != "" && !w.less(w.low, z) && w.less(w.low, w.was) {
		w.at = map[string]int{}
	}
	w.last, w.was = z, z
	if w.at[z] > 0 {
		return
	}
	w.at[z] = 1
	if w.low == "" || w.less(z, w.low) {
		w.low = z
	}
	if len(w.order) == 3 {
		w.sure = true
	}
	w.order = append(w.order, z)
	w.n++
}

// leaves ends the movements at a height: with sixteen it is the first layer.
func (w *refTower) leaves(now int) {
	if w.moves == nil {
		w.moves = map[string]int{}
	}
	for i, z := range w.order {
		if w.sure || z != w.last {
			continue
		}
		if w.moves[z] += now - w.since; w.moves[z] >= 16 {
			if w.sure = true; i > 0 {
				w.n, w.low, w.at = 1, z, map[string]int{z: 1}
			}
		}
		return
	}
}

// drawLaid writes a few movements such as layers are made of: loops, some with a ramp up, zigzags,
// spirals, hops and travel, at a few heights.
func drawLaid(t *rapid.T) string {
	z := func() float64 { return float64(rapid.IntRange(1, 5).Draw(t, "z")) * 0.2 }
	round := func(turns, sides int, rise func(i int) string) string {
		var b strings.Builder
		for i := range turns * sides {
			a := 2 * math.Pi * float64(i+1) / float64(sides)
			fmt.Fprintf(&b, "G1 X%.3f Y%.3f%s E0.1\n", 50+9*math.Cos(a), 50+9*math.Sin(a), rise(i))
		}
		return b.String()
	}
	level := func(int) string { return "" }
	sides := rapid.IntRange(5, 20).Draw(t, "sides")
	switch rapid.IntRange(0, 7).Draw(t, "kind") {
	case 0, 1:
		return fmt.Sprintf("G0 Z%.1f\nG0 X59 Y50\n", z()) + round(1, sides, level)
	case 2:
		from, to := z(), z()
		return fmt.Sprintf("G0 Z%.1f\nG0 X59 Y50\n", from) +
			round(rapid.IntRange(1, 4).Draw(t, "turns"), sides,
				func(i int) string {
					return fmt.Sprintf(" Z%.3f",
						from+(to-from)*math.Min(1, float64(i+1)/float64(sides)))
				})
	case 3:
		from := z()
		return fmt.Sprintf("G0 Z%.1f\nG0 X59 Y50\n", from) +
			round(rapid.IntRange(1, 7).Draw(t, "turns"), sides,
				func(i int) string {
					return fmt.Sprintf(" Z%.2f", from+0.2*float64(i+1)/float64(sides))
				})
	case 4:
		return fmt.Sprintf("G1 E-1\nG0 Z%.1f\nG0 X1 Y1\nG0 Z%.1f\nG1 E1\n", z()+2, z())
	case 5:
		return "G1 X2 Y90 E5\nG1 X2 Y10 E5\n"
	case 6:
		return "G1 E-1\nG92 Z0.2\n"
	}
	return "G0 X9 Y9\n"
}

// TestLayersAgainstTheReference: layers, turns and purge lines in any order, by both readers and in
// all ways of reading.
func TestLayersAgainstTheReference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := "G90\nM83\n" +
			strings.Join(rapid.SliceOfN(rapid.Custom(drawLaid), 1, 12).Draw(t, "laid"), "")
		r, err := scanText(text, Options{})
		if err != nil {
			t.Fatal(err)
		}
		want := newReference()
		want.file(text)
		compare(t, text, &r, want)
		agreeOn(t, []byte(text), Options{Workers: 1})
	})
}
