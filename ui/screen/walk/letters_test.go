package walk_test

import (
	"testing"

	screenwalk "bench/oilcan/ui/screen/walk"
)

// On and off have letters of their own, and neither reads as no; the letter that takes back answers
// nothing.
func TestLettersOfAnswers(t *testing.T) {
	for _, c := range []struct {
		words []string
		want  string
	}{
		{[]string{"on", "off", "unplugged"}, "ofu"},
		{[]string{"unloaded", "loaded", "parted"}, "ulp"},
		{[]string{"low", "high", "on blocks"}, "lho"},
		{[]string{"bent", "sound"}, "es"},
	} {
		got := ""
		for _, a := range screenwalk.Lettered(c.words) {
			got += string(a.Letter())
		}
		if got != c.want {
			t.Errorf("%v: %s, want %s", c.words, got, c.want)
		}
	}
}
