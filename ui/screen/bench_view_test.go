package screen

import (
	"strings"
	"testing"

	"bench/oilcan/ui/theme"
)

// The columns of the list never need more than the width there is, and the word keeps its place.
func TestColumnsFit(t *testing.T) {
	for w := minWidth; w <= 240; w++ {
		for _, name := range []int{1, 7, 12, 30} {
			c := columns(w, name)
			whole := w
			if c.list > 0 {
				whole = c.list
			}
			if used := c.whenAt() + c.when; used > whole+1 {
				t.Errorf("%d cells for names of %d: the list takes %d of %d", w, name, used, whole)
			}
			if (c.list > 0) != (w >= panesFrom) || c.item < 8 || c.word != 7 {
				t.Errorf("%d cells: %+v", w, c)
			}
		}
	}
}

// The bench says of each machine how many gauges are due and how long the next session takes: never less
// than the plan, by five minutes at most more.
func TestBenchSaysHowLong(t *testing.T) {
	d := newDesk(t, 120, 40, true, theme.Options{})
	b := d.r.top().(*bench)
	b.Data.Next = map[string]float64{"m1": 16.2}
	b.draw()
	line := ""
	for _, l := range strings.Split(d.view(), "\n") {
		if strings.Contains(l[:min(20, len(l))], "Heron") {
			line = l
		}
	}
	if !strings.Contains(line, " 20 min ") {
		t.Errorf("%q", line)
	}
	if got := dueText(b.Data.Gauges["m1"]); !strings.Contains(line, got+" 20 min") || got == "-" {
		t.Errorf("%s due in %q", got, line)
	}
}
