package procedures

import (
	"cmp"
	"fmt"
	"slices"
)

// Problem is one mistake in a procedure file: where it is, what is wrong and what to write instead.
type Problem struct {
	File string // the file's name
	Line int    // from 1; 0 where the mistake has no line
	Text string // one sentence
}

// String gives the problem as editors read it: file, line, text.
func (p Problem) String() string {
	if p.Line == 0 {
		return fmt.Sprintf("%s: %s", p.File, p.Text)
	}
	return fmt.Sprintf("%s:%d: %s", p.File, p.Line, p.Text)
}

// LeftOut says of an operator's own files which are left out and why, a sentence for each file.
func LeftOut(ps []Problem) []string {
	var out []string
	ps = sorted(ps)
	for len(ps) > 0 {
		first, n := ps[0], 1
		for n < len(ps) && ps[n].File == first.File {
			n++
		}
		where := first.File + " is left out: "
		if first.Line > 0 {
			where += fmt.Sprintf("line %d, ", first.Line)
		}
		text := where + first.Text
		if n > 1 {
			text += fmt.Sprintf("; %d more in it: oilcan procedures check", n-1)
		}
		out = append(out, text)
		ps = ps[n:]
	}
	return out
}

// sorted puts problems in order of file and line and drops repeats.
func sorted(ps []Problem) []Problem {
	slices.SortFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Text, b.Text))
	})
	return slices.Compact(ps)
}
