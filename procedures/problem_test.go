package procedures

import (
	"slices"
	"testing"
)

// TestLeftOut: one sentence for each file, whatever is wrong in it.
func TestLeftOut(t *testing.T) {
	for _, x := range []struct {
		name string
		ps   []Problem
		want []string
	}{
		{"none", nil, nil},
		{"one", []Problem{{"a.toml", 3, "no such tool"}},
			[]string{"a.toml is left out: line 3, no such tool"}},
		{"no line", []Problem{{"a.toml", 0, "the file cannot be read: is a folder"}},
			[]string{"a.toml is left out: the file cannot be read: is a folder"}},
		{"two", []Problem{{"a.toml", 9, "x"}, {"a.toml", 3, "no such tool"}},
			[]string{"a.toml is left out: line 3, no such tool; 1 more in it: oilcan procedures check"}},
		{"several in two files", []Problem{{"b.toml", 1, "y"}, {"a.toml", 9, "x"},
			{"a.toml", 3, "z"}, {"a.toml", 4, "w"}},
			[]string{"a.toml is left out: line 3, z; 2 more in it: oilcan procedures check",
				"b.toml is left out: line 1, y"}},
	} {
		if got := LeftOut(x.ps); !slices.Equal(got, x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}
