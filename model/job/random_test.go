package job

import (
	"bytes"
	"context"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/klauspost/compress/gzip"
	"pgregory.net/rapid"
)

// drawNumber writes a number in one of the many ways there are.
func drawNumber(t *rapid.T) string {
	return rapid.OneOf(
		rapid.StringMatching(`-?[0-9]{1,3}\.[0-9]{3}`),
		rapid.StringMatching(`-?[0-9]{1,3}\.[0-9]{5}`),
		rapid.StringMatching(`-?\.[0-9]{1,5}`),
		rapid.StringMatching(`-?[0-9]{1,5}`),
		rapid.StringMatching(`[+-]?[0-9]{0,5}\.[0-9]{1,9}`),
		rapid.StringMatching(`[0-9]{1,4}\.`),
	).Draw(t, "number")
}

// drawWords writes some of the letters, each once, with numbers.
func drawWords(t *rapid.T, letters string, gap string) string {
	var b strings.Builder
	for _, c := range rapid.Permutation([]byte(letters)).Draw(t, "letters") {
		if rapid.IntRange(0, 2).Draw(t, "has") > 0 {
			fmt.Fprintf(&b, "%s%c%s", gap, c, drawNumber(t))
		}
	}
	return b.String()
}

// drawLine writes one line without fault.
func drawLine(t *rapid.T) string {
	switch rapid.IntRange(0, 13).Draw(t, "kind") {
	case 0, 1, 2, 3, 4:
		return rapid.SampledFrom([]string{"G0", "G1", "G1", "G1"}).Draw(t, "move") +
			drawWords(t, "XYZEF", " ")
	case 5:
		return rapid.SampledFrom([]string{"G01", "g1", " G 1", "G1.0", "/G1"}).Draw(t, "move") +
			drawWords(t, "XYEF", rapid.SampledFrom([]string{"", "  ", "\t"}).Draw(t, "gap"))
	case 6:
		return fmt.Sprintf("T%d", rapid.SampledFrom([]int{0, 1, 2, 3, 255, 1000}).Draw(t, "tool"))
	case 7:
		return rapid.SampledFrom([]string{"G90", "G91", "G20", "G21", "M82", "M83", "G17", "G18",
			"G80\nG1", "G90 G21"}).Draw(t, "mode")
	case 8:
		return rapid.SampledFrom([]string{"M104 S", "M109 S", "M140 S", "M190 R", "M221 S",
			"M220 S", "G4 P", "G4 S", "M204 P"}).Draw(t, "value") +
			fmt.Sprint(rapid.IntRange(1, 300).Draw(t, "n"))
	case 9:
		return rapid.SampledFrom([]string{"M600", "M600 B5 L3", "m600", "M135 T1", "M108 T2",
			"M1020 S1", "G28", "G28 X Y", "G28 Z", "M106 S255",
			"M117 T1 is here", "M0", "G10", "G11", "M84 X Y", "M105", "M486 T1", "M900 K.04"}).Draw(t, "plain")
	case 10:
		return rapid.SampledFrom([]string{"SET_LIMIT ACCEL=5", "M862.3 P \"a\"", "G29",
			"START_PRINT", "G38.2 Z1", "M42", "Tx T5", "G1 X1 S5", "G1 A2 X2", "M104 T1 S5",
			"M6 T2", "M6 T1 P1",
			"T1 S1 L0 D0", "M108", "M108 S5", "M620.1 E F523 T240", "(Tip and tail)", "M0 Turn it"}).Draw(t, "odd")
	case 11:
		return rapid.SampledFrom([]string{"; T5 is next", "", "   ", "(T4)",
			";" + strings.Repeat("T0 thumbnail t ", 20), "% ", "G1 X2 (T3) Y1"}).Draw(t, "comment")
	case 12:
		return "G92" + drawWords(t, "XYZE", " ")
	}
	line := "N7 G1" + drawWords(t, "XYZE", " ")
	sum := byte(0)
	for _, c := range []byte(line) {
		sum ^= c
	}
	return fmt.Sprintf("%s*%d", line, sum)
}

func drawProgram(t *rapid.T) string {
	lines := rapid.SliceOfN(rapid.Custom(drawLine), 1, 60).Draw(t, "lines")
	ends := rapid.SampledFrom([]string{"\n", "\r\n", " ; T1\n"}).Draw(t, "ends")
	if strings.Contains(ends, ";") {
		return "G1" + ends + strings.Join(lines, ends)
	}
	return rapid.SampledFrom([]string{"", "\ufeff"}).Draw(t, "mark") + "G1" + ends +
		strings.Join(lines, ends) + ends
}

// TestAgainstTheReference compares all counts and sums of random programs with the second reader.
func TestAgainstTheReference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawProgram(t)
		got, err := scanText(text, Options{})
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		want := newReference()
		want.file(text)
		compare(t, text, &got, want)
	})
}

