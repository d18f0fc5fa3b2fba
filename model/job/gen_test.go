package job

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
)

// generate writes an invented print of about size bytes: layers of short moves with filament, some
// travel, fans, waits and tool changes. The same seed gives the same bytes.
func generate(w io.Writer, size int64, seed uint64) error {
	return generateAs(w, size, seed, false)
}

// generateShort writes numbers without the zeros at their ends, so that lines have many forms.
func generateShort(w io.Writer, size int64, seed uint64) error {
	return generateAs(w, size, seed, true)
}

func generateAs(w io.Writer, size int64, seed uint64, short bool) error {
	r := rand.New(rand.NewPCG(seed, 1))
	out := bufio.NewWriterSize(w, 1<<20)
	x, y, e := 100.0, 100.0, 0.0
	var n int64
	put := func(format string, a ...any) {
		k, _ := fmt.Fprintf(out, format, a...)
		n += int64(k)
	}
	text := func(decimals int, v float64) string {
		t := strconv.FormatFloat(v, 'f', decimals, 64)
		if short {
			t = strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
		}
		return t
	}
	put("G21\nG90\nM82\nM190 S60\nM109 S215\nG28\n")
	for i := 0; n < size; i++ {
		switch {
		case i%4000 == 0:
			put("; next level\nT%d\nM104 S%d T%d\nG92 E0\n", r.IntN(5), 190+r.IntN(60), r.IntN(5))
			put("G1 Z%.3f F1200\n", 0.2*float64(1+i/4000))
			e = 0
		case i%37 == 0:
			put("G0 X%s Y%s F9000\n", text(3, x), text(3, y))
		case i%211 == 0:
			put("M106 S%d ; fan\n", r.IntN(256))
		default:
			x += r.Float64() - .5
			y += r.Float64() - .5
			e += r.Float64() * .05
			put("G1 X%s Y%s E%s\n", text(3, x), text(3, y), text(5, e))
		}
	}
	return out.Flush()
}

// generateLike writes an invented print as files of the trade are: every kind of line has its
// comment, its acceleration and its label; with a third of arcs, or with a changer that changes
// several times a layer, where that is asked for.
func generateLike(arcs, changer bool) func(w io.Writer, size int64, seed uint64) error {
	return func(w io.Writer, size int64, seed uint64) error {
		r := rand.New(rand.NewPCG(seed, 2))
		out := bufio.NewWriterSize(w, 1<<20)
		var n int64
		put := func(format string, a ...any) {
			k, _ := fmt.Fprintf(out, format, a...)
			n += int64(k)
		}
		put("; made for a test\nG21\nG90\nM83\nM140 S60\nM109 S215\nG28\nT0\n")
		for layer := 0; n < size; layer++ {
			put(";CHANGE OF LAYER\n;Z:%.1f\nM73 P%d R%d\nG1 Z%.1f F9000\n", 0.2*float64(layer+1),
				layer%100, 90,
				0.2*float64(layer+1))
			for part := range 40 {
				if changer && part%10 == 9 {
					put("M620 S%dA\nM204 S9000\nM620.1 E F523 T240\nT%d\nM620.1 E F523 T220\nM621 S%dA\n",
						part%4, r.IntN(4), part%4)
				}
				put("; print object %d\n;KIND:Outer part of it\n;WIDTH:0.4%d\nM204 S%d\nM106 S%d\nG1 F%d\n",
					part, part%7, 5000+part, 100+part, 1800+60*part)
				x, y := 100+40*r.Float64(), 100+40*r.Float64()
				put("G1 X%.3f Y%.3f F12000\nG1 E.8 F1800\n", x, y)
				for i := range 60 {
					if arcs && i%3 == 0 {
						radius, from, sweep := 1+9*r.Float64(), 6*r.Float64(), 0.1+r.Float64()
						cx, cy := -radius*math.Cos(from), -radius*math.Sin(from)
						x += cx + radius*math.Cos(from+sweep)
						y += cy + radius*math.Sin(from+sweep)
						put("G3 X%.3f Y%.3f I%.3f J%.3f E%.5f\n", x, y, cx, cy, radius*sweep*.03)
						continue
					}
					x, y = x+r.Float64()-.5, y+r.Float64()-.5
					put("G1 X%.3f Y%.3f E%.5f\n", x, y, r.Float64()*.05)
				}
				put("G1 E-.8 F1800\n")
			}
		}
		return out.Flush()
	}
}
