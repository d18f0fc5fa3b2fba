package job

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawPlain writes many plain movements with now and then a line that changes modes, place or tool.
func drawPlain(t *rapid.T) string {
	var b strings.Builder
	b.WriteString("G1\n")
	n := rapid.IntRange(20, 200).Draw(t, "lines")
	// most numbers of a file are written alike
	usual := rapid.SampledFrom([]string{`-?[0-9]{2}\.[0-9]{3}`, `[0-9]{3}\.[0-9]{5}`, `-\.[0-9]{2}`,
		`[0-9]{2}\.`, `[0-9]\.[0-9]{6,7}`}).Draw(t, "usual")
	number := rapid.OneOf(rapid.StringMatching(usual), rapid.StringMatching(usual),
		rapid.StringMatching(usual),
		rapid.StringMatching(`-?[0-9]{1,2}\.[0-9]{3}|[0-9]{0,3}\.[0-9]{4,6}|[0-9]{1,3}|-?\.5`))
	odd := rapid.IntRange(2, 60).Draw(t, "how often something else")
	for range n {
		if rapid.IntRange(0, odd).Draw(t, "odd") == 0 {
			b.WriteString(rapid.SampledFrom([]string{"G90", "G91", "G20", "G21", "M82", "M83",
				"G92 E0", "G92 X1", "G28", "T1", "T0",
				"G1 Z.2", "G1 Z.4 F600", "X3 Y4", "g1 x2 e.5", "M106 S255", "; T1", "M221 S95", "G91 M82"}).Draw(t, "line"))
			b.WriteByte('\n')
			continue
		}
		b.WriteString(rapid.SampledFrom([]string{"G1", "G1", "G0"}).Draw(t, "move"))
		for _, c := range rapid.SampledFrom([]string{"XYE", "XYE", "XY", "E", "X", "YXE", "FXY",
			"EF", "F", ""}).Draw(t, "words") {
			fmt.Fprintf(&b, " %c%s", c, number.Draw(t, "number"))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// TestStretches: lines added up side by side give what lines carried out one by one give, also
// where a block begins otherwise than was believed.
func TestStretches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawPlain(t)
		want := newReference()
		want.file(text)
		for _, o := range []Options{{Workers: 1}, {Workers: 2, block: 300},
			{Workers: 1, block: 90}} {
			got, err := scanText(text, o)
			if err != nil {
				t.Fatalf("%v in\n%s", err, text)
			}
			compare(t, text, &got, want)
		}
		agree(t, []byte(text))
	})
}

// TestStretchRefused: a stretch that takes for granted what is not so changes nothing, and its
// lines give the fault they give one by one, with its line.
func TestStretchRefused(t *testing.T) {
	for _, u := range []stretch{
		{used: 1 << laneX, from: [lanes]int64{1}, level: level{count: 9 * countMove}},
		{eNow: true, level: level{count: 9 * countMove}},
	} {
		if s := newState(DefaultProfile(), false); s.join(&u) || s.out.Moves != 0 {
			t.Errorf("%+v was taken over", u)
		}
	}
	text := "G91\nG1 X1.0\n" + strings.Repeat("G1 X999999.0 Y1.0 E.5\n", 60)
	for _, o := range []Options{{Workers: 1}, {Workers: 2, block: 300},
		{Workers: 1, block: 500, careful: true}} {
		if r, err := scanText(text, o); err != nil || r.Skipped != 30 || r.Warnings[0].Line != 33 {
			t.Errorf("%+v: %+v, %v", o, r, err)
		}
		o.Strict = true
		_, err := scanText(text, o)
		if want := "line 33: " + farAway; err == nil || err.Error() != want {
			t.Errorf("%+v: %v, want %s", o, err, want)
		}
	}
}
