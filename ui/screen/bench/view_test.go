package bench

import (
	"testing"

	"bench/oilcan/ui/screen"
)

// The columns of the list never need more than the width there is, and the word keeps its place.
func TestColumnsFit(t *testing.T) {
	const least = 40 // cells a screen is drawn in
	for w := least; w <= 240; w++ {
		for _, name := range []int{1, 7, 12, 30} {
			c := columns(w, name)
			whole := w
			if c.list > 0 {
				whole = c.list
			}
			if used := c.whenAt() + c.when; used > whole+1 {
				t.Errorf("%d cells for names of %d: the list takes %d of %d", w, name, used, whole)
			}
			if (c.list > 0) != (w >= screen.PanesFrom) || c.item < 8 || c.word != 7 {
				t.Errorf("%d cells: %+v", w, c)
			}
		}
	}
}
