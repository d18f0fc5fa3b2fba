package walk_test

import (
	"strings"
	"testing"

	"bench/oilcan/ui/theme"
)

// From 110 columns on the session stands beside its page: nothing is said in both panes, and at
// every width no line is wider than the screen.
func TestSessionBesideItsPage(t *testing.T) {
	for _, w := range []int{80, 109, 110, 120, 200} {
		d, _ := sampleWalk(t, w, 40, theme.Options{Dark: true})
		d.Keys("enter", "3", "1", "enter", "4", "enter")
		v := d.View()
		want := 0
		if w >= 110 {
			want = 1
		}
		if n := strings.Count(v, "the session: block"); n != want {
			t.Errorf("%d columns: the session stands there %d times, want %d\n%s", w, n, want, v)
		}
		if n := strings.Count(v, "waiting"); n > 1 {
			t.Errorf("%d columns: a wait is said %d times\n%s", w, n, v)
		}
		for _, l := range strings.Split(v, "\n") {
			if theme.Width(l) > w {
				t.Errorf("%d columns: %q", w, l)
			}
		}
	}
}
