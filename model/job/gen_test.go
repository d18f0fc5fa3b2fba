package job

import (
	"bufio"
	"fmt"
	"io"
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
