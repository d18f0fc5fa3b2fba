package model

import "testing"

func TestNearest(t *testing.T) {
	list := []string{"confirm", "state", "wait", "measure", "choice", "count", "note"}
	for _, tc := range []struct{ word, want string }{
		{"confrim", "confirm"},
		{"choise", "choice"},
		{"nota", "note"},
		{"state", "state"},
		{"zzz", ""},
		{"", ""},
	} {
		if got := Nearest(tc.word, list); got != tc.want {
			t.Errorf("Nearest(%q) = %q, want %q", tc.word, got, tc.want)
		}
	}
}
