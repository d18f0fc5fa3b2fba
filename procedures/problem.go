package procedures

import (
	"fmt"
	"sort"
)

// Problem is one mistake in a procedure file: where it is, what is wrong and what to write instead.
type Problem struct {
	File string // the file's name
	Line int    // from 1; 0 where the mistake has no line
	Text string // one sentence
}

// String gives "file:line: text".
func (p Problem) String() string {
	if p.Line == 0 {
		return fmt.Sprintf("%s: %s", p.File, p.Text)
	}
	return fmt.Sprintf("%s:%d: %s", p.File, p.Line, p.Text)
}

// sorted puts problems in order of file and line and drops repeats.
func sorted(ps []Problem) []Problem {
	sort.SliceStable(ps, func(i, j int) bool {
		if ps[i].File != ps[j].File {
			return ps[i].File < ps[j].File
		}
		if ps[i].Line != ps[j].Line {
			return ps[i].Line < ps[j].Line
		}
		return ps[i].Text < ps[j].Text
	})
	var out []Problem
	seen := map[Problem]bool{}
	for _, p := range ps {
		if !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return out
}
