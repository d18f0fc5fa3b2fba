package bench

import "testing"

// TestWholeParts: what does not fit is counted, no part is cut in its middle.
func TestWholeParts(t *testing.T) {
	const list = "order now: blade ×5, filter ×3, microfibre cloth ×50"
	for w, want := range map[int]string{
		60: list,
		45: "order now: blade ×5, filter ×3 and 1 more",
		40: "order now: blade ×5 and 2 more",
		10: list, // no part fits: the line is cut
	} {
		if got := whole(list, w); got != want {
			t.Errorf("%d cells: %q", w, got)
		}
	}
}
