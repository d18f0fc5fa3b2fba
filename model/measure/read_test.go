package measure

import (
	"strings"
	"testing"
)

// What cannot be is refused by one sentence that says what is wrong and what would do.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		id    string
		typed map[string]string
		says  string
	}{
		{"belt", map[string]string{}, "Free span is missing: it is 20 to 3 000 mm"},
		{"belt", map[string]string{"span": "5 mm"},
			"Free span: 5 mm cannot be, it is 20 to 3 000 mm"},
		{"belt", map[string]string{"span": "150 V"},
			`Free span: "150 V" is not in mm, cm, m, in or µm`},
		{"belt", map[string]string{"span": "x"}, "is no number"},
		{"belt", map[string]string{"span": "-150"}, "cannot be"},
		{"belt", map[string]string{"span": "150", "belt": "silk"},
			`"silk" is none of them, it is weighed, per m, 2 mm`},
		{"belt", map[string]string{"span": "150", "tone": "1e9"}, "is not in Hz or kHz"},
		{"belt", map[string]string{"span": "150", "tone": "9999999"}, "it is 15 to 1 500 Hz"},
		{"belt", map[string]string{"colour": "red"}, `asks no "colour"`},
	} {
		_, err := Find(All(nil), c.id).Work(c.typed)
		if err == nil || !strings.Contains(err.Error(), c.says) ||
			strings.Contains(err.Error(), "\n") {
			t.Errorf("%s %v: %v, want %q", c.id, c.typed, err, c.says)
		}
	}
}