func compare(t teller, text string, r *Report, w *reference) {
	heights := w.layers()
	var service, unknown int64
	for _, c := range r.Service {
		service += c.N - w.service[c.Name]
	}
	for _, c := range r.Unknown {
		unknown += abs(c.N - w.unknown[c.Name])
	}
	for name, n := range w.unknown {
		unknown += abs(n - count(r.Unknown, name))
	}
	dwell, _ := w.dwell.Float64()
	million := big.NewRat(1_000_000, 1)
	hot, _ := w.hot.Quo(w.hot, million).Float64()
	bed, _ := w.bed.Quo(w.bed, million).Float64()
	got := fmt.Sprint(r.Moves, r.ToolChanges, r.ManualChanges, r.Retractions, r.Spiral, r.Layers,
		r.Homings, r.Deleted,
		r.Pauses, r.Checksums, r.Waits.Heats, r.Waits.Dwell.Microseconds(), r.Hottest.HotEnd, r.Hottest.Bed, service, unknown)
	want := fmt.Sprint(w.moves, w.changes, w.manual, w.retractions, w.spiral, heights, w.homing,
		w.deleted,
		w.pauses, w.checksums, w.heats, int64(dwell*1e6+0.5), hot, bed, 0, 0)
	if got != want {
		t.Errorf("counts are %s\nwant %s\nunknown %v, want %v\nin\n%s", got, want, r.Unknown,
			w.unknown, text)
	}
	for i, a := range []string{"X", "Y", "Z"} {
		if big.NewRat(int64(r.Travel[i]), 1).Cmp(w.travel[a]) != 0 {
			t.Errorf("%s travels %d, want %s in\n%s", a, r.Travel[i], w.travel[a], text)
		}
	}
	slack := big.NewRat(0, 1)
	if strings.Contains(text, "M221") {
		slack = big.NewRat(int64(strings.Count(text, "\n")), 1) // each share is rounded
	}
	for _, f := range r.Filament {
		for _, p := range []struct {
			got  Length
			want *big.Rat
		}{{f.Pushed, w.pushed[f.Tool]}, {f.Back, w.back[f.Tool]}} {
			d := new(big.Rat).SetInt64(int64(p.got))
			if p.want != nil {
				d.Sub(d, p.want)
			}
			if d.Abs(d).Cmp(slack) > 0 {
				t.Errorf("tool %d moves %d, want %v in\n%s", f.Tool, p.got, p.want, text)
			}
		}
	}
	if len(r.Filament) < len(w.pushed) {
		t.Errorf("%d tools, want %d in\n%s", len(r.Filament), len(w.pushed), text)
	}
}

// ways are all the ways to read a text, which must all say the same.
func ways(text []byte, base Options) map[string]func() ([]Report, error) {
	scan := func(workers, block int, careful bool) func() ([]Report, error) {
		o := base
		o.Workers, o.block, o.careful = workers, block, careful
		return func() ([]Report, error) {
			return Scan(context.Background(), bytes.NewReader(text), int64(len(text)), o)
		}
	}
	return map[string]func() ([]Report, error){
		"two workers":                             scan(2, 0, false),
		"two workers, blocks of 7":                scan(2, 7, false),
		"blocks of 100":                           scan(1, 100, false),
		"two workers, blocks of 64, the long way": scan(2, 64, true),
		"the long way":                            scan(1, 0, true),
		"word by word": func() ([]Report, error) {
			o := base
			o.formless = true
			return Scan(context.Background(), bytes.NewReader(text), int64(len(text)), o)
		},
		"stream": func() ([]Report, error) {
			o := base
			o.block = 50
			return ScanStream(context.Background(), bytes.NewReader(text), o)
		},
	}
}

// agree reads text in all ways, with time and without: without, lines are added up in stretches.
func agree(t teller, text []byte) {
	t.Helper()
	agreeOn(t, text, Options{Time: true, Workers: 1})
	agreeOn(t, text, Options{Workers: 1})
	agreeOn(t, text, Options{Workers: 1, Strict: true})
}

func agreeOn(t teller, text []byte, base Options) {
	t.Helper()
	want, wantErr := Scan(context.Background(), bytes.NewReader(text), int64(len(text)), base)
	for name, scan := range ways(text, base) {
		got, err := scan()
		if fmt.Sprint(err) != fmt.Sprint(wantErr) || len(got) != len(want) {
			t.Errorf("%s: %v, want %v in\n%q", name, err, wantErr, text)
			continue
		}
		for i := range want {
			if wantErr != nil {
				got[i].Bytes = want[i].Bytes // of whole blocks, which differ
			}
			same(t, name, got[i], want[i])
		}
	}
}

func TestAllWaysAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { agree(t, []byte(drawProgram(t))) })
}

func TestToolChangesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(drawProgram(t))
		full, err := Scan(context.Background(), bytes.NewReader(text), int64(len(text)), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, block := range []int{0, 9, 80} {
			got, err := ToolChanges(context.Background(), bytes.NewReader(text), int64(len(text)),
				Options{block: block})
			if err != nil {
				t.Fatal(err)
			}
			var service int64
			for _, c := range full[0].Service {
				service += c.N
			}
			if got[0].Changes != full[0].ToolChanges || got[0].Service != service ||
				got[0].Manual != full[0].ManualChanges {
				t.Errorf("blocks of %d: %+v, want %d and %d in\n%s", block, got[0],
					full[0].ToolChanges, service, text)
			}
		}
	})
}

func packed(t testing.TB, text []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	if _, err := z.Write(text); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
