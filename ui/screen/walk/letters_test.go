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

// Who has so many minutes reads them beside those gone by, and that they are used up.
func TestTheMinutesThereWere(t *testing.T) {
	for _, c := range []struct {
		gone, of float64
		want     string
	}{{12.4, 0, "12 min so far"}, {12.4, 30, "12 of 30 min"}, {31, 30, "30 min used up"}} {
		if got := screenwalk.SoFar(c.gone, c.of); got != c.want {
			t.Errorf("%v of %v: %q, want %q", c.gone, c.of, got, c.want)
		}
	}
}
