package theme

import (
	"math"
	"strings"
	"testing"
)

func TestColumns(t *testing.T) {
	th, ascii := New(Options{}), New(Options{ASCII: true})
	for _, c := range []struct {
		name          string
		values        []float64
		want, inASCII string
	}{
		{"none", nil, "", ""},
		{"all unknown", []float64{-1, -1}, "     ", "     "},
		{"in eighths", []float64{-1, 0, 10, 40, 80}, "   ── ▁▁ ▄▄ ██", "   -- .. .. ##"},
	} {
		if got := th.Columns(c.values); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if got := ascii.Columns(c.values); got != c.inASCII {
			t.Errorf("%s: ascii %q, want %q", c.name, got, c.inASCII)
		}
	}
}

func TestPlot(t *testing.T) {
	th := New(Options{})
	line := []Mark{{0, 0}, {0.4, 0.4}, {0.8, 0.8}, {1.5, 1}, {math.NaN(), 0}}
	got := th.Plot(5, 5, line, []Mark{{1, 1}, {0.4, 0.4}, {0.5, -1}})
	if want := []string{"    ◆", "     ", "  ◆  ", "     ", "·    "}; strings.Join(got[:1],
		"\n") != "    ◆" || got[2] != want[2] || got[4] != want[4] {
		t.Errorf("%q", got)
	}
	if th.Plot(0, 5, nil, nil) != nil || th.Plot(5, -1, nil, nil) != nil {
		t.Error("a plot without room is drawn")
	}
}

// TestSpan: an interval stands where its shares say, whatever the width, and is as wide as it is told.
func TestSpan(t *testing.T) {
	th := New(Options{ASCII: true})
	for _, c := range []struct {
		w              int
		low, mid, high float64
		want           string
	}{
		{10, 0.2, 0.5, 0.79, "  ===O==  "}, {10, 0, 0, 1, "O========="}, {10, 1, 1, 1, "         O"},
		{10, 0.5, 0.2, 0.7, "          "}, {10, 0, math.NaN(), 1, "          "}, {0, 0, 0, 1, ""},
	} {
		if got := th.Span(c.w, c.low, c.mid, c.high); got != c.want {
			t.Errorf("%+v is drawn %q", c, got)
		}
	}
}
