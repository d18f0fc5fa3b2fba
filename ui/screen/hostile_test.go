package screen_test

import (
	"strings"
	"testing"
	"unicode"

	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
)

// A screen that forgets to make a text safe cannot hurt: the last look at each frame draws what a
// terminal would obey.
func TestNoFrameReachesATerminalRaw(t *testing.T) {
	d := screentest.Plain(t)
	d.Send(screen.Open{To: screen.ToPlan{Machine: "m1",
		Only: []string{"\x1b]52;c;QUJD\x07", "\u009b31m\u202e"}}})
	if !strings.Contains(d.R.Draw(), "\x1b]52") {
		t.Fatalf("the probe does not draw it raw: %q", d.R.Draw())
	}
	for _, r := range d.View() {
		if r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			t.Fatalf("%U reaches the terminal: %q", r, d.View())
		}
	}
	d.Shows("␛]52;c;QUJD␇")
}
